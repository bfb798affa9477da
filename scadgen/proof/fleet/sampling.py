"""Some printers of a fleet on the real solids: a check of the closed form that shares none of it.

The solids are cut into the printer's layers, every layer's outlines are moved as the printer moves
them, and the two bodies are held against each other, layer by layer. What sags is left out: a solid
does not sag.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.meshing import mesh
from scadgen.proof.layers import SLIVER

from .margins import TOUCH
from .printer import Printer

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

    from scadgen.kinds.pivot import Pivot

#: Farther apart than this in the plane, mm, no printer brings two outlines together.
FAR = 1.0


class Prints:
    """A pivot's two bodies as printers make them. Layers of a height are cut once."""

    def __init__(self, hinge: Pivot) -> None:
        """Mesh ``hinge`` as it prints."""
        self.layer = hinge.layer
        self.bodies = (mesh(hinge, "fixed", angle=0), mesh(hinge, "moving", angle=0))
        self._cuts: dict[float, _Cut] = {}

    def free(self, printer: Printer) -> bool:
        """Whether the bodies come off the printer (one, not arrays of them) apart."""
        height = min(float(printer.layer), self.layer)
        if height not in self._cuts:
            self._cuts[height] = _Cut(self.bodies, height)
        return self._cuts[height].free(printer)


class _Cut:
    """The layers of two bodies that lie near each other, and whether a slicer would join them."""

    def __init__(self, bodies: tuple[Manifold, Manifold], height: float) -> None:
        top = max(body.bounding_box()[5] for body in bodies)
        count = max(1, math.ceil(top / height - 0.5))
        one, other = ([_at(body, k, height) for k in range(count)] for body in bodies)
        self.pairs = list(zip(one, other, strict=True))
        far = [_offset(layer.whole, FAR) for layer in one]
        near = [_meets(far[k], other[k].whole) for k in range(count)]
        above = [_meets(far[k], other[k - 1].whole) for k in range(count)]  # -1: the top; harmless
        below = [_meets(far[k - 1], other[k].whole) for k in range(count)]
        self.beside = [k for k in range(count) if near[k]]
        self.upon = [k for k in range(1, count) if above[k] or below[k]]
        self.joined = any(_meets(_offset(one[k].whole, TOUCH), other[k].whole) for k in self.beside)

    def free(self, printer: Printer) -> bool:
        return not (self.joined or any(self._contacts(printer)))

    def _contacts(self, printer: Printer) -> Iterator[bool]:
        """Layer by layer from the bed, whether the printed bodies meet."""
        made: dict[int, tuple[CrossSection, CrossSection]] = {}
        for k in sorted({*self.beside, *self.upon, *(k - 1 for k in self.upon)}):
            one, other = self.pairs[k]
            made[k] = (one.printed(printer), other.printed(printer))
        yield from (_meets(*made[k]) for k in self.beside)
        for k in self.upon:
            yield _meets(made[k][0], made[k - 1][1])
            yield _meets(made[k - 1][0], made[k][1])


@dataclass(frozen=True)
class _Layer:
    """One body's section in one layer: pieces with their holes filled, and their holes."""

    whole: CrossSection
    filled: tuple[CrossSection, ...]
    holes: tuple[CrossSection, ...]
    first: bool

    def printed(self, printer: Printer) -> CrossSection:
        """The section as the printer lays it down."""
        from manifold3d import CrossSection

        growth = printer.growth + (printer.first_layer_spread if self.first else 0)
        pieces = [
            _offset(filled, growth) - _offset(holes, -growth - printer.hole_shrinkage)
            for filled, holes in zip(self.filled, self.holes, strict=True)
        ]
        return sum(pieces[1:], pieces[0]) if pieces else CrossSection()


def _at(body: Manifold, k: int, height: float) -> _Layer:
    from manifold3d import CrossSection, FillRule

    whole = body.slice((k + 0.5) * height)
    rings = [piece.to_polygons() for piece in whole.decompose()]
    filled = tuple(CrossSection(piece, FillRule.Positive) for piece in map(_outer, rings))
    holes = tuple(CrossSection(piece, FillRule.Negative) for piece in map(_inner, rings))
    return _Layer(whole, filled, holes, k == 0)


def _outer(rings: list[Any]) -> list[Any]:
    """The outlines of a piece that run anticlockwise: those around it."""
    return [ring for ring in rings if _area(ring) > 0]


def _inner(rings: list[Any]) -> list[Any]:
    """The outlines of a piece that run clockwise: those of its holes."""
    return [ring for ring in rings if _area(ring) < 0]


def _area(ring: Any) -> float:
    x, y = ring.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2


def _offset(section: CrossSection, distance: float) -> CrossSection:
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Miter, 2.0)


def _meets(one: CrossSection, other: CrossSection) -> bool:
    return float((one ^ other).area()) > SLIVER
