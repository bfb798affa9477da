"""Automatic values: what 0 stands for where a field grows with the others.

A field declared automatic may be 0. It is then its default or, where a rule asks at least more of
it, the least on its steps that the rule allows; never more than its bound.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar, cast

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import GRAIN, Rule
from scadgen.trees.expr import Expr, Sym, as_expr, ceil, free, maximum, minimum

if TYPE_CHECKING:
    from scadgen.hinge.family import Definition, Hinge
    from scadgen.trees.to_python import Asked

H = TypeVar("H", bound="Hinge")

#: The parameters of ``AS_NEEDED``, in the order in which they are given.
PARAMETERS = ("usual", "step", "most", "least")


def _as_needed(usual: float, step: float, most: float, least: float) -> float:
    return minimum(maximum(usual, ceil((least - GRAIN) / step) * step), most)


#: The usual value, or the least on its steps that is enough, but never more than the most.
AS_NEEDED = as_expr(_as_needed(*cast(Any, map(Sym, PARAMETERS))))


@dataclass(frozen=True, eq=False)
class Automatic:
    """What a field is where 0 is given; ``least`` is an expression of other fields."""

    param: str
    usual: float
    least: Expr
    step: float
    most: float
    whole: bool = False

    def value(self, symbols: Mapping[str, Any]) -> Any:
        """The value with those of all other fields, as arrays."""
        from scadgen.trees.to_numpy import Numbers

        numbers = Numbers(symbols)
        return Numbers({name: numbers(value) for name, value in self.told.items()})(AS_NEEDED)

    @cached_property
    def alone(self) -> Asked:
        """The same as a function of single numbers."""
        from scadgen.trees.to_python import value

        told = (as_expr(self.told[name]) for name in PARAMETERS)
        return value(as_expr(_as_needed(*cast(Any, told))))

    @property
    def told(self) -> dict[str, Expr | float]:
        """The parameters of ``AS_NEEDED``."""
        given = (self.usual, self.step, self.most, self.least)
        return dict(zip(PARAMETERS, given, strict=True))


def automatics(fields: Mapping[str, Bounds], rules: Iterable[Rule]) -> tuple[Automatic, ...]:
    """The automatic fields, each after those that it depends on.

    Raises ValueError where no rule asks at least anything of one, or where they go in circles.
    """
    lifting = [rule for rule in rules if rule.at_least]
    waiting = {
        n: _automatic(n, limits, lifting) for n, limits in fields.items() if limits.automatic
    }
    ordered: list[Automatic] = []
    while waiting:
        ready = [one for one in waiting.values() if not free(one.least) & waiting.keys()]
        if not ready:
            raise ValueError(f"automatic values that depend on each other: {', '.join(waiting)}")
        for one in ready:
            ordered.append(waiting.pop(one.param))
    return tuple(ordered)


def _automatic(name: str, limits: Bounds, lifting: Iterable[Rule]) -> Automatic:
    asked = [rule.limit for rule in lifting if rule.param == name]
    if not asked:
        raise ValueError(f"{name} is automatic, but no rule asks at least anything of it")
    least = as_expr(maximum(*cast(Any, asked))) if len(asked) > 1 else asked[0]
    return Automatic(name, limits.default, least, limits.step, limits.high, limits.whole)


def followed_through(rule: Rule, found: Iterable[Automatic]) -> Rule:
    """The rule with the fields that its limit depends on through automatic values."""
    names = free(rule.limit)
    for one in reversed([*found]):  # each depends on those before it
        if one.param in names:
            names |= free(one.least)
    return replace(rule, through=names - free(rule.limit))


def resolved(family: Definition, values: Mapping[str, Any]) -> dict[str, Any]:
    """``values`` with what each 0 of an automatic field stands for, kept to the micrometre."""
    import numpy as np

    found = dict(values)
    for one in family.automatic:
        given = found[one.param]
        if not hasattr(given, "shape"):
            if given == 0:
                with np.errstate(all="ignore"):
                    value = round(float(one.alone(found)), 6)
                found[one.param] = int(value) if one.whole else value
        elif (given == 0).any():
            found[one.param] = np.where(given == 0, np.round(one.value(found), 6), given)
    return found


def given_values(hinge: Hinge) -> dict[str, Any]:
    """The values of a hinge as they were given: 0 for those that are automatic."""
    from scadgen.hinge.family import bounds

    return {
        name: 0 if name in hinge.left_open else getattr(hinge, name) for name in bounds(type(hinge))
    }


def altered(hinge: H, **changes: Any) -> H:
    """The hinge with other values; what is automatic stays so. Raises HingeError as it does."""
    return type(hinge)(**(given_values(hinge) | changes))
