"""The mesh reading: shape trees as exact solids of manifold3d, corner for corner as OpenSCAD's."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, cast

import manifold3d as m3

from scadgen.expr import Expr
from scadgen.solid import (
    Child,
    Chosen,
    Circle,
    Combined,
    Extruded,
    Moved,
    Noted,
    Polygon,
    Repeated,
    Revolved,
    Shape,
    Square,
    Use,
)
from scadgen.to_numpy import Numbers

_BOOLEANS = {
    "union": m3.OpType.Add,
    "difference": m3.OpType.Subtract,
    "intersection": m3.OpType.Intersect,
}


def to_mesh(shape: Shape, numbers: Numbers, child: Any = None) -> Any:
    """Mesh of ``shape``: a Manifold for a solid, a CrossSection for an outline (mm).

    ``numbers`` gives every free symbol, ``facets`` among them; ``child`` is the mesh that a
    module's body is applied to. Raises ValueError where a measure is not a finite number.
    """

    def read(below: Shape) -> Any:
        return to_mesh(below, numbers, child)

    match shape:
        case Polygon(points=points):
            return _outline(points, numbers)
        case Circle(radius=radius):
            return m3.CrossSection.circle(_real(radius, numbers), _facets(numbers))
        case Square(size=size):
            return m3.CrossSection.square(_reals(size, numbers))
        case Extruded(outline=outline, height=height, centered=centered):
            rise = _real(height, numbers)
            solid = read(outline).extrude(rise)
            return solid.translate((0, 0, -rise / 2)) if centered else solid
        case Revolved(outline=outline):
            return read(outline).revolve(_facets(numbers))
        case Combined(op=op, parts=parts):
            return _combined(op, list(map(read, parts)))
        case Moved(op=op, by=by, child=moved):
            return _moved(read(moved), op, _reals(by, numbers))
        case Noted(child=noted):
            return read(noted)
        case Use(module=module, args=args, child=applied):
            given = dict(zip(module.params, _reals(args, numbers), strict=True))
            return to_mesh(module.body, numbers.within(**given), read(applied) if applied else None)
        case Repeated(child=Shape() as body):
            turns = _turns(shape, numbers)
            return _combined("union", [to_mesh(body, inner, child) for inner in turns])
        case Chosen(cond=cond, yes=yes, no=no):
            chosen = yes if numbers(cond) else no
            return _nothing(shape) if chosen is None else read(chosen)
        case Child():
            return child
    raise TypeError(f"no mesh for {shape!r}")


def _real(node: Expr, numbers: Numbers) -> float:
    value = float(numbers(node))
    if not math.isfinite(value):
        raise ValueError("a measure of the shape is not a finite number")
    return value


def _reals(nodes: Sequence[Expr], numbers: Numbers) -> list[float]:
    return [_real(node, numbers) for node in nodes]


def _facets(numbers: Numbers) -> int:
    return int(numbers.symbols["facets"])


def _turns(loop: Repeated, numbers: Numbers) -> Iterator[Numbers]:
    for turn in range(int(_real(loop.count, numbers))):
        yield numbers.within(**{loop.index: float(turn)})


def _outline(points: Sequence[tuple[Expr, ...] | Repeated], numbers: Numbers) -> m3.CrossSection:
    corners: list[list[float]] = []
    for point in points:
        if isinstance(point, Repeated):
            for inner in _turns(point, numbers):
                corners.append(_reals(cast(Any, point.child), inner))
        else:
            corners.append(_reals(point, numbers))
    return m3.CrossSection([corners], m3.FillRule.EvenOdd)


def _combined(op: str, parts: list[Any]) -> Any:
    kind = type(parts[0])
    if len(parts) == 1:
        return parts[0]
    return kind.batch_hull(parts) if op == "hull" else kind.batch_boolean(parts, _BOOLEANS[op])


def _moved(mesh: Any, op: str, by: list[float]) -> Any:
    return getattr(mesh, op)(by[0] if op == "rotate" and len(by) == 1 else by)


def _nothing(shape: Shape) -> Any:
    return m3.CrossSection() if shape.dim == 2 else m3.Manifold()
