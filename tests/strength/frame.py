"""A slit lattice as a frame of beams: every strip its own beam, every bridge rigid.

Six unknowns at each node, Euler beams with Saint-Venant torsion from a table. It models the whole
sheet, so it checks how cells add up; what a cell is, solid elements check.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

X, Y, Z, RX, RY, RZ = range(6)
RIGID = 1e4


@dataclass(frozen=True)
class Beam:
    """Stiffness of a beam along z or x: E A, G J, E I across x (or z), E I across y."""

    axial: float
    torsion: float
    in_plane: float
    out_of_plane: float


@dataclass(frozen=True)
class Sheet:
    """A lattice whose width is ``columns`` periods; strips run along z, the sheet lies in x, z."""

    strip: float
    thickness: float
    free: float
    bridge: float
    slit: float
    strips: int
    columns: int

    @property
    def half(self) -> float:
        """From a bridge's middle to that of the next row."""
        return self.free + self.bridge


def lattice_stiffness(sheet: Sheet, beam: Beam, motion: int) -> float:
    """Load on the last row of bridges per motion (``X`` a pull, ``RZ`` a bend about the strips)."""
    system = _Frame(sheet, beam)
    first = [n for row, n in system.ends if row == 0]
    last = [n for row, n in system.ends if row == sheet.strips]
    held = {6 * n + d: 0.0 for n in first for d in range(6)}
    if motion == X:
        held |= {6 * n + d: 1.0 if d == X else 0.0 for n in last for d in range(6)}
    else:  # turned about z; free to move, so that no row is sheared
        held |= {6 * n + RZ: 1.0 for n in last}
    return system.reaction(held, [6 * n + motion for n in last])


class _Frame:
    def __init__(self, sheet: Sheet, beam: Beam) -> None:
        self.sheet, self.beam = sheet, beam
        self.nodes: dict[tuple[float, float], int] = {}
        self.parts: list[tuple[int, int, bool]] = []
        self.ends: list[tuple[int, int]] = []
        for i in range(sheet.strips):
            places = sorted({z for row in (i, i + 1) for z in self._bridge_cuts(row)})
            for low, high in itertools.pairwise(places):
                rigid = any(
                    a <= low and high <= b for row in (i, i + 1) for a, b in self._spans(row)
                )
                self.parts.append((self._node(i, low), self._node(i, high), rigid))
        for row in range(sheet.strips + 1):
            for low, high in self._spans(row):
                middle = (low + high) / 2
                sides = [self._node(i, middle) for i in (row - 1, row) if 0 <= i < sheet.strips]
                if len(sides) == 2:
                    self.parts.append((sides[0], sides[1], True))
                else:
                    self.ends.append((row, sides[0]))

    def _spans(self, row: int) -> Iterator[tuple[float, float]]:
        """Bridges of a row, cut off at the edges of the sheet."""
        width = 2 * self.sheet.half * self.sheet.columns
        for k in range(self.sheet.columns + 1):
            middle = (2 * k + row % 2) * self.sheet.half
            low, high = middle - self.sheet.bridge / 2, middle + self.sheet.bridge / 2
            if low < width and high > 0:
                yield max(low, 0.0), min(high, width)

    def _bridge_cuts(self, row: int) -> Iterator[float]:
        for low, high in self._spans(row):
            yield from (low, (low + high) / 2, high)

    def _node(self, strip: int, z: float) -> int:
        x = strip * (self.sheet.strip + self.sheet.slit)
        return self.nodes.setdefault((round(x, 6), round(z, 6)), len(self.nodes))

    def reaction(self, held: dict[int, float], loads: list[int]) -> float:
        places = np.array(list(self.nodes))
        matrix = np.zeros((6 * len(places), 6 * len(places)))
        for one, other, rigid in self.parts:
            step = places[other] - places[one]
            length = float(np.hypot(*step))
            scale = RIGID if rigid else 1.0
            turn = _turn(along_x=abs(step[0]) > abs(step[1]))
            local = turn.T @ _element(self.beam, length) @ turn * scale
            dofs = [6 * n + d for n in (one, other) for d in range(6)]
            matrix[np.ix_(dofs, dofs)] += local
        fixed = np.array(sorted(held))
        moved = np.zeros(len(matrix))
        moved[fixed] = [held[d] for d in fixed]
        free = np.setdiff1d(np.arange(len(matrix)), fixed)
        moved[free] = np.linalg.lstsq(
            matrix[np.ix_(free, free)], -matrix[np.ix_(free, fixed)] @ moved[fixed], rcond=None
        )[0]
        return float((matrix @ moved)[loads].sum())


def _turn(along_x: bool) -> Any:
    """From x, y, z to the beam's own axes: z along it; a beam along x swaps x and -z."""
    axes = np.eye(3) if not along_x else np.array([[0, 0, -1], [0, 1, 0], [1, 0, 0]], float)
    return np.kron(np.eye(4), axes)


def _element(beam: Beam, length: float) -> Any:
    """Twelve by twelve stiffness of a beam along z."""
    matrix = np.zeros((12, 12))
    for place, value in ((Z, beam.axial / length), (RZ, beam.torsion / length)):
        matrix[np.ix_([place, place + 6], [place, place + 6])] += value * np.array(
            [[1, -1], [-1, 1]]
        )
    for shift, turn, rigidity, sign in (
        (X, RY, beam.in_plane, 1),
        (Y, RX, beam.out_of_plane, -1),
    ):
        a, b = 12 * rigidity / length**3, 6 * rigidity / length**2 * sign
        c, d = 4 * rigidity / length, 2 * rigidity / length
        bending = np.array([[a, b, -a, b], [b, c, -b, d], [-a, -b, a, -b], [b, d, -b, c]])
        dofs = [shift, turn, shift + 6, turn + 6]
        matrix[np.ix_(dofs, dofs)] += bending
    return matrix
