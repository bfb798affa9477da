"""A lemma on chords: how far from the middle of a circle one stays that a rule keeps short.

Of a rule that a length x is at most ``2 sqrt(max(s s - c c, 0))``, forgiven a grain g, the linear
reading sees nothing behind the root. Yet where ``x > g`` and the rule holds,

    sqrt(s s - x/2 x/2) >= abs(c) - sqrt(abs(s) g + g g).

For with k the root in the rule, x/2 <= k + g/2; as x > g, k is above 0, so ``k k = s s - c c`` and
k <= abs(s). Then ``s s - x/2 x/2 >= c c - k g - g g/4 >= c c - d`` with d = abs(s) g + g g; a root
is no less than abs(c) - sqrt(d) whose square is at least c c - d.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import GRAIN, Rule
from scadgen.trees.expr import Call, Expr, Let, Num, Op, Sym, walk
from scadgen.trees.expr import sqrt as root
from scadgen.trees.to_linear import structure
from scadgen.trees.to_numpy import Numbers


def chords(
    rules: Iterable[Rule], nodes: Iterable[Expr], fields: Mapping[str, Bounds]
) -> Iterator[Expr]:
    """What is never negative where the rules hold, by the lemma, of the roots in the nodes."""
    told = [*walk(*nodes)]
    for rule in rules:
        squares = _in_a_chord(rule)
        if squares is None or not fields[rule.param].low > Numbers({})(GRAIN):
            continue
        whole, less = squares
        half: Any = Sym(rule.param) / 2
        length: Any = abs(whole)
        for node in told:
            if structure(node) == structure(Call("sqrt", (whole * whole - half * half,))):
                yield node + root(length * GRAIN + GRAIN * GRAIN) - abs(less)


def _in_a_chord(rule: Rule) -> tuple[Any, Any] | None:
    """The s and c of a rule that its field is at most ``2 sqrt(max(s s - c c, 0))``."""
    match _plain(rule.limit):
        case Op(
            op="*",
            args=(
                Num(value=2),
                Call(
                    name="sqrt",
                    args=(Call(name="max", args=(Op(op="-", args=(whole, less)), Num(value=0))),),
                ),
            ),
        ) if not rule.at_least:
            match _plain(whole), _plain(less):
                case Op(op="*", args=(s, t)), Op(op="*", args=(c, d)):
                    if structure(s) == structure(t) and structure(c) == structure(d):
                        return s, c
    return None


def _plain(node: Expr) -> Expr:
    return _plain(node.value) if isinstance(node, Let) else node
