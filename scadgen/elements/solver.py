"""Solving for the ways of corners: conjugate gradients, led by coarser and coarser bodies.

Source: smoothed aggregation, P. Vanek, J. Mandel, M. Brezina, 1996, by pyamg, whose coarse bodies
follow the six rigid motions; smoothed by Chebyshev polynomials, M. Adams, M. Brezina, J. Hu,
R. Tuminaro, 2003 (both from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np

from scadgen.elements.fill import Array

#: Residual, as a share of the load, at which a solution is taken; steps up to there at most.
EXACT, STEPS = 1e-5, 400
#: Steps of smoothing before and after each coarser body, and the share of rough motions smoothed.
DEGREE, ROUGH = 2, 1 / 5
#: Groups of corners whose ways are found at once.
DIRECT = 100
EXTRA = (
    "elements: pyamg and scipy solve them; install the extra: pip install '.[solid]' in a checkout"
)


class NotSolved(ValueError):  # noqa: N818 - says what is wrong
    """A body whose ways could not be found: a part of it hangs on nothing."""


def rigid_motions(corners: Array) -> Array:
    """The ways of corners in the six rigid motions: (3 n, 6)."""
    x, y, z = (corners - corners.mean(axis=0)).T
    motions = np.zeros((len(corners), 3, 6))
    motions[:, [0, 1, 2], [0, 1, 2]] = 1
    motions[:, 1, 3], motions[:, 2, 3] = -z, y
    motions[:, 2, 4], motions[:, 0, 4] = -x, z
    motions[:, 0, 5], motions[:, 1, 5] = -y, x
    return motions.reshape(-1, 6)


@dataclass(frozen=True, eq=False)
class Level:
    """One body of the row. own: inverse of each block of its diagonal; most: fastest motion."""

    matrix: Any
    down: Any
    up: Any
    own: Array
    most: float

    def scaled(self, values: Array) -> Array:
        """What is left over, each block by its own stiffness."""
        blocks = values.reshape(len(self.own), -1, values.shape[1])
        scaled: Array = np.matmul(self.own, blocks).reshape(values.shape)
        return scaled

    def smoothed(self, load: Array, ways: Array | None) -> Array:
        """The ways after some steps towards the load, rough motions first."""
        high, low = 1.1 * self.most, 1.1 * self.most * ROUGH
        middle, half = (high + low) / 2, (high - low) / 2
        left = load if ways is None else load - self.matrix @ ways
        step = self.scaled(left) / middle
        found = step if ways is None else ways + step
        ratio = half / middle
        for _ in range(DEGREE - 1):
            left = load - self.matrix @ found
            after = 1 / (2 * middle / half - ratio)
            step = after * ratio * step + 2 * after / half * self.scaled(left)
            found, ratio = found + step, after
        return found


class Solver:
    """Solves for many loads at once on one body whose free corners lie there (mm).

    Raises ModuleNotFoundError, which names the extra, without pyamg.
    """

    def __init__(self, stiffness: Any, corners: Array) -> None:
        try:
            import pyamg
        except ModuleNotFoundError as error:
            raise ModuleNotFoundError(EXTRA, name=error.name) from None
        with _same_draws():
            row = pyamg.smoothed_aggregation_solver(
                stiffness,
                B=rigid_motions(corners),
                strength=("symmetric", {"theta": 0.0}),
                smooth=("jacobi", {"omega": 4 / 3}),
                improve_candidates=None,
                presmoother=None,
                postsmoother=None,
                max_coarse=DIRECT,
            )
        self.matrix = stiffness.tocsr()  # many loads at once: single numbers are faster than blocks
        self.levels = [_level(level) for level in row.levels[:-1]]
        self.last = np.linalg.pinv(row.levels[-1].A.toarray(), hermitian=True)

    def __call__(self, loads: Array) -> Array:
        """The ways (n, k) under the loads (n, k). Raises NotSolved where they are not found."""
        ways, left = np.zeros_like(loads), loads.copy()
        aim = EXACT * np.linalg.norm(loads, axis=0)
        along = np.zeros_like(loads)
        before = np.ones(loads.shape[1])
        for _ in range(STEPS):
            if (np.linalg.norm(left, axis=0) <= aim).all():
                return ways
            guess = self._cycle(0, left)
            now = np.einsum("nk,nk->k", left, guess)
            along = guess + along * _ratio(now, before)
            pushed = self.matrix @ along
            share = _ratio(now, np.einsum("nk,nk->k", along, pushed))
            ways += share * along
            left -= share * pushed
            before = now
        raise NotSolved(f"elements: no balance after {STEPS} steps; is a part of the body loose?")

    def _cycle(self, depth: int, load: Array) -> Array:
        if depth == len(self.levels):
            solved: Array = self.last @ load
            return solved
        level = self.levels[depth]
        ways = level.smoothed(load, None)
        ways = ways + level.up @ self._cycle(depth + 1, level.down @ (load - level.matrix @ ways))
        return level.smoothed(load, ways)


@contextmanager
def _same_draws() -> Iterator[None]:
    """The library draws numbers to start from: the same ones each time, and nobody else's."""
    before = np.random.get_state()
    np.random.seed(0)
    try:
        yield
    finally:
        np.random.set_state(before)


def _ratio(one: Array, other: Array) -> Array:
    safe: Array = np.divide(one, other, out=np.zeros_like(one), where=other != 0)
    return safe


def _level(level: Any) -> Level:
    matrix = level.A.tobsr()
    side = matrix.blocksize[0]
    rows = np.repeat(np.arange(len(matrix.indptr) - 1), np.diff(matrix.indptr))
    diagonal = matrix.data[rows == matrix.indices].reshape(-1, side, side)
    made = Level(matrix.tocsr(), level.R.tocsr(), level.P.tocsr(), np.linalg.pinv(diagonal), 1.0)
    return Level(made.matrix, made.down, made.up, made.own, _fastest(made))


def _fastest(level: Level) -> float:
    """The greatest factor by which the scaled matrix lengthens ways, by repeated use."""
    ways = np.random.default_rng(0).standard_normal((level.matrix.shape[0], 1))
    most = 1.0
    for _ in range(15):
        ways = level.scaled(level.matrix @ (ways / np.linalg.norm(ways)))
        most = float(np.linalg.norm(ways))
    return most
