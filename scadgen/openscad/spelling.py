"""Which named values of a family are better read where they are used than under their names.

Values that are another's, and short ones that one other value or limit uses, once. Numbers keep
their names, which say what they are; so do values that many read.
"""

from __future__ import annotations

import functools
import re
from collections import Counter
from collections.abc import Iterable, Iterator

from scadgen.hinge.family import Definition
from scadgen.hinge.rules import GRAIN
from scadgen.trees import expr, solid
from scadgen.trees.expr import Expr, Let, Num, Rows, Sym, as_expr
from scadgen.trees.solid import Drawn, Module, Shape
from scadgen.trees.to_scad import INSIDE, spelt_out, text

#: Longest value that is written where it is used, in letters, and the longest limit of a rule.
SHORT, LIMIT = 72, 76
#: A note that says where a value is from stays with it.
_SOURCE = re.compile(r"practice|ISO|theory")
_NAME = re.compile(r"[A-Za-z_]\w*")


@functools.cache
def spelt(family: Definition) -> frozenset[Let]:
    """The values of a family that its text writes where they are used."""
    shapes = [*solid.inside(*family.drawn, bodies=True)]
    limits = [as_expr(GRAIN), *(rule.limit for rule in family.rules)]
    limits += [one.least for one in family.automatic] + [as_expr(e.value) for e in family.exported]
    held = [node for shape in shapes for node in solid.measures(shape)]
    uses, users = _uses(family, [*limits, *held])
    alone = {id(node) for node in held}
    taken: set[Let] = set()
    for let in uses:
        if not _fits(let, uses[let], users[let], alone, taken):
            continue
        with spelt_out(taken | {let}):
            if not _caught(let, shapes):
                taken.add(let)
    return frozenset(taken)


def _fits(let: Let, uses: int, users: list[Expr], alone: set[int], taken: set[Let]) -> bool:
    """Whether a value reads well where it is used."""
    if isinstance(let.value, (Num, Rows)) or _SOURCE.search(let.note):
        return False
    if isinstance(let.value, (Sym, Let)):
        return True
    if uses > 1 or any(id(user) in alone for user in users):
        return False
    with spelt_out(taken):
        short = len(text(let.value)) <= (SHORT if let.note else LIMIT)
    with spelt_out(taken | {let}):
        return short and all(map(_has_room, users))


def _has_room(user: Expr) -> bool:
    """Whether what uses a value stays in one line: an assignment, or the limit of a rule."""
    if isinstance(user, Let) and user.note:
        return len(f"{user.name} = {text(user.value)};") <= INSIDE
    return len(text(user.value if isinstance(user, Let) else user)) <= LIMIT


def _uses(family: Definition, roots: list[Expr]) -> tuple[Counter[Let], dict[Let, list[Expr]]]:
    """How often each named value of the fields is used in the text, and by what."""
    uses: Counter[Let] = Counter()
    users: dict[Let, list[Expr]] = {}
    fields = frozenset(family.bounds)
    named = [n for n in expr.walk(*roots) if isinstance(n, Let) and expr.free(n) <= fields]
    uses.update(dict.fromkeys(named, 0))
    for user, read in [*zip(roots, roots, strict=True), *((n, n.value) for n in named)]:
        for found in _below(read):
            if found in uses:
                uses[found] += 1
                users.setdefault(found, []).append(user)
    return uses, users


def _below(node: Expr) -> Iterator[Let]:
    """The named values that the text of ``node`` names, as often as it does."""
    if isinstance(node, Let):
        yield node
        return
    for child in expr.children(node):
        yield from _below(child)


def _caught(let: Let, shapes: Iterable[Shape]) -> bool:
    """Whether a module that uses the value has another one under a name in it."""
    names = set(_NAME.findall(text(let.value)))
    modules = dict.fromkeys(shape.module for shape in shapes if isinstance(shape, Drawn))
    return any(names & _own(one) and let in _read(one) for one in modules)


def _own(module: Module) -> set[str]:
    """The names that stand for a module's own values."""
    own = set(module.params)
    return own | {n.name for n in _read(module) if expr.free(n) & own}


def _read(module: Module) -> set[Let]:
    held = [node for shape in solid.inside(module.body) for node in solid.measures(shape)]
    return {node for node in expr.walk(*held) if isinstance(node, Let)}
