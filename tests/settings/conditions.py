"""Comparisons as margins: what is at least 0 where they hold, case by case."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from scadgen.hinge.rules import Rule
from scadgen.trees.expr import Call, Cell, Expr, Let, Num, Op, Sym, Where, children, free, walk
from scadgen.trees.to_linear import structure

Margins = tuple[Expr, ...]


@dataclass(frozen=True, eq=False)
class Condition:
    """A comparison that holds, or does not, where something is drawn."""

    node: Expr
    holds: bool


def rule_margin(rule: Rule) -> Expr:
    """By how much a rule holds, as it is asserted."""
    sides = (Sym(rule.param), rule.edge)
    return Op("-", *(sides if rule.at_least else reversed(sides)))


def cases(node: Expr, holds: bool = True) -> list[Margins]:
    """Margins that are at least 0 where the comparison holds (or does not), in one of the cases."""
    match node:
        case Op(op="&&" | "||" as op, args=(left, right)):
            one, other = cases(left, holds), cases(right, holds)
            if (op == "&&") == holds:
                return [a + b for a in one for b in other]
            return one + other
        case Op(op="==", args=(left, right)):
            return [(Op("-", left, right), Op("-", right, left))] if holds else [()]
        case Op(op="<" | "<=", args=(left, right)):
            return cases(Op(">", right, left), holds)
        case Op(op=">" | ">=", args=(bound, Call(name="abs", args=(of,)))) if not holds:
            return [(Op("-", of, bound),), (Op("-", Op("neg", of), bound),)]
        case Op(op=">" | ">=", args=(left, right)):
            return [(Op("-", left, right) if holds else Op("-", right, left),)]
    raise TypeError(f"no margins for {node!r}")


def joined(conditions: Iterable[Condition]) -> list[Margins]:
    """The margins of all the conditions together, case by case."""
    found: list[Margins] = [()]
    for each in conditions:
        found = [a + b for a in found for b in cases(each.node, each.holds)]
    return found


def facts(nodes: Iterable[Expr]) -> Iterator[Expr]:
    """What is never negative by what least, greatest and absolute values and roots are."""
    for node in walk(*nodes):
        match node:
            case Call(name="max", args=args):
                yield from (Op("-", node, arg) for arg in args)
            case Call(name="min", args=args):
                yield from (Op("-", arg, node) for arg in args)
            case Call(name="abs", args=(arg,)):
                yield from (Op("-", node, arg), Op("+", node, arg))
            case (
                Call(name="sqrt", args=(Op(op="-", args=(Op() as whole, Op() as less)),))
                | Call(
                    name="sqrt",
                    args=(
                        Call(
                            name="max",
                            args=(Op(op="-", args=(Op() as whole, Op() as less)), Num(value=0)),
                        ),
                    ),
                )
            ):
                if _is_square(whole) and _is_square(less):  # a leg is no longer than its hypotenuse
                    yield Op("-", Call("abs", (whole.args[0],)), node)


def _is_square(node: Op) -> bool:
    return node.op == "*" and structure(node.args[0]) == structure(node.args[1])


def replaced(node: Expr, values: Mapping[str, Expr]) -> Expr:
    """The tree with expressions in the place of some of its symbols."""
    if not free(node) & set(values):
        return node
    match node:
        case Sym(name=name):
            return values[name]
        case Let(name=name, value=value, note=note):
            return Let(name, replaced(value, values), note)
        case Op(op=op, args=args):
            return Op(op, *(replaced(arg, values) for arg in args))
        case Call(name=name, args=args):
            return Call(name, tuple(replaced(arg, values) for arg in args))
        case Where():
            return Where(*(replaced(child, values) for child in children(node)))
        case Cell(table=table, row=row, column=column):
            return Cell(table, replaced(row, values), replaced(column, values))
    raise TypeError(f"nothing to replace in {node!r}")
