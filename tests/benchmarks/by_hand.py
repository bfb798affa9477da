"""Hinges as somebody would build them by hand: plain calls, with all their numbers at hand.

The calls are taken off a family's trees, so that the hand always builds what the family is. They
are made either of manifold3d or of solidpython2, and give the readings something to be measured
against.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import manifold3d as m3

from scadgen.hinge.family import Hinge, definition, numbers
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
    union,
)
from scadgen.trees.to_numpy import Numbers

Call = tuple[str, Any, tuple[Any, ...]]  # what to make, its numbers, the calls for what it is of


def calls(hinge: Hinge, part: str) -> Call:
    """All calls that build a part of the hinge, every number worked out."""
    pieces = definition(type(hinge)).pieces
    whole = union(*(piece.solid for piece in pieces if part in piece.parts))
    return _calls(whole, numbers(hinge), None)


def _calls(shape: Shape, at: Numbers, child: Call | None) -> Call:
    def inner(below: Shape) -> Call:
        return _calls(below, at, child)

    def real(*measures: Any) -> list[float]:
        return [float(at(measure)) for measure in measures]

    facets = int(at.symbols["facets"])
    match shape:
        case Polygon(points=points):
            return "polygon", [corner for point in points for corner in _corners(point, at)], ()
        case Circle(radius=radius):
            return "circle", (*real(radius), facets), ()
        case Square(size=size):
            return "square", real(*size), ()
        case Extruded(outline=outline, height=height, centered=centered):
            return "extrude", (*real(height), centered), (inner(outline),)
        case Revolved(outline=outline):
            return "revolve", facets, (inner(outline),)
        case Combined(op=op, parts=parts):
            return op, None, tuple(map(inner, parts))
        case Moved(op=op, by=by, child=moved):
            return op, real(*by), (inner(moved),)
        case Noted(child=noted):
            return inner(noted)
        case Drawn(module=module, args=args, child=applied):
            within = at.within(**dict(zip(module.params, real(*args), strict=True)))
            return _calls(module.body, within, inner(applied) if applied else None)
        case Repeated(child=Shape() as body):
            return "union", None, tuple(_calls(body, turn, child) for turn in _turns(shape, at))
        case Chosen(cond=cond, yes=yes, no=no):
            chosen = yes if at(cond) else no
            return inner(chosen) if chosen else ("nothing", shape.dim, ())
        case Child():
            assert child is not None
            return child
    raise TypeError(shape)


def _turns(loop: Repeated, at: Numbers) -> Iterator[Numbers]:
    return (at.within(**{loop.index: float(k)}) for k in range(int(at(loop.count))))


def _corners(point: Any, at: Numbers) -> list[list[float]]:
    if isinstance(point, Repeated):
        return [found for turn in _turns(point, at) for found in _corners(point.child, turn)]
    return [[float(at(coordinate)) for coordinate in point]]


_OF_MANIFOLD = {
    "union": m3.OpType.Add,
    "difference": m3.OpType.Subtract,
    "intersection": m3.OpType.Intersect,
}


def solid(call: Call) -> Any:
    """The solid, built of manifold3d."""
    what, given, below = call
    parts = [solid(inner) for inner in below]
    match what:
        case "polygon":
            return m3.CrossSection([given], m3.FillRule.EvenOdd)
        case "circle":
            return m3.CrossSection.circle(*given)
        case "square":
            return m3.CrossSection.square(given)
        case "nothing":
            return m3.CrossSection() if given == 2 else m3.Manifold()
        case "extrude":
            raised = parts[0].extrude(given[0])
            return raised.translate((0, 0, -given[0] / 2)) if given[1] else raised
        case "revolve":
            return parts[0].revolve(given)
        case "translate" | "rotate" | "mirror":
            return getattr(parts[0], what)(given[0] if len(given) == 1 else given)
        case "hull":
            return type(parts[0]).batch_hull(parts)
    return type(parts[0]).batch_boolean(parts, _OF_MANIFOLD[what])


def scene(call: Call) -> Any:
    """The solid as an object of solidpython2, which prints it as OpenSCAD source."""
    import solid2

    what, given, below = call
    parts = [scene(inner) for inner in below]
    match what:
        case "polygon":
            return solid2.polygon(given)
        case "circle":
            return solid2.circle(r=given[0], _fn=given[1])
        case "square":
            return solid2.square(given)
        case "nothing":
            return solid2.union()()
        case "extrude":
            return solid2.linear_extrude(height=given[0], center=given[1])(*parts)
        case "revolve":
            return solid2.rotate_extrude(_fn=given)(*parts)
        case "translate" | "rotate" | "mirror":
            return getattr(solid2, what)(given[0] if len(given) == 1 else given)(*parts)
    return getattr(solid2, what)()(*parts)
