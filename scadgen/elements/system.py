"""All cubes of a body together: corners, stiffness, loads, and the ways that corners take."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from scadgen.elements.brick import CORNERS, Bricks, bricks, corner_shares
from scadgen.elements.fill import Array, Cells, Places
from scadgen.elements.solver import Solver

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


@dataclass(frozen=True, eq=False)
class Body:
    """A body of cubes of one plastic, clamped at some corners.

    cells: cubes. elastic: stress per strain, MPa. clamped: for points (mm), whether they are held.
    """

    cells: Cells
    elastic: Array
    clamped: Callable[[Array], NDArray[np.bool_]]

    @cached_property
    def bricks(self) -> Bricks:
        """The cubes' matrices."""
        return bricks(self.cells.parts, self.cells.size, self.elastic)

    @cached_property
    def numbered(self) -> tuple[Places, Places]:
        """The corners' places in the grid, and for each cube the numbers of its eight corners."""
        counts = np.array(self.cells.shape) + 1
        corners = self.cells.places[:, None, :] + CORNERS
        keys = np.ravel_multi_index(tuple(np.moveaxis(corners, 2, 0)), tuple(counts))
        used, numbers = np.unique(keys, return_inverse=True)
        places = np.stack(np.unravel_index(used, tuple(counts)), axis=1)
        return places, numbers.reshape(-1, 8)

    @cached_property
    def corners(self) -> Array:
        """The corners, mm."""
        at: Array = self.cells.origin + self.numbered[0] * self.cells.size
        return at

    @cached_property
    def free(self) -> NDArray[np.bool_]:
        """Which corners are not held."""
        return ~self.clamped(self.corners)

    @cached_property
    def stiffness(self) -> Any:
        """Stiffness of the free corners, in blocks of three."""
        from scipy.sparse import bsr_matrix  # type: ignore[import-untyped]

        numbers = np.cumsum(self.free) - 1
        corners = np.where(self.free, numbers, -1)[self.numbered[1]]
        blocks, columns = _blocks(corners, self.bricks, int(self.free.sum()))
        used = columns >= 0
        starts = np.concatenate(([0], np.cumsum(used.sum(axis=1))))
        return bsr_matrix((blocks[used], columns[used], starts), blocksize=(3, 3))

    @cached_property
    def solver(self) -> Callable[[Array], Array]:
        """What gives the free corners' ways for forces on them."""
        return Solver(self.stiffness, self.corners[self.free])

    def solve(self, loads: Sequence[Array]) -> list[Array]:
        """For each load, forces (n, 3) on all corners (N), the ways that these take, mm."""
        if not loads:
            return []
        forces = np.stack([load[self.free].ravel() for load in loads], axis=1)
        found = []
        for ways in self.solver(forces).T:
            every = np.zeros((len(self.corners), 3))
            every[self.free] = ways.reshape(-1, 3)
            found.append(every)
        return found

    def forces(self, points: Array, vectors: Array) -> Array:
        """Forces at points of the body (N, mm), shared out to the corners of the cubes there."""
        owners, inside = self._owners(points)
        shares = corner_shares(inside)
        found = np.zeros((len(self.corners), 3))
        for k in range(8):
            np.add.at(found, self.numbered[1][owners, k], shares[:, k, None] * vectors)
        return found

    def at(self, ways: Array, points: Array) -> Array:
        """The ways at points of the body."""
        owners, inside = self._owners(points)
        there = ways[self.numbered[1][owners]]
        found: Array = np.einsum("nk,nkc->nc", corner_shares(inside), there)
        return found

    def _owners(self, points: Array) -> tuple[Places, Array]:
        """The cube nearest to each point, and where in it the point lies (0 to 1)."""
        _, owners = self._tree.query(points)
        low = self.cells.origin + self.cells.places[owners] * self.cells.size
        return owners, np.clip((points - low) / self.cells.size, 0, 1)

    @cached_property
    def _tree(self) -> Any:
        from scipy.spatial import cKDTree  # type: ignore[import-untyped]

        return cKDTree(self.cells.origin + (self.cells.places + 0.5) * self.cells.size)

    def stresses(self, ways: Array) -> Array:
        """Mean stress in what is filled of each cube (n, 6), MPa."""
        moved = ways[self.numbered[1]].reshape(-1, 24)
        strains = np.empty((len(moved), 6))
        whole = self.bricks.kind == 0
        strains[whole] = moved[whole] @ self.bricks.strain[0].T
        cut = np.flatnonzero(~whole)
        for some in np.array_split(cut, max(len(cut) // 20000, 1)):
            matrices = self.bricks.strain[self.bricks.kind[some]]
            strains[some] = np.einsum("nij,nj->ni", matrices, moved[some])
        found: Array = strains @ self.elastic
        return found


def _blocks(corners: Places, made: Bricks, count: int) -> tuple[Array, Places]:
    """For each corner 27 blocks of 3 by 3, one for each neighbour, and the neighbours' numbers.

    A corner is at each of the eight places of one cube at most: so no sum meets itself.
    """
    blocks, columns = np.zeros((count, 27, 3, 3)), np.full((count, 27), -1)
    for a in range(8):
        for b in range(8):
            way = CORNERS[b] - CORNERS[a] + 1
            slot = int(way @ (9, 3, 1))
            held = (corners[:, a] >= 0) & (corners[:, b] >= 0)
            here, there = corners[held, a], corners[held, b]
            block = made.stiffness[:, 3 * a : 3 * a + 3, 3 * b : 3 * b + 3]
            blocks[here, slot] += block[made.kind[held]]
            columns[here, slot] = there
    return blocks, columns
