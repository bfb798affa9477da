"""The text of a family's module: Python decides every line, the template only places them."""

from __future__ import annotations

import functools
import textwrap
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import GROUPS, Bounds, Definition, Hinge, all_families, definition
from scadgen.hinge.rules import Rule
from scadgen.keeping.fingerprint import sealed
from scadgen.text.quoting import scad_string
from scadgen.text.rendering import template
from scadgen.trees import expr, solid
from scadgen.trees.solid import Drawn, Module
from scadgen.trees.to_scad import (
    INDENT,
    WIDTH,
    assignments,
    broken,
    continued,
    indented,
    module,
    number,
    text,
    under,
)
from scadgen.version import VERSION

if TYPE_CHECKING:
    pass

CAUTION = (
    "Turning leaves can pinch fingers; small or broken-off parts can be swallowed.",
    "Not for loads that can hurt someone: follow local codes and ask a licensed professional.",
)


#: Where the template puts the fingerprint, which is known when all else is there.
_PLACE = "\0"


def emit(hinge: Hinge) -> str:
    """OpenSCAD source of the hinge's family, with the hinge's own values in the Customizer.

    The file is self-contained, runs on OpenSCAD 2021.01 and newer, and keeps its parameters. One
    line holds the fingerprint by which an edit is noticed.
    """
    text = template("module.scad.j2").render(
        family=hinge.family,
        groups=_customizer(hinge),
        version=VERSION,
        fingerprint=_PLACE,
        **_body(hinge.family),
    )
    before, _, after = text.partition(f"{_PLACE}\n")
    return sealed(before, after, "// ")


def emit_module(cls: type[Hinge]) -> str:
    """The family's module to put into another file: no usage notes, no demo call."""
    header, usage_and_module = emit(cls()).split("\n//\n", 1)
    start, end = usage_and_module.index("\n/* ["), usage_and_module.rindex("\n\n")
    return f"{header}\n{usage_and_module[start:end]}\n"


def emit_call(hinge: Hinge, **given: str) -> str:
    """The call that draws the hinge, without its semicolon: what differs from the defaults.

    ``given`` are arguments as OpenSCAD source that are spelt out in any case.
    """
    fields = definition(type(hinge)).bounds
    values = {name: getattr(hinge, name) for name in fields}
    differing = {n: number(v) for n, v in values.items() if v != fields[n].default} | given
    named = [f"{n} = {differing[n]}" for n in ("part", *fields) if n in differing]
    return "\n".join(broken(f"{hinge.family}(", named, ")"))


@functools.cache
def _body(name: str) -> dict[str, Any]:
    """What the text of a family says whatever the values are."""
    cls = all_families()[name]
    family = definition(cls)
    rules = (line for r in family.rules for line in rule_check(name, family.bounds[r.param], r))
    blocks = [
        [*_part_check(name, family), *range_checks(name, family.bounds)],
        _assignments(family),
        rules,
        _drawing(family),
        *map(module, _modules(family)),
    ]
    return {
        "title": cls.title,
        "header": list(_header(cls)),
        "parameters": list(_parameters(family)),
        "signature": _signature(cls, family),
        "blocks": [list(indented(block)) for block in blocks],
    }


def _header(cls: type[Hinge]) -> Iterator[str]:
    sentences = (
        f"{cls.family}.scad - {cls.title}",
        f"Print it {cls.posture}. No supports. Lengths in mm, angles in degrees.",
        f"Good: {cls.good}.",
        f"Weak: {cls.weak}.",
        *CAUTION,
        f"SPDX-License-Identifier: MIT; written by scadgen {VERSION}.",
    )
    for sentence in sentences:
        yield from textwrap.wrap(sentence, WIDTH - len("// "), subsequent_indent=INDENT)


def _customizer(hinge: Hinge) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """Per group its captions and its assignments, ranges included."""
    family = definition(type(hinge))
    part = f'{hinge.family}_part = "both";  // [{", ".join(family.parts)}]'
    for group in GROUPS:
        settings = [("What to draw", part)] if group == GROUPS[0] else []
        for name, bounds in family.bounds.items():
            if bounds.group == group:
                settings.append(setting(hinge.family, name, bounds, getattr(hinge, name)))
        yield group, settings


