"""Large bending of a slender strip that is held at one end.

Source: K. E. Bisshopp, D. C. Drucker, "Large Deflection of Cantilever Beams", Quart. Appl. Math. 3
(1945) 272. Elastic, no stretch, the load keeps its direction. Lengths are shares of the strip's.
"""

from __future__ import annotations

from typing import Any

import numpy as np

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(60)
_HALVINGS = 60


def end_moment(degrees: Any) -> tuple[Any, Any]:
    """Where the end of a strip is, bent evenly by an angle: along and across, over its length."""
    turn = np.radians(degrees)
    safe = np.where(turn == 0, 1.0, turn)
    along = np.where(turn == 0, 1.0, np.sin(safe) / safe)
    return along, np.where(turn == 0, 0.0, (1 - np.cos(safe)) / safe)


def end_load(load: Any) -> tuple[Any, Any, Any]:
    """Deflection, shortening (shares of the length) and end slope (degrees) under a load.

    ``load`` is P L2/(E I), 0.001 to 20: a force across the strip at its end.
    """
    load = np.asarray(load, float)
    low, high = np.full(load.shape, 0.5), np.ones(load.shape)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        enough = _integrals(middle)[0] ** 2 > load
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    square = (low + high) / 2
    first, second = _integrals(square)
    slope = np.arcsin(np.clip(2 * square - 1, 0, 1))
    deflection = 1 - 2 * second / first
    shortening = 1 - np.sqrt(2 * np.sin(slope)) / first
    return deflection, shortening, np.degrees(slope)


def _integrals(square: Any) -> tuple[Any, Any]:
    """Elliptic integrals of both kinds, of modulus k2, from where the strip is held to its end."""
    start = np.arcsin(np.sqrt(0.5 / square))[..., None]
    half = (np.pi / 2 - start) / 2
    root = np.sqrt(1 - square[..., None] * np.sin(start + half * (1 + _NODES)) ** 2)
    return (half * _WEIGHTS / root).sum(axis=-1), (half * _WEIGHTS * root).sum(axis=-1)
