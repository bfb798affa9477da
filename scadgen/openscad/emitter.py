"""The text of a family's module: Python decides every line, the template only places them.

The drawing comes first, then the shapes, the values and the rules. All values of a scope are known
in OpenSCAD before anything is drawn in it, wherever they stand.
"""

from __future__ import annotations

import functools
import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from scadgen.hinge.automatic import Automatic, given_values
from scadgen.hinge.family import Definition, Hinge, all_families, definition
from scadgen.hinge.rules import GRAIN
from scadgen.keeping.fingerprint import sealed
from scadgen.openscad.checks import CHECK, checks
from scadgen.openscad.functions import automatic, functions, size_call
from scadgen.openscad.settings import caption, customizer_name
from scadgen.openscad.spelling import spelt
from scadgen.text.quoting import scad_string
from scadgen.text.rendering import template
from scadgen.trees import expr, solid
from scadgen.trees.solid import Child, Combined, Drawn, Module, Moved, Shape, union
from scadgen.trees.to_scad import (
    INDENT,
    INSIDE,
    WIDTH,
    assignments,
    continued,
    filled,
    indented,
    module,
    number,
    spelt_out,
    under,
    vector,
)
from scadgen.version import VERSION

CAUTION = (
    "Turning leaves can pinch fingers; small or broken-off parts can be swallowed.",
    "Not for loads that can hurt someone: follow local codes and ask a licensed professional.",
)


#: Where the template puts the fingerprint, which is known when all else is there.
_PLACE = "\0"


def emit(hinge: Hinge) -> str:
    """OpenSCAD source of the hinge's family: its module, with the hinge's own values as defaults.

    The file is self-contained, runs on OpenSCAD 2021.01 and newer, and keeps its parameters. It
    holds definitions alone: used or included, it draws nothing. One line holds the fingerprint by
    which an edit is noticed.
    """
    text = template("module.scad.j2").render(
        family=hinge.family,
        customizer=customizer_name(hinge.family),
        parameters=list(indented(_parameters(hinge))),
        functions=_functions(hinge),
        fingerprint=_PLACE,
        **_body(hinge.family),
    )
    before, _, after = text.partition(f"{_PLACE}\n")
    return sealed(before, after, "// ")


def emit_module(cls: type[Hinge]) -> str:
    """The family's module to put into another file: no usage notes."""
    header, usage_and_module = emit(cls()).split("\n//\n", 1)
    start = usage_and_module.index("\nmodule ")
    return f"{header}\n{usage_and_module[start:]}"


def emit_call(hinge: Hinge, **given: str) -> str:
    """The call that draws the hinge, without its semicolon: what differs from the defaults.

    ``given`` are arguments as OpenSCAD source that are spelt out in any case.
    """
    fields = definition(type(hinge)).bounds
    values = given_values(hinge)
    differing = {n: number(v) for n, v in values.items() if v != fields[n].initial}
    return _call(hinge, differing | given)


def _call(hinge: Hinge, sources: Mapping[str, str]) -> str:
    named = (n for n in ("part", *definition(type(hinge)).bounds) if n in sources)
    return "\n".join(filled(f"{hinge.family}(", [f"{n} = {sources[n]}" for n in named], ")"))


@functools.cache
def _body(name: str) -> dict[str, Any]:
    """What the text of a family says whatever the values are."""
    cls = all_families()[name]
    family = definition(cls)
    shapes = (line for one in _modules(family) for line in module(one, INSIDE + len(INDENT)))
    with spelt_out(spelt(family)):
        blocks = [
            [f"{CHECK}();", *_drawing(family)],
            [*shapes],
            [*_assignments(name, family)],
            [*checks(name, family.parts, family.checked, family.rules)],
        ]
    return {
        "header": list(_header(cls)),
        "carries": family.carried is not None,
        "size": size_call(name, family.exported[0].name),
        "blocks": [list(indented(block)) for block in blocks],
    }


