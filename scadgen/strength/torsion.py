"""Torsion of a rectangular bar.

Source: S. P. Timoshenko, J. N. Goodier, *Theory of Elasticity*, 3rd ed., McGraw-Hill 1970, art.
109: Saint-Venant's series. Valid for small strain, an isotropic material, ends free to warp, and a
length of about three times the longer side or more.
"""

from __future__ import annotations

from typing import Any

import numpy as np

_ODD = np.arange(1, 400, 2)


def _series(ratio: Any) -> Any:
    """The ratio of the sides beside each odd term; cut where the terms are long nothing."""
    return np.minimum(np.asarray(ratio, float)[..., None] * _ODD * np.pi / 2, 300.0)


def stiffness_factor(ratio: Any) -> Any:
    """beta in J = beta a b^3, for sides a >= b (mm): from 0.1406 for a square to 1/3.

    ``ratio`` is a / b, 1 or more, a float or an array.
    """
    ratio = np.asarray(ratio, float)
    terms = np.tanh(_series(ratio)) / _ODD**5.0
    return 1 / 3 - 64 / np.pi**5 / ratio * terms.sum(axis=-1)


def strain_factor(ratio: Any) -> Any:
    """k1 in gamma = k1 b theta', the greatest shear strain: from 0.675 for a square to 1.

    It stands in the middle of the longer side; theta' is the twist per length (rad/mm), b the
    shorter side (mm). ``ratio`` is a / b, 1 or more, a float or an array.
    """
    terms = 1 / (np.cosh(_series(ratio)) * _ODD**2.0)
    return 1 - 8 / np.pi**2 * terms.sum(axis=-1)


def shear_strain(longer: Any, shorter: Any, degrees: Any, length: Any) -> Any:
    """Greatest shear strain in a bar (sides in mm), twisted by an angle over a length (mm)."""
    twist = np.radians(degrees) / length
    return strain_factor(np.divide(longer, shorter)) * twist * shorter
