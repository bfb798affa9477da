"""Stress at places of a body, from the mean stresses of the cubes around.

Stairs at the skin of cubes make single stresses rough. So around each place a straight course of
stress is fitted to all cubes within a reach (mm), near ones counting more, and taken at the place.
Bending keeps its greatest stress at the skin; at a sharp inner corner, where the exact stress has
no end, it is about what a grain of the size of the reach bears.

Source: moving least squares, P. Lancaster, K. Salkauskas, 1981; a critical distance at corners:
D. Taylor, The Theory of Critical Distances, 2007 (both from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.fill import Array, Places

if TYPE_CHECKING:
    from scadgen.elements.fill import Cells

#: Cubes that a place looks at, at most.
MOST = 48
#: Cubes that are filled by less than this tell no stress.
TELLS = 0.1
#: How uneven the cubes around may lie for a slope to be told, as a share of the reach squared.
EVEN = 0.003


@dataclass(frozen=True, eq=False)
class Recovery:
    """What each cube counts at each place: (n, k) cubes and their weights."""

    cubes: Places
    weights: Array

    def at_places(self, stresses: Array) -> Array:
        """The stress at each place, (n, 6), from those of the cubes."""
        found = np.zeros((len(self.cubes), 6))
        for k in range(self.cubes.shape[1]):
            found += self.weights[:, k, None] * stresses[self.cubes[:, k]]
        return found


def recovery(cells: Cells, points: Array, normals: Array, reach: float) -> Recovery:
    """How stress at points (mm) follows from that of the cubes within the reach (mm).

    normals: the outward ones at points on the skin, none (0, 0, 0) within; what lies in front of
    the skin, across a gap, does not count.
    """
    from scipy.spatial import cKDTree  # type: ignore[import-untyped]

    telling = np.flatnonzero(cells.filled >= TELLS)
    middles = cells.middles[telling]
    apart, near = cKDTree(middles).query(points, k=min(MOST, len(telling)))
    ways = middles[np.minimum(near, len(telling) - 1)] - points[:, None, :]
    in_front = np.einsum("nki,ni->nk", ways, normals) > cells.size / 2
    span = np.maximum(reach, 1.2 * apart[:, :1])  # the nearest cube counts, however far
    share = np.clip(1 - (apart / span) ** 2, 0, 1) * cells.filled[telling][near]
    share[in_front] = 0
    lone = share.sum(axis=1) <= 0
    share[lone, 0] = 1
    return Recovery(telling[near], _fitted(ways, share, reach))


def _fitted(ways: Array, share: Array, reach: float) -> Array:
    """The weights that give a straight course its value at the place, and an even one anyhow."""
    whole = share.sum(axis=1, keepdims=True)
    mean = np.einsum("nk,nki->ni", share, ways) / whole
    apart = ways - mean[:, None, :]
    spread = np.einsum("nk,nki,nkj->nij", share, apart, apart) / whole[:, :, None]
    spread += EVEN * reach**2 * np.eye(3)
    slope = np.linalg.solve(spread, -mean[:, :, None])[:, :, 0]
    weights: Array = share / whole * (1 + np.einsum("nki,ni->nk", apart, slope))
    return weights