def _functions(hinge: Hinge) -> list[str]:
    """The functions of its file, with its own values as defaults."""
    family = definition(type(hinge))
    with spelt_out(spelt(family)):
        return [*functions(hinge.family, family, given_values(hinge))]


def _header(cls: type[Hinge]) -> Iterator[str]:
    sentences = (
        f"{cls.family}.scad - {cls.title}",
        f"Print it {cls.posture}. No supports.",
        f"Good: {cls.good}.",
        f"Weak: {cls.weak}.",
        *CAUTION,
        f"SPDX-License-Identifier: MIT; written by scadgen {VERSION}.",
    )
    for sentence in sentences:
        yield from textwrap.wrap(sentence, WIDTH - len("// "), subsequent_indent=INDENT)


def _parameters(hinge: Hinge) -> Iterator[str]:
    """The parameters of the module, each with its default and what it is."""
    family, values = definition(type(hinge)), given_values(hinge)
    yield f'part = "both",  // what to draw: {", ".join(family.parts)}'
    *_, last = family.bounds
    for name, bounds in family.bounds.items():
        comma = "" if name == last else ","
        yield f"{name} = {number(values[name])}{comma}  // {continued(caption(bounds))}"


def _assignments(name: str, family: Definition) -> Iterator[str]:
    """The named values that the rules and the shapes use, in order of need.

    An automatic value takes the name of its parameter before anything reads it.
    """
    given: dict[str, str] = {}

    def named(*values: expr.Expr) -> Iterator[str]:
        nodes = (node for node in expr.walk(*values) if expr.free(node) <= set(family.bounds))
        return assignments(nodes, given, INSIDE + len(INDENT))

    for one in family.automatic:
        yield from named(one.least)
        yield from _automatic(name, one)
    shapes = solid.inside(*family.drawn, bodies=True)
    used = (e for shape in shapes for e in solid.measures(shape))
    yield from named(expr.as_expr(GRAIN), *(rule.limit for rule in family.rules), *used)


def _automatic(name: str, one: Automatic) -> Iterator[str]:
    """The statement by which a parameter that is 0 takes its value."""
    statement = f"{one.param} = {automatic(name, one)};"
    yield from textwrap.wrap(statement, INSIDE + len(INDENT), subsequent_indent=INDENT)


def _drawing(family: Definition) -> Iterator[str]:
    alone = family.carried
    for piece in family.pieces:
        drawn = piece.solid
        if alone and piece.parts == _CARRYING and (both := _along(drawn, alone)):
            drawn, alone = both, None
        yield from under(_wanted(piece.parts), drawn, INSIDE + len(INDENT))
    if alone:
        yield from under(_wanted(_CARRYING), alone, INSIDE + len(INDENT))


#: The parts with which a module draws its children.
_CARRYING = ("both", "moving")


def _wanted(parts: tuple[str, ...]) -> str:
    return f"if ({' || '.join(f'part == {scad_string(name)}' for name in parts)})"


def _along(solid: Shape, carried: Shape) -> Shape | None:
    """A solid and what is carried along with it under the same motions; None if they differ."""
    match solid, carried:
        case _, Child():
            return union(solid, carried)
        case Combined(op="union", parts=(first, *others)), _:
            both = _along(first, carried)
            return both and union(both, *others)
        case Drawn(args=(), child=Shape() as one), Drawn(child=Shape() as other) if (
            solid.module is carried.module
        ):
            both = _along(one, other)
            return both and Drawn(solid.module, (), both)
        case Moved(), Moved() if (solid.op, vector(solid.by)) == (carried.op, vector(carried.by)):
            inner = _along(solid.child, carried.child)
            return inner and Moved(solid.op, solid.by, inner)
    return None


def _modules(family: Definition) -> Iterator[Module]:
    """The modules that the drawing uses, each once, in order of use."""
    shapes = solid.inside(*family.drawn, bodies=True)
    yield from dict.fromkeys(shape.module for shape in shapes if isinstance(shape, Drawn))
