"""The planes in which a hinge is cut to be understood, and its two sides cut by them."""

from __future__ import annotations

import functools
import itertools
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.pictures.sides import Sides, along

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import CrossSection, Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

Vector = tuple[float, float, float]
Ways = tuple[Vector, Vector]


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

    def place(self, point: Vector) -> tuple[float, float]:
        """Where a point lies in the drawing: how far to the right, and how far up (mm)."""
        return product(point, self.right), product(point, self.up)

    def cut(self, solid: Manifold) -> CrossSection:
        """The section of a solid, its x to the right and its y up."""
        rows = [(*axis, 0.0) for axis in (self.right, self.up, self.normal)]
        return solid.transform(rows).slice(self.offset)


@dataclass(frozen=True, eq=False)
class Section:
    """The sides of a hinge cut by a plane.

    ``bearing`` is a place on the plane worth a closer look (mm to the right and up), if one is.
    """

    sides: Sides
    plane: Plane
    bearing: tuple[float, float] | None = None

    @cached_property
    def outlines(self) -> dict[str, CrossSection]:
        """The outline of each side."""
        return {side: self.plane.cut(solid) for side, solid in self.sides.cut.items()}

    @cached_property
    def swung(self) -> CrossSection:
        """The side that moves, at the end of its motion; empty where nothing is shown to move."""
        from manifold3d import CrossSection

        swung = self.sides.swung
        return CrossSection() if swung is None else self.plane.cut(swung)

    @property
    def outline(self) -> CrossSection:
        """Both sides together."""
        first, *others = self.outlines.values()
        return sum(others, first)

    @property
    def cuts_all(self) -> bool:
        """Whether no side lies beside the plane."""
        return not any(outline.is_empty() for outline in self.outlines.values())


#: By the way of an axis, x, y or z: normal and right hand of the half cut, and of the sections
#: through the axis and across it.
HALF: tuple[Ways, ...] = (((0, 0, 1), (1, 0, 0)), ((0, 0, 1), (0, 1, 0)), ((0, -1, 0), (1, 0, 0)))
THROUGH: tuple[Ways, ...] = (HALF[2], ((1, 0, 0), (0, 1, 0)), HALF[2])
ACROSS: tuple[Ways, ...] = (((-1, 0, 0), (0, -1, 0)), HALF[2], HALF[0])
#: By the way of fold lines, x or y: the same square to them, along them, and along the sheet.
SQUARE: tuple[Ways, ...] = (THROUGH[1], HALF[2])
LENGTHWISE: tuple[Ways, ...] = (HALF[2], THROUGH[1])
FLAT: tuple[Ways, ...] = (HALF[1], HALF[0])
#: From the front and from the left, where there is no axis and no fold line.
FRONT, LEFT = HALF[2], ACROSS[0]
#: How far from its middle a hinge is cut that has a hole there, as shares of its size.
ASIDE = tuple(way * k / 16 for k in range(8) for way in (1, -1))


def product(one: Vector, other: Vector) -> float:
    """The scalar product."""
    return sum(a * b for a, b in zip(one, other, strict=True))


def open_plane(sides: Sides) -> Plane:
    """The plane of the half cut: through the axis, square to the bends, or through the middle."""
    if sides.look:
        return sections(sides)[0].plane
    axis, fold = sides.axis, sides.fold_line
    if axis:
        plane = _at(axis.origin, HALF[way_of(axis)])
        meets = not Section(sides, plane).outline.is_empty()
        return plane if meets else _middle(sides, HALF[way_of(axis)])
    return _middle(sides, FRONT) if fold is None else _bend_plane(sides, fold)


def sections(sides: Sides) -> tuple[Section, Section]:
    """The sides cut through their axis, and across it where their bearing is.

    A sheet that folds is cut square to its bends, and along itself where it is thinnest; all else
    is cut through the middle, from the front and from the left; or where the joint says.
    """
    if sides.look:
        return _looked(sides, sides.look.place)
    axis, fold = sides.axis, sides.fold_line
    if axis:
        return _about(sides, axis)
    if fold is None:
        return Section(sides, _middle(sides, FRONT)), Section(sides, _middle(sides, LEFT))
    square = _bend_plane(sides, fold)
    place, thickness = thinning(Section(sides, square).outline)
    flat = Section(sides, _at((0, 0, thickness / 2), FLAT[fold]))
    if flat.outline.is_empty():
        flat = Section(sides, _middle(sides, FLAT[fold]))
    return Section(sides, square, (place, thickness / 2)), flat


