"""The planes in which a hinge is cut to be understood, and its bodies cut by them."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

    from scadgen.hinge.family import Hinge

Vector = tuple[float, float, float]


@dataclass(frozen=True)
class Plane:
    """All points whose product with ``normal`` is ``offset`` (mm), seen against the normal.

    ``right`` is where a reader's right hand points; both vectors have length 1.
    """

    normal: Vector
    offset: float
    right: Vector

    @property
    def up(self) -> Vector:
        """Where the top of the drawing points."""
        (a, b, c), (x, y, z) = self.normal, self.right
        return (b * z - c * y, c * x - a * z, a * y - b * x)

    def cut(self, solid: Manifold) -> CrossSection:
        """The section of a solid, its x to the right and its y up."""
        rows = [(*axis, 0.0) for axis in (self.right, self.up, self.normal)]
        return solid.transform(rows).slice(self.offset)


def bodies(hinge: Hinge, angle: float = 0) -> dict[str, Manifold]:
    """The solids of a hinge by name at an angle (degrees); a hinge of one piece is all fixed."""
    if isinstance(hinge, Pivot):
        return {part: mesh(hinge, part, angle=angle) for part in ("fixed", "moving")}
    return {"fixed": mesh(hinge, angle=angle)}


def open_plane(hinge: Hinge) -> Plane:
    """The plane of the half cut: through the axis and the leaves, or square to the bends."""
    if not isinstance(hinge, Pivot):
        return bend_plane(hinge)
    origin, direction = hinge.axis()
    if direction[2]:
        return Plane((0, -1, 0), -origin[1], (1, 0, 0))
    return Plane((0, 0, 1), origin[2], (1, 0, 0))


def bend_plane(hinge: Hinge) -> Plane:
    """The plane square to the bends of a flexure, through the middlemost link of its two sides."""
    middle = Plane((0, -1, 0), 0, (1, 0, 0)).cut(mesh(hinge, angle=0))
    links = [(low + high) / 2 for low, _, high, _ in (c.bounds() for c in middle.decompose())]
    return Plane((1, 0, 0), min(links, key=abs), (0, 1, 0))


@dataclass(frozen=True, eq=False)
class Section:
    """A hinge cut by a plane: the outlines of its bodies, and of the side that moves at its swing.

    ``bearing`` is a place on the plane worth a closer look (mm to the right and up).
    """

    plane: Plane
    outlines: dict[str, CrossSection]
    swung: CrossSection
    bearing: tuple[float, float]

    @property
    def outline(self) -> CrossSection:
        """All bodies together."""
        first, *others = self.outlines.values()
        return sum(others, first)


def sections(hinge: Hinge) -> tuple[Section, Section]:
    """The hinge cut through its axis, and across it where its bearing is.

    A flexure is cut square to its bends, and along the sheet where it is thinnest.
    """
    solids, moved = bodies(hinge), bodies(hinge, hinge.swing)
    swung = moved["moving" if isinstance(hinge, Pivot) else "fixed"]

    def section(plane: Plane, bearing: tuple[float, float] = (0, 0)) -> Section:
        outlines = {name: plane.cut(solid) for name, solid in solids.items()}
        return Section(plane, outlines, plane.cut(swung), bearing)

    if not isinstance(hinge, Pivot):
        through = section(bend_plane(hinge))
        place, thickness = thinning(through.outlines["fixed"])
        along = Plane((0, 0, 1), thickness / 2, (0, 1, 0))
        return section(through.plane, (place, thickness / 2)), section(along)
    origin, direction = hinge.axis()
    upright = bool(direction[2])
    through = section(Plane((0, -1, 0), -origin[1], (1, 0, 0)))
    middle = 0.0 if upright else origin[2]
    enclosed = _enclosed(through.outlines, middle, upright)
    place, beside = enclosed[len(enclosed) // 2]
    straight = _straight(enclosed)
    plane = Plane((-1, 0, 0), -straight, (0, -1, 0))
    if upright:
        plane = Plane((0, 0, 1), straight, (1, 0, 0))
    across = section(plane)
    fixed, moving = across.outlines.values()
    level = _beside(fixed, moving, 0.0, 0, middle)
    return (
        section(through.plane, (beside, place) if upright else (place, beside)),
        section(plane, (level if level is not None else 0.0, middle)),
    )


def runs(outline: CrossSection, along: int, at: float) -> list[tuple[float, float]]:
    """Where a line lies inside an outline: parallel to x (``along`` 0) or y (1), at the other."""
    import numpy as np

    crossed: list[float] = []
    for contour in outline.to_polygons():
        here, there = contour, np.roll(contour, -1, 0)
        (a, b), (u, v) = here.T[[along, 1 - along]], there.T[[along, 1 - along]]
        through = (b <= at) != (v <= at)
        rise = np.where(through, v - b, 1)
        crossed += (a + (at - b) / rise * (u - a))[through].tolist()
    crossed.sort()
    return list(zip(crossed[::2], crossed[1::2], strict=True))


def _enclosed(
    outlines: dict[str, CrossSection], middle: float, upright: bool
) -> list[tuple[float, float]]:
    """The longest row of places along the axis where one body encloses the other.

    With each place comes the middle of the gap beside it.
    """
    fixed, moving = outlines.values()
    low, high = (fixed + moving).bounds()[1 if upright else 0 :: 2]
    steps = 240
    best: list[tuple[float, float]] = []
    found: list[tuple[float, float]] = []
    for k in range(1, steps):
        place = low + (high - low) * k / steps
        beside = _beside(fixed, moving, middle, 0 if upright else 1, place)
        found = [*found, (place, beside)] if beside is not None else []
        best = found if len(found) > len(best) else best
    if not best:
        raise ValueError("no body of the hinge encloses the other in the plane of its axis")
    return best


def _straight(enclosed: list[tuple[float, float]]) -> float:
    """Middle of the longest row of places whose gap stays at one distance from the axis."""
    rows = [
        [place for place, _ in group]
        for _, group in itertools.groupby(enclosed, key=lambda found: round(found[1], 3))
    ]
    longest = max(rows, key=len)
    row = longest if len(longest) > 2 else [place for place, _ in enclosed]
    return row[len(row) // 2]


def _beside(
    fixed: CrossSection, moving: CrossSection, middle: float, along: int, place: float
) -> float | None:
    """Middle of the gap beyond the body on the axis, if the other body is at both its sides."""
    inner, outer = runs(fixed, along, place), runs(moving, along, place)
    if not any(a < middle < b for a, b in inner):
        inner, outer = outer, inner
    on_axis = [(a, b) for a, b in inner if a < middle < b]
    before = [b for _, b in outer if b < middle]
    after = [a for a, _ in outer if a > middle]
    if not (on_axis and before and after):
        return None
    return (on_axis[0][1] + min(after)) / 2


def thinning(outline: CrossSection) -> tuple[float, float]:
    """Where a sheet first changes its thickness, from its middle on, and its thinnest (mm)."""
    corners = {float(x) for contour in outline.to_polygons() for x in contour[:, 0]}
    beside = sorted({0.0, *(x + step for x in corners for step in (-1e-6, 1e-6))})
    thick = {x: sum(high - low for low, high in runs(outline, 1, x)) for x in beside}
    changes = (x for x in beside if x > 0 and abs(thick[x] - thick[0.0]) > 0.01)
    return next(changes, 0.0), min(t for t in thick.values() if t > 0.01)
