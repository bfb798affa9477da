"""Which form serves: every family sized for the duty, ranked, refused with a reason.

Points add up to 100; each part of them, with its reason in words, is one of
:mod:`scadgen.sizing.points`. The order is a judgement (common practice, no source).
"""

from __future__ import annotations

import dataclasses
import functools
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from scadgen.hinge.family import Hinge, all_families
from scadgen.proof.fleet.population import Population
from scadgen.proof.fleet.shares import fleet
from scadgen.sizing.candidates import COUNT
from scadgen.sizing.points import Costs, Judge, weights
from scadgen.sizing.postures import Posture, suits, wrong_way
from scadgen.sizing.size import Refused, Sized, size
from scadgen.sizing.wanted import Prefers, Wanted
from scadgen.strength.duty import QUANTITIES

#: What is ranked: forms that serve as a hinge.
HINGE = "hinge"
#: Printers drawn for a ranking: the share is known to half a percent.
PRINTERS = 20_000
#: Points by which the other posture must be better to be offered.
WORTH_TURNING = 5.0
#: Times the duty for which the strongest are sized, as many as the room lets.
STRONGER = (4.0, 2.0)
#: Hinges sized last that are kept, for the next ranking: what would change one asks for hundreds.
RECENT = 1_000


@dataclass(frozen=True)
class Choice:
    """One family that serves: its hinge, its points by what they are for, and the reasons."""

    family: str
    sized: Sized
    share: float
    volume: float
    points: Mapping[str, float]
    words: Mapping[str, str]

    @property
    def score(self) -> float:
        """All points together, 0 to 100."""
        return sum(self.points.values())


@dataclass(frozen=True)
class Ranking:
    """What serves, best first; what does not, with the reason; and whether turning would help.

    better_turned: the favourite of the other posture, if it is worth turning the part; its points
    are those that it has beside all forms of both. weights: the most points that each part may
    have. given: the family that was asked for, if one was.
    """

    posture: Posture
    choices: tuple[Choice, ...]
    refused: tuple[Refused, ...]
    better_turned: Choice | None
    weights: Mapping[str, float]
    given: str | None = None

    @property
    def favourite(self) -> Choice | None:
        """The family that was asked for, if it serves; else the best as the part lies."""
        if self.given is None:
            return self.choices[0] if self.choices else None
        return next((one for one in self.choices if one.family == self.given), None)


def choose(
    wanted: Wanted,
    posture: Posture,
    population: Population,
    count: int = COUNT,
    unproven: Callable[[Hinge], str] | None = None,
    given: str | None = None,
    turned: bool = True,
    quick: bool = False,
    tell: Callable[[str], None] | None = None,
) -> Ranking:
    """Rank every family for what is wanted; ``fixed`` applies where a family has the field.

    ``unproven`` says why a hinge is not proven, or nothing. With it no such hinge is the favourite,
    or offered for a turned part: it is refused with what it says, and the next best is tried. With
    a ``given`` family that one alone may be the favourite. ``turned``: look at the other posture
    as well. ``quick``: size with less care. ``tell`` is told which family it looks at.
    """
    hinges = [name for name, cls in all_families().items() if cls.serves == HINGE]
    names = [name for name in hinges if turned or suits(name, posture)]
    sized = {}
    for k, name in enumerate(names, 1):
        if tell:
            tell(f"sizing {name}, {k} of {len(names)}")
        sized[name] = preferred(all_families()[name], wanted, count, quick)
    shares = {n: _share(s, population) for n, s in sized.items() if isinstance(s, Sized)}
    few = {n: s for n, s in shares.items() if s * 100 < population.needed}
    sized |= {n: _too_few(n, share, population) for n, share in few.items()}
    serve = {n: s for n, s in sized.items() if isinstance(s, Sized)}
    judge = functools.partial(_ranked, shares=shares, wanted=wanted, population=population)
    ranked = judge({n: s for n, s in serve.items() if suits(n, posture)})
    ours, refused = _from_proven(ranked, unproven, given)
    refused += [s for s in sized.values() if isinstance(s, Refused) and suits(s.family, posture)]
    refused += [wrong_way(name, posture) for name in hinges if not suits(name, posture)]
    if given and given not in hinges:
        refused.append(_no_hinge(given))
    found = Ranking(posture, tuple(ours), tuple(refused), None, weights(wanted.prefers), given)
    every = judge(serve) if turned and given is None else ()
    asked = found.favourite.family if found.favourite else None
    enough = next((c.score for c in every if c.family == asked), 0) + WORTH_TURNING
    others = [c for c in every if not suits(c.family, posture) and c.score > enough]
    better, _ = _from_proven(others, unproven, None)
    return replace(found, better_turned=next(iter(better), None))


