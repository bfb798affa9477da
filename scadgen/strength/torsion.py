"""Torsion of a rectangular bar.

Source: S. P. Timoshenko, J. N. Goodier, *Theory of Elasticity*, 3rd ed., McGraw-Hill 1970, art.
109: Saint-Venant's series. Valid for small strain, an isotropic material, ends free to warp, and a
length of about three times the longer side or more. Printed strips are not isotropic: in a strip
that lies flat, torsion shears the layers against each other, so take the shear strength between
layers. mm, N, MPa; floats or arrays, above 0. Sides may come in either order.
"""

from __future__ import annotations

from typing import Any

import numpy as np

#: Terms of the series, which fall as the fifth power or faster: so many give seven digits.
_ODD = np.arange(1, 60, 2)
#: Terms from which on tanh is 1 to the last digit, whatever the ratio; of those with cosh there are
#: so many that count.
FLAT, COUNTED = 7, 16


def _series(ratio: Any, odd: Any) -> Any:
    """The ratio of the sides beside each odd term; cut where the terms are long nothing."""
    return np.minimum(np.asarray(ratio, float)[..., None] * odd * np.pi / 2, 300.0)


def _ratio(side: Any, other: Any) -> Any:
    return np.maximum(side, other) / np.minimum(side, other)


def stiffness_factor(ratio: Any) -> Any:
    """beta in J = beta a b^3, for sides a >= b (mm): from 0.1406 for a square to 1/3.

    ``ratio`` is a / b, 1 or more, a float or an array.
    """
    ratio = np.asarray(ratio, float)
    terms = np.empty((*ratio.shape, len(_ODD)))
    terms[..., :FLAT] = np.tanh(_series(ratio, _ODD[:FLAT]))
    terms[..., FLAT:] = 1
    terms /= _ODD**5.0
    return 1 / 3 - 64 / np.pi**5 / ratio * terms.sum(axis=-1)


def strain_factor(ratio: Any) -> Any:
    """k1 in gamma = k1 b theta', the greatest shear strain: from 0.675 for a square to 1.

    It stands in the middle of the longer side; theta' is the twist per length (rad/mm), b the
    shorter side (mm). ``ratio`` is a / b, 1 or more, a float or an array.
    """
    odd = _ODD[:COUNTED]
    terms = 1 / (np.cosh(_series(ratio, odd)) * odd**2.0)
    return 1 - 8 / np.pi**2 * terms.sum(axis=-1)


def constant(side: Any, other: Any) -> Any:
    """Torsion constant J (mm4) of a rectangle with these sides (mm)."""
    long, short = np.maximum(side, other), np.minimum(side, other)
    return stiffness_factor(_ratio(side, other)) * long * short**3.0


def shear_strain(longer: Any, shorter: Any, degrees: Any, length: Any) -> Any:
    """Greatest shear strain in a bar (sides in mm), twisted by an angle over a length (mm)."""
    twist = np.radians(degrees) / length
    return strain_factor(_ratio(longer, shorter)) * twist * np.minimum(longer, shorter)


def shear_modulus(modulus: Any, poisson: Any) -> Any:
    """Shear modulus (MPa) of an isotropic material: E/(2 (1 + nu)).

    Do not go the other way from tabulated pairs: they are seldom of one material.
    """
    return modulus / (2 * (1 + poisson))
