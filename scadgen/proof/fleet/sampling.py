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

from scadgen.printing.cuts import SLIVER
from scadgen.printing.outlines import moved
from scadgen.proof.fleet.printer import Printer

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

    from scadgen.hinge.family import Hinge

#: Farther apart than this in the plane, mm, no printer brings two outlines together; in its first
#: layer, which spreads beside, farther apart than that.
FAR, FAR_ON_BED = 1.0, 2.5
#: Corners that bend an outline by less, mm, are left out: the cut triangles leave such.
ROUNDING = 1e-5
#: Sections whose corners agree to so many decimals of a millimetre are one.
SAME = 4


class Prints:
    """A hinge's two bodies as printers make them. Layers of a height are cut once."""

    def __init__(self, hinge: Hinge) -> None:
        """Mesh ``hinge`` as it prints. Raises ValueError for one that is not two pieces."""
        self.layer = hinge.layer
        one, other = (piece.solid for piece in hinge.mechanism().pieces)
        self.bodies = (one, other)
        self._cuts: dict[tuple[float, float], _Cut] = {}

    def free(self, printer: Printer) -> bool:
        """Whether the bodies come off the printer (one, not arrays of them) apart."""
        key = (min(float(printer.layer), self.layer), float(printer.closes))
        if key not in self._cuts:
            self._cuts[key] = _Cut(self.bodies, *key)
        return self._cuts[key].free(printer)


class _Cut:
    """Two bodies cut into layers of one height: the pairs of sections that may come to meet.

    closes: widest gap that the slicer closes, mm.
    """

    def __init__(self, bodies: tuple[Manifold, Manifold], height: float, closes: float) -> None:
        top = max(body.bounding_box()[5] for body in bodies)
        count = max(1, math.ceil(top / height - 0.5))
        one, other = (list(_layers(body, height, count)) for body in bodies)
        beside = set(zip(one, other, strict=True))
        upon = {*zip(one[1:], other, strict=False), *zip(one, other[1:], strict=False)}
        self.joined = any(_meets(moved(a.whole, closes), b.whole) for a, b in beside)
        self.pairs = [(a, b) for a, b in beside | upon if _meets(moved(a.whole, _far(a)), b.whole)]

    def free(self, printer: Printer) -> bool:
        """Whether no slicer joins the bodies, and no two of the printed sections meet."""
        if self.joined:
            return False
        made: dict[_Layer, CrossSection] = {}
        for layer in (layer for pair in self.pairs for layer in pair):
            if layer not in made:
                made[layer] = layer.printed(printer)
        return not any(_meets(made[a], made[b]) for a, b in self.pairs)


@dataclass(frozen=True, eq=False)
class _Layer:
    """One body's section in a layer: pieces with their holes filled, and their holes."""

    whole: CrossSection
    filled: tuple[CrossSection, ...]
    holes: tuple[CrossSection, ...]
    first: bool

    def printed(self, printer: Printer) -> CrossSection:
        """The section as the printer lays it down."""
        from manifold3d import CrossSection

        growth = printer.growth + (printer.first_layer_spread if self.first else 0)
        pieces = [
            moved(filled, growth) - moved(holes, -growth - printer.hole_shrinkage)
            for filled, holes in zip(self.filled, self.holes, strict=True)
        ]
        return sum(pieces[1:], pieces[0]) if pieces else CrossSection()


def _far(layer: _Layer) -> float:
    return FAR_ON_BED if layer.first else FAR


def _layers(body: Manifold, height: float, count: int) -> Iterator[_Layer]:
    """The body's layers from the bed up; where sections repeat, so do the objects."""
    seen: dict[object, _Layer] = {}
    for k in range(count):
        whole = body.slice((k + 0.5) * height).simplify(ROUNDING)
        corners = [np.round(ring, SAME).tolist() for ring in whole.to_polygons()]
        key = (k == 0, tuple(sorted(map(_from_first, corners))))
        if key not in seen:
            seen[key] = _layer(whole, k == 0)
        yield seen[key]


def _from_first(ring: list[list[float]]) -> tuple[tuple[float, ...], ...]:
    """A ring's corners in their order, begun at the least."""
    first = ring.index(min(ring))
    return tuple(map(tuple, ring[first:] + ring[:first]))


def _layer(whole: CrossSection, first: bool) -> _Layer:
    from manifold3d import CrossSection, FillRule

    rings = [piece.to_polygons() for piece in whole.decompose()]
    filled = tuple(CrossSection(piece, FillRule.Positive) for piece in map(_outer, rings))
    holes = tuple(CrossSection(piece, FillRule.Negative) for piece in map(_inner, rings))
    return _Layer(whole, filled, holes, first)


def _outer(rings: list[Any]) -> list[Any]:
    """The outlines of a piece that run anticlockwise: those around it."""
    return [ring for ring in rings if _area(ring) > 0]


def _inner(rings: list[Any]) -> list[Any]:
    """The outlines of a piece that run clockwise: those of its holes."""
    return [ring for ring in rings if _area(ring) < 0]


def _area(ring: Any) -> float:
    x, y = ring.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2


def _meets(one: CrossSection, other: CrossSection) -> bool:
    return float((one ^ other).area()) > SLIVER
