"""The functions by which a module's file tells what a maker must know, through ``use`` as well.

They take the parameters of the module, so that a maker gives both the same; of these only the ones
that count have a default.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from scadgen.hinge.automatic import AS_NEEDED, PARAMETERS, Automatic
from scadgen.hinge.exported import Export
from scadgen.hinge.family import Definition
from scadgen.trees import expr
from scadgen.trees.expr import Expr, Let, as_expr
from scadgen.trees.to_scad import INDENT, WIDTH, filled, number, text


def as_needed_name(family: str) -> str:
    """The name of the function that works out the automatic values of a family."""
    return f"{family}_as_needed"


def functions(name: str, family: Definition, values: Mapping[str, Any]) -> Iterator[str]:
    """The functions of a family's file, with these values as their defaults."""
    for one in family.exported:
        yield f"// {one.meaning}."
        yield from _function(name, family, one, values)
    if family.automatic:
        (grain,) = (node for node in expr.walk(AS_NEEDED) if isinstance(node, Let))
        parameters = f"{', '.join(PARAMETERS)}, {grain.name} = {text(grain.value)}"
        yield "// Value where 0 is given: the usual one, or the least on its steps that is enough."
        yield f"function {as_needed_name(name)}({parameters}) ="
        yield f"{INDENT}{text(AS_NEEDED)};"


def automatic(name: str, one: Automatic) -> str:
    """What a parameter is that is 0 where it takes its value."""
    told = ", ".join(f"{n} = {text(value)}" for n, value in one.told.items())
    return f"{one.param} == 0 ? {as_needed_name(name)}({told}) : {one.param}"


def _function(
    name: str, family: Definition, one: Export, values: Mapping[str, Any]
) -> Iterator[str]:
    value = as_expr(one.value)
    value = value.value if isinstance(value, Let) else value
    bound, needed = _bound(name, family, value)
    parameters = ["part"]
    for field in family.bounds:
        parameters.append(f"{field} = {number(values[field])}" if field in needed else field)
    *head, last = filled(f"function {name}_{one.name}(", parameters, ") =")
    if bound:
        lines = (*head, *filled(f"{last} let(", bound, f") {text(value)};"))
    else:
        lines = (*head, f"{last} {text(value)};")
    for line in lines:
        yield from textwrap.wrap(line, WIDTH, subsequent_indent=INDENT * 2, drop_whitespace=True)


def _bound(name: str, family: Definition, value: Expr) -> tuple[list[str], set[str]]:
    """What has to be named before ``value``, in order of need, and the fields that count."""
    bound: dict[str, str] = {}
    needed = set(expr.free(value))

    def bind(root: Expr) -> None:
        for node in expr.walk(root):
            if isinstance(node, Let):
                bound.setdefault(node.name, text(node.value))

    for one in reversed(family.automatic):
        if one.param in needed:
            needed |= expr.free(one.least)
    for one in family.automatic:
        if one.param in needed:
            bind(one.least)
            bound[one.param] = automatic(name, one)
    bind(value)
    return [f"{n} = {source}" for n, source in bound.items()], needed
