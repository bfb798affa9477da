"""A fleet's share as a finding of the proof."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.hinge.family import definition
from scadgen.mechanism.joint import DETENT, HEEL, STOP
from scadgen.printing.lines import finest_line
from scadgen.proof.fleet.best import best_clearance
from scadgen.proof.fleet.population import Population
from scadgen.proof.fleet.room_left import OFF_STOP, TOO_FINE
from scadgen.proof.fleet.shares import Fleet, Met, fleet

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.mechanism.joint import Joint

#: Printers for a finding: the share is then known within 0.2 %, faster than a proof is felt.
COUNT = 100_000
#: Printers on which other clearances are tried.
TRIED = 10_000
#: A share by no more than this above what is needed is marginal, percent.
MARGINAL = 2.0
#: What a printer must make of what is meant to meet, and what helps where too few do.
ENDS, FURTHER = f"end the turn within {OFF_STOP:g} deg", "leaves that start further out"
DOES = {DETENT: "felt, and none of its arms jam", STOP: ENDS, HEEL: ENDS}
HELPS = {DETENT: "a higher detent, or less clearance", STOP: FURTHER, HEEL: FURTHER}


def fleet_findings(
    hinge: Hinge, population: Population, joints: Iterable[Joint], count: int = COUNT
) -> Iterator[Finding]:
    """All that a fleet says of a hinge: that it works, and that what is meant to meet does.

    Nothing is proven of a joint whose bodies are meant to meet where its family declares nothing
    that printers could spoil.
    """
    found = fleet(hinge, population, count)
    yield _worked(hinge, population, found)
    for met in found.met:
        yield met_finding(met, found, population)
    answered = definition(type(hinge)).answered
    for of in dict.fromkeys(of for joint in joints for of in joint.meets):
        if of not in answered:
            words = "its family declares nothing of it that printers could spoil."
            name = f"{of} on the {population.name} fleet"
            yield Finding(name, True, words, leaves_open="was not asked")


def share_finding(
    name: str,
    share: float,
    population: Population,
    words: str,
    change: str = "",
    weak: Callable[[], str] = str,
) -> Finding:
    """A share (0 to 1) held against what a population needs.

    change: what more printers would manage, told in any case. weak: the same, asked for only where
    too few printers do, or hardly enough.
    """
    told = 100 * share
    needy = told < population.needed + MARGINAL
    return Finding(
        name,
        told >= population.needed,
        words,
        measured=told,
        needed=population.needed,
        unit="%",
        slack=MARGINAL,
        change=change or (weak() if needy else ""),
    )


def met_finding(met: Met, found: Fleet, population: Population) -> Finding:
    """Whether on enough of the printers a detent clicks, or a stop ends the turn."""
    why = next((cause for cause in found.causes if met.of in cause.words), None)
    failure = f"; commonest failure: {why.words} ({percent(why.share)})" if why else ""
    return share_finding(
        f"{met.of} on the {population.name} fleet",
        met.share.value,
        population,
        f"{met_words(met)}{failure}.",
        weak=lambda: HELPS[met.of],
    )


def met_words(met: Met) -> str:
    """That share in a sentence."""
    return f"{percent(met.share.value)} of the printers make the {met.of} {DOES[met.of]}"


def fleet_finding(hinge: Hinge, population: Population, count: int = COUNT) -> Finding:
    """Whether enough of the population's printers make a hinge that turns freely and holds."""
    return _worked(hinge, population, fleet(hinge, population, count))


def _worked(hinge: Hinge, population: Population, found: Fleet) -> Finding:
    return share_finding(
        f"{population.name} fleet",
        found.share_both.value,
        population,
        words(found),
        weak=lambda: change(hinge, population, found),
    )


def words(found: Fleet) -> str:
    """The shares in a sentence."""
    cause = found.commonest
    why = f"; commonest failure: {cause.words} ({percent(cause.share)})" if cause else ""
    shares = (found.share_free, found.share_hold, found.share_both)
    free, hold, both = (percent(share.value) for share in shares)
    return f"{free} of the printers make it move freely, {hold} make it hold, {both} both{why}."


def change(hinge: Hinge, population: Population, found: Fleet) -> str:
    """What more printers manage, in a sentence: a clearance, wider lines, or nothing."""
    if found.commonest is not None and found.commonest.words == TOO_FINE:
        width = finest_line(max(population.layer.heights))
        return f"lines of {width:.2g} mm or wider; what fails is {TOO_FINE}."
    curve = best_clearance(hinge, population, TRIED)
    now, best = getattr(hinge, curve.field), curve.best
    if best and best[0] != now and best[1] > found.share_both.value:
        return f"{curve.field} = {best[0]:g} mm works on {percent(best[1])} of the printers."
    if found.commonest is None:
        return ""
    return f"No other {curve.field} does better; what fails is {found.commonest.words}."


def percent(share: float) -> str:
    """A share in percent; 100 only where nothing is left out."""
    rounded = round(100 * share, 1)
    return f"{'>99.9' if rounded == 100 and share < 1 else f'{rounded:g}'} %"
