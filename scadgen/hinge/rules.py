"""Rules that keep a hinge sound, and the one error that users see when a value breaks one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property
from typing import TYPE_CHECKING

from scadgen.text.numbers import shown
from scadgen.trees.expr import (
    Call,
    Expr,
    Let,
    Op,
    Sym,
    Where,
    as_expr,
    ceil,
    floor,
    free,
    let,
)

if TYPE_CHECKING:
    from scadgen.hinge.fields import Bounds
    from scadgen.hinge.free import Free

GRAIN = let("grain", 1e-6, "A limit missed by less is met: three lines of 0.4 make 1.2")


class Serves(Enum):
    """What goes wrong without a rule: what proofs over all settings see, or what they do not.

    Without a rule that serves the shape some setting breaks an outline, a gap or a hold. Of the
    others no such thing is told: practice, strength and motion are their reason.
    """

    SHAPE = "shapes, gaps and holds"
    PRINTING = "what printers manage to lay"
    STRENGTH = "what plastic bears"
    MOTION = "how far it turns, which is measured on its solids"


@dataclass(frozen=True, eq=False)
class Rule:
    """``param`` must reach, or must not pass, ``limit``: an expression of other parameters.

    ``why`` ends the sentence "it must be at least so much, ...": with what goes wrong otherwise;
    ``serves`` says of what kind that is. ``through`` are fields on which the limit depends by way
    of automatic values.
    """

    param: str
    at_least: bool
    limit: Expr
    why: str
    serves: Serves = Serves.SHAPE
    through: frozenset[str] = frozenset()

    @cached_property
    def holds(self) -> Expr:
        """The comparison to assert."""
        return Sym(self.param) >= self.edge if self.at_least else Sym(self.param) <= self.edge

    @cached_property
    def edge(self) -> Expr:
        """The limit, past which rounding alone may have carried it."""
        return self.limit - GRAIN if self.at_least else self.limit + GRAIN

    @cached_property
    def direct(self) -> bool:
        """Whether the limit stays as it is whatever the field is, and so ends the field's range."""
        return self.param not in free(self.limit) | self.through

    @property
    def sense(self) -> str:
        """The side on which the limit lies, in words."""
        return "at least" if self.at_least else "at most"

    def nearest(self, step: float) -> Expr:
        """The limit, rounded to the side that works in multiples of ``step``."""
        return as_expr(ceil(self.edge / step) if self.at_least else floor(self.edge / step)) * step


def at_least(param: float, limit: float, why: str, serves: Serves = Serves.SHAPE) -> Rule:
    """``param`` (a field, as ``self.wall``) must be ``limit`` or more, or else ``why``."""
    return Rule(_name(param), True, as_expr(limit), why, serves)


def at_most(param: float, limit: float, why: str, serves: Serves = Serves.SHAPE) -> Rule:
    """``param`` (a field, as ``self.wall``) must be ``limit`` or less, or else ``why``."""
    return Rule(_name(param), False, as_expr(limit), why, serves)


def _name(param: float | Expr) -> str:
    if not isinstance(param, Sym):
        raise TypeError("a rule binds one parameter: pass the field itself, as self.wall")
    return param.name


class HingeError(ValueError):
    """A value that makes no sound hinge.

    Attributes: ``family``; ``param``, ``value`` and ``unit`` of the value refused; ``rule``, the
    words of what it breaks, with the range that the rules on the field itself leave it; ``free``,
    the values of the field, on its steps, that keep all rules while the others stay, where these
    are in their bounds; ``works``, the nearest set of changes that does give a sound hinge.
    """

    def __init__(
        self,
        *,
        family: str,
        param: str,
        value: object,
        unit: str,
        rule: str,
        works: Mapping[str, float],
        free: Free | None = None,
    ) -> None:
        self.family, self.param, self.value, self.unit = family, param, value, unit
        self.rule, self.works, self.free = rule, dict(works), free
        super().__init__(f"{family}(): {param} = {shown(value)}{unit}; {rule}{self.remedy}")

    @property
    def remedy(self) -> str:
        """What is free where the rule does not tell it, and what to change, in words."""
        changes = ", ".join(f"{name} = {shown(value)}" for name, value in self.works.items())
        return f"{self._freedom} This works: {changes}." if changes else self._freedom

    @property
    def _freedom(self) -> str:
        if self.free is None:
            return ""
        found = f"{self.free}{self.unit}" if self.free.values else "nothing"
        is_told = re.match(rf"it must be {re.escape(found)}([ ,]|\.$)", self.rule)
        return "" if is_told else f" With the rest as it is: {found}."


def named_limits(rules: Iterable[Rule], fields: Mapping[str, Bounds]) -> Iterator[Rule]:
    """The rules, each composed limit under a name that is used beyond the table of rules."""
    taken: set[str] = set()
    for rule in rules:
        limit = rule.limit
        needed = rule.at_least and fields[rule.param].automatic
        if isinstance(limit, (Op, Call, Where)) and (needed or not rule.direct):
            stem = f"{'least' if rule.at_least else 'most'}_{rule.param}"
            name = next(n for n in (stem, *(f"{stem}_{k}" for k in range(2, 99))) if n not in taken)
            taken.add(name)
            limit = Let(name, limit, "")
        yield replace(rule, limit=limit)
