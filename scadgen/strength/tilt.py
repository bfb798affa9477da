"""How far a pivot tilts by its clearance, in degrees.

``bore`` and ``pin`` diameters, ``length`` in engagement, mm; the bore above the pin. Derived, and
confirmed by turning polygons.
"""

from __future__ import annotations

from scadgen.strength.anyform import Value, acos, atan, cos, sqrt


def tilt(bore: Value, pin: Value, length: Value) -> Value:
    """To first order: atan((D - d)/L). Within 2 % up to 3 degrees or so."""
    return atan((bore - pin) / length)


def tilt_of_long_pin(bore: Value, pin: Value, length: Value) -> Value:
    """Exact for a pin that reaches out of a bore of that length: D cos - L sin = d."""
    return acos(pin / sqrt(bore * bore + length * length)) - atan(length / bore)


def tilt_of_short_pin(bore: Value, pin: Value, length: Value) -> Value:
    """Exact for a pin of that length within a longer bore: d cos + L sin = D."""
    return atan(length / pin) - acos(bore / sqrt(pin * pin + length * length))


def tilt_of_cones(clearance: Value, angle: Value, apart: Value) -> Value:
    """Two cones of a half angle (degrees), so far ``apart``: 2c/(apart cos a)."""
    return atan(2 * clearance / (apart * cos(angle)))


def sway(play: Value, length: Value, reach: Value) -> Value:
    """How far (mm) a lid's far edge sways, ``reach`` from a pivot with so much play over length."""
    return play / length * reach
