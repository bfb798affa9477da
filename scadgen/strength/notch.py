"""Corners that run into solid plastic, where a stress is higher than its section tells.

A stress with such a factor is one that counts for many turns as well as for one. Lengths in mm.

Source: R. L. Norton, Machine Design, stress concentration of a flat bar with shoulder fillets on
both sides in bending, three times as thick beyond: 0.907 (r/t)^-1/3 (from memory). One corner is
milder. No corner prints sharper than a line is wide (assumed).
"""

from __future__ import annotations

from scadgen.strength.anyform import Value, maximum


def factor(radius: Value, thickness: Value) -> Value:
    """Stress at a corner of a radius over that of the section, so thick: 1 at least."""
    return maximum(0.907 * (thickness / radius) ** (1 / 3), 1)
