"""The function by which a module's file tells what a maker must know, through ``use`` as well.

It takes the parameters of the module, so that a maker gives both the same; of these only the ones
that count have a default. It tells all sizes by name, so that no formula stands in two functions.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from scadgen.hinge.automatic import AS_NEEDED, PARAMETERS, Automatic
from scadgen.hinge.exported import Export
from scadgen.hinge.family import Definition
from scadgen.text.quoting import scad_string
from scadgen.trees import expr
from scadgen.trees.expr import Expr, Let, Sym, as_expr, equal, where
from scadgen.trees.to_scad import INDENT, WIDTH, continued, hugged, is_spelt, number, packed, text

#: What of an automatic value's function is what was given.
_GIVEN: Any = Sym("given")

#: How the function finds a size, and what it says where there is none of that name.
_FOUND = """\
  found = [for (size = sizes) if (size[0] == name) size[1]]
) assert(found != [], str("FUNCTION(): name = ", name, "; it must be one of ",
  [for (size = sizes) size[0]], ".")) found[0];"""


def as_needed_name(family: str) -> str:
    """The name of the function that works out the automatic values of a family."""
    return f"{family}_as_needed"


def size_name(family: str) -> str:
    """The name of the function that tells what a maker builds around."""
    return f"{family}_size"


def size_call(family: str, size: str, *given: str) -> str:
    """The call that tells a size, given arguments as OpenSCAD source."""
    return f"{size_name(family)}({', '.join((scad_string(size), *given))})"


def functions(name: str, family: Definition, values: Mapping[str, Any]) -> Iterator[str]:
    """The functions of a family's file, with these values as their defaults."""
    if family.exported:
        yield "// Sizes (mm) that your own bodies need, by name; it takes the values of the module."
        yield from _sizes(name, family, values)
    if family.automatic:
        (grain,) = (node for node in expr.walk(AS_NEEDED) if isinstance(node, Let))
        parameters = ", ".join((text(_GIVEN), *PARAMETERS, f"{grain.name} = {text(grain.value)}"))
        value = as_expr(where(equal(_GIVEN, 0), as_expr(AS_NEEDED), _GIVEN))  # type: ignore[arg-type]
        yield "// What was given; for 0 the usual value, or the least on its steps that is enough."
        yield f"function {as_needed_name(name)}({parameters}) ="
        yield f"{INDENT}{text(value)};"


def automatic(name: str, one: Automatic) -> str:
    """The value of a parameter, whose 0 stands for as much as is needed."""
    told = (f"{n} = {text(value)}" for n, value in one.told.items())
    return f"{as_needed_name(name)}({', '.join((one.param, *told))})"


def _sizes(name: str, family: Definition, values: Mapping[str, Any]) -> Iterator[str]:
    bound, needed = _bound(name, family, [as_expr(one.value) for one in family.exported])
    parameters = ["name", "part"]
    for field in family.bounds:
        parameters.append(f"{field} = {number(values[field])}" if field in needed else field)
    yield from hugged(f"function {size_name(name)}(", parameters, ") = let(")
    named = [*(f"{n} = {source}" for n, source in bound.items()), ""]
    for row in packed(named, WIDTH - len(INDENT)):
        yield from _wrapped(f"{INDENT}{row}".rstrip())
    yield f"{INDENT}sizes = ["
    final = family.exported[-1]
    for export in family.exported:
        yield from _row(export, "" if export is final else ",")
    yield f"{INDENT}],"
    yield from _FOUND.replace("FUNCTION", size_name(name)).splitlines()


def _row(export: Export, comma: str) -> Iterator[str]:
    row = f"{INDENT * 2}[{scad_string(export.name)}, {text(as_expr(export.value))}]{comma}"
    note = f"// {continued(export.meaning).removesuffix(' (mm)')}"
    if len(f"{row}  {note}") <= WIDTH:
        yield f"{row}  {note}"
    else:
        yield f"{INDENT * 2}{note}"
        yield row


def _bound(
    name: str, family: Definition, values: list[Expr]
) -> tuple[dict[str, str], frozenset[str]]:
    """What has to be named before the values, in order of need, and the fields that count."""
    bound: dict[str, str] = {}
    needed = frozenset().union(*map(expr.free, values))

    def bind(*roots: Expr) -> None:
        for node in expr.walk(*roots):
            if isinstance(node, Let) and not is_spelt(node):
                bound.setdefault(node.name, text(node.value))

    for one in reversed(family.automatic):
        if one.param in needed:
            needed |= expr.free(one.least)
    for one in family.automatic:
        if one.param in needed:
            bind(one.least)
            bound[one.param] = automatic(name, one)
    bind(*values)
    return bound, needed


def _wrapped(line: str) -> list[str]:
    return textwrap.wrap(line, WIDTH, subsequent_indent=INDENT * 2, drop_whitespace=True)
