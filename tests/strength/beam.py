"""A straight beam in Euler's elements, held and loaded where a test says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

PIECES = 400


@dataclass(frozen=True)
class Bent:
    """How far the beam gives way at its nodes, and the moments at both ends of each piece."""

    way: Any
    moments: Any

    @property
    def greatest(self) -> float:
        """Greatest moment."""
        return float(abs(self.moments).max())


def bent(
    length: float,
    rigidity: float,
    held: Mapping[float, str],
    forces: Mapping[float, float],
    couples: Mapping[float, float] | None = None,
) -> Bent:
    """The beam under forces and couples at places along it, 0 to ``length``.

    held: by place, what a support holds of it: "way", "turn" or both, "way turn".
    """
    step = length / PIECES
    piece = np.array([[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]], float)
    scale = np.array([1, step, 1, step])
    piece = piece * np.outer(scale, scale) * rigidity / step**3
    whole = np.zeros((2 * PIECES + 2, 2 * PIECES + 2))
    for k in range(PIECES):
        whole[2 * k : 2 * k + 4, 2 * k : 2 * k + 4] += piece
    load, fixed = np.zeros(len(whole)), []
    for place, force in forces.items():
        load[2 * _node(place, step)] += force
    for place, couple in (couples or {}).items():
        load[2 * _node(place, step) + 1] += couple
    for place, what in held.items():
        fixed += [2 * _node(place, step) + ("way", "turn").index(one) for one in what.split()]
    free = np.setdiff1d(np.arange(len(whole)), fixed)
    moved = np.zeros(len(whole))
    moved[free] = np.linalg.solve(whole[np.ix_(free, free)], load[free])
    ends = [piece @ moved[2 * k : 2 * k + 4] for k in range(PIECES)]
    return Bent(moved[::2], np.array(ends)[:, [1, 3]])


def _node(place: float, step: float) -> int:
    node = round(place / step)
    assert abs(node * step - place) < 1e-6 * step, "a place lies on a node"
    return node
