"""Hinges as OpenSCAD source that thinks in solids only: every outline is extruded by itself.

The calls of :mod:`tests.benchmarks.by_hand` are turned inside out: what is extruded or revolved is
no combination of outlines any more, but each circle, rectangle and polygon, and the solids are
combined. The solid is the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from scadgen.hinge.family import Hinge
from tests.benchmarks.by_hand import Call, calls, solid

_COMBINED = ("union", "difference", "intersection")
_NOTHING: Call = ("nothing", 3, ())


def source(hinge: Hinge, part: str = "both") -> str:
    """OpenSCAD source of a part of the hinge, without modules, parameters or loops."""
    return "\n".join(_lines(solids_first(calls(hinge, part)))) + "\n"


def solids_first(call: Call) -> Call:
    """The same solid, every extrusion and revolution pushed down to a single outline."""
    what, given, below = call
    if what == "extrude":
        return _raised(below[0], given)
    if what == "revolve":
        return _turned(below[0], given, ())
    return what, given, tuple(map(solids_first, below))


def _raised(outline: Call, given: Any) -> Call:
    """An outline extruded, its moves and combinations made of the extruded solids."""
    what, by, below = outline
    inner = tuple(_raised(one, given) for one in below)
    match what:
        case "nothing":
            return _NOTHING
        case "translate" | "mirror":
            return what, [*by, 0.0], inner
        case "rotate":
            return what, [0.0, 0.0, *by], inner
        case "union" | "difference" | "intersection" | "hull":
            return what, None, inner
    return "extrude", given, (outline,)


def _turned(outline: Call, facets: int, moves: tuple[tuple[str, Any], ...]) -> Call:
    """An outline revolved, its combinations made of the revolved solids; it moves beforehand."""
    what, by, below = outline
    if what in _COMBINED:
        return what, None, tuple(_turned(one, facets, moves) for one in below)
    if what in ("translate", "rotate", "mirror"):
        return _turned(below[0], facets, (*moves, (what, by)))
    for op, way in reversed(moves):
        outline = (op, way, (outline,))
    return _revolved(outline, facets)


def _revolved(outline: Call, facets: int) -> Call:
    """Revolved is what lies at x >= 0, as one does who knows that the rest is refused."""
    section = solid(outline)
    low_x, low_y, high_x, high_y = section.bounds() if not section.is_empty() else (0, 0, 0, 0)
    if high_x <= 0:
        return _NOTHING
    if low_x < 0:
        half: Call = (
            "translate",
            [0.0, low_y - 1],
            (("square", [high_x + 1, high_y - low_y + 2], ()),),
        )
        outline = ("intersection", None, (outline, half))
    return "revolve", facets, (outline,)


def _lines(call: Call) -> Iterator[str]:
    what, given, below = call
    head = _head(what, given)
    if not below:
        yield f"{head};"
        return
    yield f"{head} {{"
    for inner in below:
        yield from (f"  {line}" for line in _lines(inner))
    yield "}"


def _head(what: str, given: Any) -> str:
    match what:
        case "circle":
            return f"circle(r = {given[0]!r}, $fn = {given[1]})"
        case "extrude":
            centered = "true" if given[1] else "false"
            return f"linear_extrude(height = {given[0]!r}, center = {centered}, convexity = 10)"
        case "revolve":
            return f"rotate_extrude($fn = {given}, convexity = 10)"
        case "nothing":
            return "union()"
        case "rotate" if len(given) == 1:
            return f"rotate({given[0]!r})"
        case _ if given is None:
            return f"{what}()"
    return f"{what}({given!r})"