def _looked(sides: Sides, place: Vector) -> tuple[Section, Section]:
    """The sections square to the axis and level, through a place that the joint tells."""
    axis = sides.joint.axis if sides.joint else None
    ways = (ACROSS[way_of(axis)] if axis else FRONT, HALF[0])
    cut = (Section(sides, _at(place, way)) for way in ways)
    front, level = (replace(one, bearing=one.plane.place(place)) for one in cut)
    return front, level


def way_of(axis: Axis) -> int:
    """To which of x, y and z, as 0 to 2, an axis is parallel; the nearest where it leans."""
    exact = along(axis.unit)
    return exact if exact is not None else max(range(3), key=lambda k: abs(axis.unit[k]))


def _at(point: Vector, ways: Ways) -> Plane:
    """The plane through a point with a normal and a right hand."""
    normal, right = ways
    return Plane(normal, product(normal, point), right)


def _middle(sides: Sides, ways: Ways) -> Plane:
    """The plane through the middle, or as near to it as it cuts the most of both sides."""
    best = _at(sides.middle, ways)
    planes = [replace(best, offset=best.offset + k * sides.size) for k in ASIDE]
    return max(
        planes,
        key=lambda p: sum(not p.cut(solid).is_empty() for solid in sides.printed.values()),
    )


def _bend_plane(sides: Sides, fold: int) -> Plane:
    """The plane square to the bends of a sheet, through the middlemost link of its two sides."""
    lengthwise = Section(sides, _at((0, 0, 0), LENGTHWISE[fold])).outline
    links = [(low + high) / 2 for low, _, high, _ in (c.bounds() for c in lengthwise.decompose())]
    if not links:
        return _middle(sides, SQUARE[fold])
    normal, right = SQUARE[fold]
    return Plane(normal, normal[fold] * min(links, key=abs), right)


def _about(sides: Sides, axis: Axis) -> tuple[Section, Section]:
    """The section through the axis, and the one across it where one side encloses the other.

    Where none does, or the axis lies beside both, both are cut through the middle.
    """
    k = way_of(axis)
    upright = k == 2
    front = Section(sides, _at(axis.origin, THROUGH[k]))
    middle = front.plane.place(axis.origin)[0 if upright else 1]
    enclosed = _enclosed(front.outlines, middle, upright) if front.cuts_all else []
    if not enclosed:
        front = front if front.cuts_all else Section(sides, _middle(sides, THROUGH[k]))
        return front, Section(sides, _middle(sides, ACROSS[k]))
    place, beside = enclosed[len(enclosed) // 2]
    normal, right = ACROSS[k]
    across = Section(sides, Plane(normal, _straight(enclosed) * normal[k], right))
    x, y = across.plane.place(axis.origin)
    fixed, moving = across.outlines.values()
    level = _beside(fixed, moving, x, 0, y)
    return (
        replace(front, bearing=(beside, place) if upright else (place, beside)),
        replace(across, bearing=(level if level is not None else x, y)),
    )


def runs(outline: CrossSection, along: int, at: float) -> list[tuple[float, float]]:
    """Where a line lies inside an outline: parallel to x (``along`` 0) or y (1), at the other."""
    (a, b), (u, v) = (ends[[along, 1 - along]] for ends in _edges(outline))
    through = (b <= at) != (v <= at)
    a, b, u, v = a[through], b[through], u[through], v[through]
    crossed = sorted((a + (at - b) / (v - b) * (u - a)).tolist())
    return list(zip(crossed[::2], crossed[1::2], strict=True))


@functools.lru_cache(maxsize=8)  # a drawing asks the same few outlines at many places
def _edges(outline: CrossSection) -> tuple[Array, Array]:
    """The beginnings and the ends of an outline's edges, a column for each."""
    import numpy as np

    contours = outline.to_polygons() or [np.empty((0, 2))]
    ends = [np.concatenate([contour[1:], contour[:1]]) for contour in contours]
    return np.concatenate(contours).T, np.concatenate(ends).T


def _enclosed(
    outlines: dict[str, CrossSection], middle: float, upright: bool
) -> list[tuple[float, float]]:
    """The longest row of places along the axis where one body encloses the other, if one does.

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
    return next(changes, 0.0), min((t for t in thick.values() if t > 0.01), default=0.0)
