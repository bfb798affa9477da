"""A lemma on chords: how far from the middle of a circle one stays that a rule keeps short.

Of a rule that a length x is at most ``max(2 k - 2 a, k - b)``, k = ``sqrt(max(s s - c c, 0))``,
forgiven a grain g, the linear reading sees nothing behind the root. Yet where ``x > g``, a and b
are never negative, and the rule holds,

    sqrt(max(s s - h h, 0)) >= abs(c) - sqrt(2 abs(s) g + g g) with h = x/2 + min(a, x/2 + b).

For either x/2 + a <= k + g/2 or x + b <= k + g, and h is no more than what is on the left: so
h <= k + g. As what is on the left is above the grain on the right, k is above 0, so
``k k = s s - c c`` and k <= abs(s). Then ``s s - h h >= c c - 2 k g - g g >= c c - d`` with
d = 2 abs(s) g + g g; a root is no less than abs(c) - sqrt(d) whose square is at least c c - d.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import GRAIN, Rule
from scadgen.trees.expr import Call, Expr, Let, Num, Op, Sym, as_expr, maximum, minimum, walk
from scadgen.trees.expr import sqrt as root
from scadgen.trees.intervals import Interval
from scadgen.trees.to_intervals import Intervals
from scadgen.trees.to_linear import structure
from scadgen.trees.to_numpy import Numbers


def chords(
    rules: Iterable[Rule], nodes: Iterable[Expr], fields: Mapping[str, Bounds]
) -> Iterator[Expr]:
    """What is never negative where the rules hold, by the lemma, of the roots in the nodes."""
    told = [*walk(*nodes)]
    for rule in rules:
        chord = _in_a_chord(rule)
        if chord is None or not fields[rule.param].low > Numbers({})(GRAIN):
            continue
        whole, less, aside, off = chord
        if not all(_never_negative(each, fields) for each in (aside, off)):
            continue
        half: Any = Sym(rule.param) / 2
        flank: Any = half + minimum(aside, half + off)
        leg = structure(_leg(whole * whole, flank * flank))
        length: Any = abs(whole)
        for node in told:
            if structure(node) == leg:
                yield node + root(2 * length * GRAIN + GRAIN * GRAIN) - abs(less)


def _leg(whole: Any, less: Any) -> Expr:
    return as_expr(root(maximum(whole - less, 0)))


def _never_negative(node: Expr, fields: Mapping[str, Bounds]) -> bool:
    """Whether a node is 0 or more in all settings."""
    ranges = {n: Interval(np.array(b.low), np.array(b.high)) for n, b in fields.items()}
    return bool(np.all(Intervals(ranges)(node).low >= 0))


def _in_a_chord(rule: Rule) -> tuple[Any, Any, Any, Any] | None:
    """The s, c, a and b of a rule that its field is at most ``max(2 k - 2 a, k - b)``."""
    match _plain(rule.limit):
        case Call(
            name="max",
            args=(
                Op(op="-", args=(Op(op="*", args=(Num(value=2), deep)), twice)),
                Op(op="-", args=(same, off)),
            ),
        ) if not rule.at_least and structure(deep) == structure(same):
            squares = _squares(_plain(deep))
            match _plain(twice):
                case Op(op="*", args=(Num(value=2), aside)) if squares is not None:
                    return (*squares, aside, off)
    return None


def _squares(deep: Expr) -> tuple[Any, Any] | None:
    """The s and c of ``sqrt(max(s s - c c, 0))``."""
    match deep:
        case Call(
            name="sqrt",
            args=(Call(name="max", args=(Op(op="-", args=(whole, less)), Num(value=0))),),
        ):
            match _plain(whole), _plain(less):
                case Op(op="*", args=(s, t)), Op(op="*", args=(c, d)):
                    if structure(s) == structure(t) and structure(c) == structure(d):
                        return s, c
    return None


def _plain(node: Expr) -> Expr:
    return _plain(node.value) if isinstance(node, Let) else node