def _caption(bounds: Bounds) -> str:
    return f"{bounds.sentence} ({bounds.unit})" if bounds.unit else bounds.sentence


def setting(module: str, name: str, bounds: Bounds, value: float) -> tuple[str, str]:
    """A parameter of a module in the Customizer: its caption, and its assignment with its range."""
    slider = ":".join(map(number, (bounds.low, bounds.step, bounds.high)))
    if bounds.labels:
        slider = ", ".join(f"{k}:{label}" for k, label in enumerate(bounds.labels))
    return _caption(bounds), f"{module}_{name} = {number(value)};  // [{slider}]"


def _signature(cls: type[Hinge], family: Definition) -> list[str]:
    names = ["part", *family.bounds]
    return broken(f"module {cls.family}(", [f"{n} = {cls.family}_{n}" for n in names], ") {")


def _parameters(family: Definition) -> Iterator[str]:
    width = max(map(len, family.bounds))
    yield f"  {'part':{width}}  what to draw: {', '.join(family.parts)}"
    for name, bounds in family.bounds.items():
        yield f"  {name:{width}}  {continued(_caption(bounds))}"


def _part_check(module: str, family: Definition) -> Iterator[str]:
    """Assertion on the part."""
    parts = ", ".join(map(scad_string, family.parts))
    yield f"parts = [{parts}];"
    words = f"{module}(): part = "
    yield "assert([for (p = parts) if (p == part) p] == [part],"
    yield f'{INDENT}str({scad_string(words)}, part, "; it must be one of ", parts, "."));'


def range_checks(module: str, fields: Mapping[str, Bounds]) -> Iterator[str]:
    """Assertions on the bounds of a module's parameters."""
    yield "ranges = [  // name, value, what it must be, least, most, step of a whole number"
    rows = [
        f"{INDENT}[{scad_string(name)}, {name}, {scad_string(b.suffix + '; ' + b.words)}, "
        f"{number(b.low)}, {number(b.high)}, {number(b.step) if b.whole else 0}]"
        for name, b in fields.items()
    ]
    yield from [f"{row}," for row in rows[:-1]]
    yield rows[-1]
    yield "];"
    yield "for (r = ranges) {"
    yield f"{INDENT}whole = r[5] == 0 || r[1] % r[5] == 0;"
    yield f"{INDENT}assert(is_num(r[1]) && r[1] >= r[3] && r[1] <= r[4] && whole,"
    yield f'{INDENT * 2}str("{module}(): ", r[0], " = ", r[1], r[2]));'
    yield "}"


def _assignments(family: Definition) -> Iterator[str]:
    """The named values that the rules and the shapes use, in order of need."""
    shapes = solid.inside(*(piece.solid for piece in family.pieces), bodies=True)
    used = (e for shape in shapes for e in solid.measures(shape))
    values = expr.walk(*(rule.holds for rule in family.rules), *used)
    return assignments(node for node in values if expr.free(node) <= set(family.bounds))


def rule_check(module: str, bounds: Bounds, rule: Rule) -> Iterator[str]:
    """Assertion on a rule of a module; ``bounds`` are those of the parameter that it binds."""
    limit = rule.nearest(bounds.step)
    yield f"assert({text(rule.holds)}, str("
    yield f"{INDENT}{scad_string(f'{module}(): {rule.param} = ')}, {rule.param},"
    yield f"{INDENT}{scad_string(f'{bounds.suffix}; it must be {rule.sense} ')}, {text(limit)},"
    yield f"{INDENT}{scad_string(f'{bounds.suffix}, {rule.why}.')}));"


def _drawing(family: Definition) -> Iterator[str]:
    for piece in family.pieces:
        wanted = " || ".join(f"part == {scad_string(name)}" for name in piece.parts)
        yield from under(f"if ({wanted})", piece.solid)


def _modules(family: Definition) -> Iterator[Module]:
    """The modules that the pieces use, each once, in order of use."""
    shapes = solid.inside(*(piece.solid for piece in family.pieces), bodies=True)
    yield from dict.fromkeys(shape.module for shape in shapes if isinstance(shape, Drawn))
