"""The mesh reading: shape trees as exact solids of manifold3d, corner for corner as OpenSCAD's.

All turns of a loop are read at once: inside it every measure is an array with one value for each
turn, and every shape a list of meshes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any, cast

import manifold3d as m3
import numpy as np

from scadgen.trees.expr import Expr
from scadgen.trees.joined import joined
from scadgen.trees.solid import (
    Child,
    Chosen,
    Circle,
    Combined,
    Drawn,
    Extruded,
    Moved,
    Noted,
    Polygon,
    Repeated,
    Revolved,
    Shape,
    Square,
    needs,
)
from scadgen.trees.to_numpy import Numbers, Value, varies

_BOOLEANS = {
    "union": m3.OpType.Add,
    "difference": m3.OpType.Subtract,
    "intersection": m3.OpType.Intersect,
}

#: One mesh for each turn, or a single one that is the same in all turns.
Meshes = Sequence[Any]
#: Makes a solid of an outline, of its height, and of whether that is half to each side.
Raise = Callable[[Any, float, bool], Any]


def to_mesh(shape: Shape, numbers: Numbers, child: Any = None) -> Any:
    """Mesh of ``shape``: a Manifold for a solid, a CrossSection for an outline (mm).

    ``numbers`` gives every free symbol, ``facets`` among them; ``child`` is the mesh that a
    module's body is applied to. Raises ValueError where a measure is not a finite number.
    """
    with np.errstate(all="ignore"):
        (mesh,) = _read(shape, numbers, 1, (child,))
    return mesh


def extruded(section: Any, rise: float, centered: bool) -> Any:
    """The mesh of an outline that is raised; nothing of one that holds nothing."""
    if section.is_empty():
        return m3.Manifold()
    solid = section.extrude(rise)
    return solid.translate((0, 0, -rise / 2)) if centered else solid


def to_meshes(shape: Shape, numbers: Numbers, turns: int, raised: Raise = extruded) -> Meshes:
    """Meshes of ``shape`` in so many turns, of which symbols may be arrays; all are read at once.

    ``raised`` may make something else of an outline that is moved and joined as a mesh is.
    Raises ValueError where a measure is not a finite number.
    """
    with np.errstate(all="ignore"):
        meshes = _read(shape, numbers, turns, (None,), raised)
    return meshes if len(meshes) == turns else list(meshes) * turns


def _read(
    shape: Shape, numbers: Numbers, turns: int, child: Meshes, raised: Raise = extruded
) -> Meshes:
    """Meshes of ``shape`` in so many turns; the symbols of ``numbers`` may be arrays of these."""

    def read(below: Shape) -> Meshes:
        return _read(below, numbers, turns, child, raised)

    match shape:
        case Polygon(points=points):
            return _outlines(points, numbers, turns)
        case Circle(radius=radius):
            facets = _facets(numbers)
            return [m3.CrossSection.circle(r, facets) for r in _real(radius, numbers)]
        case Square(size=size):
            return [m3.CrossSection.square(corner) for corner in _rows(size, numbers)]
        case Extruded(outline=outline, height=height, centered=centered):
            rising = _paired(
                _read_once(outline, numbers, turns, child, raised), _real(height, numbers)
            )
            return [raised(section, rise, centered) for section, rise in rising]
        case Revolved(outline=outline):
            return [_revolved(section, _facets(numbers)) for section in read(outline)]
        case Combined(op=op, parts=parts):
            return [_combined(op, list(meshes)) for meshes in _paired(*map(read, parts))]
        case Moved(op=op, by=by, child=moved):
            return _moved(read(moved), op, _rows(by, numbers))
        case Noted(child=noted):
            return read(noted)
        case Drawn(module=module, args=(), child=None) if numbers.drawn is not None:
            if module not in numbers.drawn:
                numbers.drawn[module] = _read(module.body, numbers, turns, (None,), raised)
            return cast(Meshes, numbers.drawn[module])
        case Drawn(module=module, args=args, child=applied):
            given = {
                n: _checked(numbers.value(a)) for n, a in zip(module.params, args, strict=True)
            }
            inner = _read_once(applied, numbers, turns, child, raised) if applied else (None,)
            return _read(module.body, numbers.within(**given), turns, inner, raised)
        case Repeated():
            return _repeated(shape, numbers, turns, child, raised)
        case Chosen():
            return _chosen(shape, numbers, turns, child, raised)
        case Child():
            return child
    raise TypeError(f"no mesh for {shape!r}")


def _read_once(shape: Shape, numbers: Numbers, turns: int, child: Meshes, raised: Raise) -> Meshes:
    """The same as reading it, but in turns that give it the same values it is read only once."""
    names = needs(shape)
    if names is None or turns == 1:
        return _read(shape, numbers, turns, child, raised)
    values = [numbers.symbols.get(name) for name in names]
    columns: list[Any] = [value for value in values if varies(value)]
    if not columns:
        return _read(shape, numbers, 1, (None,), raised)
    first: dict[tuple[float, ...], int] = {}
    which = [
        first.setdefault(row, len(first))
        for row in zip(*(column.tolist() for column in columns), strict=True)
    ]
    if len(first) == turns:
        return _read(shape, numbers, turns, child, raised)
    some = numbers.picked(np.unique(which, return_index=True)[1])
    return _picked(_read(shape, some, len(first), (None,), raised), which)


def _repeated(loop: Repeated, numbers: Numbers, turns: int, child: Meshes, raised: Raise) -> Meshes:
    assert isinstance(loop.child, Shape)
    counts = _counts(loop, numbers, turns)
    inner, owners = _inside(loop, numbers, counts)
    bodies = _read(loop.child, inner, len(owners), _picked(child, owners), raised)
    if len(bodies) == 1:
        bodies = list(bodies) * len(owners)
    ends = np.cumsum(counts)
    return [
        _combined("union", list(bodies[end - count : end]))
        for count, end in zip(counts, ends, strict=True)
    ]


def _chosen(shape: Chosen, numbers: Numbers, turns: int, child: Meshes, raised: Raise) -> Meshes:
    cond = np.asarray(numbers.value(shape.cond))

    def read(yes: bool, some: Numbers, count: int, child: Meshes) -> Meshes:
        taken = shape.yes if yes else shape.no
        if taken is None:
            return [m3.CrossSection() if shape.dim == 2 else raised(m3.CrossSection(), 0, False)]
        return _read(taken, some, count, child, raised)

    if cond.ndim == 0:
        return read(bool(cond), numbers, turns, child)
    found = np.empty(turns, object)
    for yes in (True, False):
        where = np.flatnonzero(cond == yes)
        if len(where):
            some = read(yes, numbers.picked(where), len(where), _picked(child, where))
            for k, index in enumerate(where):
                found[index] = some[k if len(some) > 1 else 0]
    return list(found)


def _outlines(
    points: Sequence[tuple[Expr, ...] | Repeated], numbers: Numbers, turns: int
) -> Meshes:
    runs = [_corners(point, numbers, turns) for point in points]
    return [
        m3.CrossSection([np.concatenate(rings)], m3.FillRule.EvenOdd) for rings in _paired(*runs)
    ]


def _corners(point: tuple[Expr, ...] | Repeated, numbers: Numbers, turns: int) -> Sequence[Any]:
    """Corners of an outline that stand for one point or for a run of them, in each turn."""
    if not isinstance(point, Repeated):
        return [[corner] for corner in _rows(point, numbers)]
    assert isinstance(point.child, tuple)
    counts = _counts(point, numbers, turns)
    inner, owners = _inside(point, numbers, counts)
    rows = _rows(point.child, inner)
    rows = rows if len(rows) > 1 else rows * len(owners)
    return [rows[end - count : end] for count, end in zip(counts, np.cumsum(counts), strict=True)]


def _inside(loop: Repeated, numbers: Numbers, counts: Any) -> tuple[Numbers, Any]:
    """The numbers inside a loop, and for each of its turns the outer turn that it belongs to."""
    owners = np.repeat(np.arange(len(counts)), counts)
    index = np.concatenate([np.arange(float(count)) for count in counts])
    return numbers.picked(owners).within(**{loop.index: index}), owners


def _counts(loop: Repeated, numbers: Numbers, turns: int) -> Any:
    """How often the loop turns; a single number where it is the same in all outer turns."""
    return np.broadcast_to(_checked(numbers.value(loop.count)), turns).astype(int)


def _real(node: Expr, numbers: Numbers) -> list[float]:
    """The measure in each turn, or once if it is the same in all of them."""
    value = _checked(numbers.value(node))
    return list(map(float, value)) if varies(value) else [float(value)]


def _rows(nodes: Sequence[Expr], numbers: Numbers) -> list[list[float]]:
    """The measures together, in each turn or once."""
    values = [_checked(numbers.value(node)) for node in nodes]
    turns = next((len(value) for value in values if varies(value)), None)
    if turns is not None:
        table = np.empty((turns, len(values)))
        for k, value in enumerate(values):
            table[:, k] = value
        rows: list[list[float]] = table.tolist()
        return rows
    return [[float(value) for value in values]]


def _checked(value: Value) -> Value:
    finite = np.isfinite(value).all() if varies(value) else math.isfinite(value)
    if not finite:
        raise ValueError("a measure of the shape is not a finite number")
    return value


def _facets(numbers: Numbers) -> int:
    return int(numbers.symbols["facets"])


def _paired(*columns: Sequence[Any]) -> list[tuple[Any, ...]]:
    """What belongs together in each turn; once if all are the same in all turns."""
    turns = max(map(len, columns))
    return list(zip(*(c if len(c) == turns else list(c) * turns for c in columns), strict=True))


def _picked(meshes: Meshes, turns: Any) -> Meshes:
    return meshes if len(meshes) == 1 else [meshes[k] for k in turns]


def _revolved(section: Any, facets: int) -> Any:
    """Nothing of an outline that holds nothing: the kernel would call that an error, and so all
    that it is part of."""
    return m3.Manifold() if section.is_empty() else section.revolve(facets)


def _combined(op: str, parts: list[Any]) -> Any:
    kind = type(parts[0])
    if len(parts) == 1:
        return parts[0]
    if op == "union" and kind is m3.CrossSection:
        return joined(parts)
    return kind.batch_hull(parts) if op == "hull" else kind.batch_boolean(parts, _BOOLEANS[op])


def _moved(meshes: Meshes, op: str, by: Sequence[list[float]]) -> Meshes:
    if not isinstance(meshes[0], m3.CrossSection) and len(by[0]) < 3:  # as an outline is moved
        by = [[0.0, 0.0, *way] if op == "rotate" else [*way, 0.0] for way in by]
    ways: Sequence[Any] = [way[0] for way in by] if len(by[0]) == 1 else by
    return [getattr(mesh, op)(way) for mesh, way in _paired(meshes, ways)]