def _no_hinge(family: str) -> Refused:
    """The refusal of a family that turns nothing by itself."""
    serves = all_families()[family].serves
    why = f"it is a {serves}, which goes with a hinge and is none."
    return Refused(
        family, why, "Leave family out to choose a hinge; scadgen size finds its values."
    )


def _from_proven(
    choices: Iterable[Choice], unproven: Callable[[Hinge], str] | None, given: str | None
) -> tuple[list[Choice], list[Refused]]:
    """The choices less those before the first that is proven, which are refused.

    Where a family is given, it alone is proven, and refused if it is not.
    """
    kept, refused, proven = [], [], unproven is None
    for choice in choices:
        asked = choice.family == given if given else not proven
        why = unproven(choice.sized.hinge) if unproven and asked else ""
        proven = proven or not (why or given)
        if why:
            refused.append(Refused(choice.family, why))
        else:
            kept.append(choice)
    return kept, refused


def preferred(
    cls: type[Hinge],
    wanted: Wanted,
    count: int = COUNT,
    quick: bool = False,
) -> Sized | Refused:
    """The family's hinge for what is wanted and preferred, as :func:`choose` ranks it.

    Fields in ``fixed`` that the family has not are left out. ``quick`` as there.
    """
    prefers = wanted.prefers
    refused = _not_preferred(cls, prefers)
    if refused:
        return refused
    strong = prefers.aim == "strongest"
    fields = cls.__dataclass_fields__
    fixed = {name: value for name, value in wanted.fixed.items() if name in fields}
    plain = replace(wanted, fixed=fixed, prefers=Prefers(aim="strongest" if strong else None))
    return _sized(_Asked(cls, repr(plain), count, quick, plain))


def _not_preferred(cls: type[Hinge], prefers: Prefers) -> Refused | None:
    if prefers.one_piece and not cls.one_piece:
        return Refused(cls.family, "it prints as two links; one flat piece is wanted.")
    if prefers.must_not_come_off and cls.joins_once:
        return Refused(cls.family, f"it must not come off; {cls.comes_off}.")
    return None


@dataclass(frozen=True)
class _Asked:
    """What is sized; ``words`` tells all that is ``wanted``."""

    cls: type[Hinge]
    words: str
    count: int
    quick: bool
    wanted: Wanted = field(compare=False)


@functools.lru_cache(maxsize=RECENT)
def _sized(asked: _Asked) -> Sized | Refused:
    """The family's hinge for what is wanted; a stronger one where that is the aim."""
    cls, wanted, how = asked.cls, asked.wanted, (asked.count, asked.quick)
    for times in STRONGER if wanted.prefers.aim == "strongest" else ():
        margin = min(times * wanted.duty.margin, QUANTITIES["margin"].high)
        found = size(cls, replace(wanted, duty=replace(wanted.duty, margin=margin)), *how)
        if isinstance(found, Sized):
            return found
    return size(cls, wanted, *how)


def _ranked(
    sized: Mapping[str, Sized],
    shares: Mapping[str, float],
    wanted: Wanted,
    population: Population,
) -> tuple[Choice, ...]:
    if not sized:
        return ()
    costs = {name: Costs.of(one.hinge) for name, one in sized.items()}
    every = [dataclasses.astuple(one) for one in costs.values()]
    least = Costs(*map(min, zip(*every, strict=True)))
    weight, found = weights(wanted.prefers), []
    for name, one in sized.items():
        parts = Judge(one, costs[name], least, shares[name], wanted, population).parts()
        points = {part: weight[part] * judged.worth for part, judged in parts.items()}
        words = {part: judged.words for part, judged in parts.items()}
        found.append(Choice(name, one, shares[name], costs[name].plastic, points, words))
    return tuple(sorted(found, key=lambda choice: (-choice.score, choice.family)))


def _share(sized: Sized, population: Population) -> float:
    return fleet(sized.hinge, population, PRINTERS).share_both.value


def _too_few(family: str, share: float, population: Population) -> Refused:
    cls = all_families()[family]
    hangs = f": {cls.hangs}" if cls.hangs else ""
    why = (
        f"it works from {100 * share:.1f} % of the printers called {population.name}, "
        f"{population.needed:g} % are asked{hangs}."
    )
    return Refused(family, why, "Turn the part." if cls.hangs else "It would take more clearance.")
