"""Holding given values against a family's bounds and rules, and finding the nearest that work."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from scadgen.hinge.automatic import resolved
from scadgen.hinge.ends import words
from scadgen.hinge.family import Bounds, Definition, Hinge, definition
from scadgen.hinge.free import free
from scadgen.hinge.rules import HingeError, Rule
from scadgen.tables.limits import is_finite
from scadgen.trees.to_numpy import Numbers

Values = dict[str, float]

#: Steps in which values are drawn towards the defaults.
BLENDS = 16


def validated(cls: type[Hinge], given: Mapping[str, Any]) -> Values:
    """``given`` as clean numbers, kept to the micrometre.

    Raises HingeError for the first value outside its field's bounds or against a rule, with
    the nearest set of changes that makes a sound hinge.
    """
    family = definition(cls)
    for name, limits in family.checked.items():
        if not limits.accepts(given[name]):
            raise _refusal(cls, name, given, given[name], limits.words)
    clean = {name: _clean(limits, given[name]) for name, limits in family.bounds.items()}
    values = resolved(family, clean)
    broken = _first_broken(family, values)
    if broken:
        rule = words(family, broken, Numbers(values))
        raise _refusal(cls, broken.param, clean, values[broken.param], rule)
    return values


def nearest_sound(family: Definition, given: Mapping[str, Any]) -> Values:
    """The changes to ``given`` that make every bound and rule hold, as few and small as found.

    Each broken rule moves its own parameter to its limit. Where that runs into a bound, all
    values are drawn towards the defaults, which are sound, until the rules hold.
    """
    start = {
        name: _clean(
            limits, limits.nearest(given[name]) if is_finite(given[name]) else limits.default
        )
        for name, limits in family.bounds.items()
    }
    sound = _by_limits(family, start) or _by_blending(family, start)
    return {
        name: value
        for name, value in sound.items()
        if not family.bounds[name].accepts(given[name])
        or value != _clean(family.bounds[name], given[name])
    }


def _by_limits(family: Definition, start: Values) -> Values | None:
    values = dict(start)
    for _ in range(4 * len(family.rules)):
        broken = _first_broken(family, values)
        if broken is None:
            return values
        limits = family.bounds[broken.param]
        with np.errstate(all="ignore"):
            limit = float(family.nearest[broken](resolved(family, values)))
        moved = _clean(limits, limits.nearest(limit)) if math.isfinite(limit) else limits.default
        if moved == values[broken.param]:
            return None
        values[broken.param] = moved
    return None


def _by_blending(family: Definition, start: Values) -> Values:
    end = {
        name: limits.initial if start[name] == 0 else limits.default
        for name, limits in family.bounds.items()
    }
    way = {name: value - start[name] for name, value in end.items()}
    for blend in range(1, BLENDS + 1):
        values = {
            name: _clean(limits, limits.on_step(start[name] + way[name] * blend / BLENDS))
            for name, limits in family.bounds.items()
        }
        if _first_broken(family, values) is None:
            return values
    return end


def _first_broken(family: Definition, values: Values) -> Rule | None:
    with np.errstate(all="ignore"):
        place = family.first_broken(resolved(family, values))
    return None if place is None else family.rules[place]


def _refusal(
    cls: type[Hinge], name: str, given: Mapping[str, Any], value: object, rule: str
) -> HingeError:
    family = definition(cls)
    return HingeError(
        family=cls.family,
        param=name,
        value=value,
        unit=family.bounds[name].suffix,
        rule=rule,
        works=nearest_sound(family, given),
        free=free(cls, given, name),
    )


def _clean(limits: Bounds, value: float) -> float:
    return int(value) if limits.whole else round(float(value), 6)
