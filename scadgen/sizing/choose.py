"""Which form serves: every family sized for the duty, ranked, refused with a reason.

Points add up to 100 and each part is told: what practice trusts for so many turns, what share of
the printers makes it work, how little plastic and time it takes, how far it bears more than asked.
The weights are a judgement (common practice, no source): change them in ``WEIGHTS``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from scadgen.hinge.family import Hinge, all_families
from scadgen.proof.fleet.population import Population
from scadgen.proof.fleet.shares import fleet
from scadgen.sizing.candidates import COUNT
from scadgen.sizing.size import Refused, Sized, Wanted, size

Posture = Literal["standing", "lying"]

#: How the part lies on the bed, and how the families that suit it stand on theirs.
POSTURES: Mapping[Posture, tuple[str, ...]] = {
    "standing": ("standing",),
    "lying": ("lying", "flat"),
}
WEIGHTS = {"practice": 40.0, "printers": 30.0, "plastic": 20.0, "margin": 10.0}
#: Printers drawn for a ranking: the share is known to half a percent.
PRINTERS = 20_000
#: Points by which the other posture must be better to be offered.
WORTH_TURNING = 5.0


@dataclass(frozen=True)
class Choice:
    """One family that serves: its hinge, and its points by what they are for."""

    family: str
    sized: Sized
    share: float
    volume: float
    points: Mapping[str, float]

    @property
    def score(self) -> float:
        """All points together, 0 to 100."""
        return sum(self.points.values())


@dataclass(frozen=True)
class Ranking:
    """What serves, best first; what does not, with the reason; and whether turning would help.

    better_turned: the favourite of the other posture, if it is worth turning the part.
    """

    posture: Posture
    choices: tuple[Choice, ...]
    refused: tuple[Refused, ...]
    better_turned: Choice | None

    @property
    def favourite(self) -> Choice | None:
        """The best that serves as the part lies."""
        return self.choices[0] if self.choices else None


def choose(
    wanted: Wanted,
    posture: Posture,
    population: Population,
    count: int = COUNT,
    unproven: Callable[[Hinge], str] | None = None,
) -> Ranking:
    """Rank every family for what is wanted; ``fixed`` applies where a family has the field.

    ``unproven`` says why a hinge is not proven, or nothing. With it no such hinge is the favourite,
    or offered for a turned part: it is refused with what it says, and the next best is tried.
    """
    sized = {name: size(cls, _for(cls, wanted), count) for name, cls in all_families().items()}
    shares = {n: _share(s, population) for n, s in sized.items() if isinstance(s, Sized)}
    sized |= {
        n: _too_few(n, share, population)
        for n, share in shares.items()
        if share * 100 < population.needed
    }
    choices = _ranked({n: s for n, s in sized.items() if isinstance(s, Sized)}, shares, wanted)
    ours, failed = _from_proven([c for c in choices if _suits(c.family, posture)], unproven)
    others = [c for c in choices if not _suits(c.family, posture)]
    refused = [*failed]
    refused += [s for s in sized.values() if isinstance(s, Refused) and _suits(s.family, posture)]
    refused += [_wrong_way(name, posture) for name in sized if not _suits(name, posture)]
    enough = (ours[0].score if ours else 0) + WORTH_TURNING
    turned, _ = _from_proven([c for c in others if c.score > enough], unproven)
    return Ranking(posture, tuple(ours), tuple(refused), next(iter(turned), None))


def _from_proven(
    choices: list[Choice], unproven: Callable[[Hinge], str] | None
) -> tuple[list[Choice], list[Refused]]:
    """The choices from the first that is proven on, and those before it, refused."""
    refused: list[Refused] = []
    for k, choice in enumerate(choices):
        why = unproven(choice.sized.hinge) if unproven else ""
        if not why:
            return choices[k:], refused
        refused.append(Refused(choice.family, why))
    return [], refused


def _for(cls: type[Hinge], wanted: Wanted) -> Wanted:
    fields = cls.__dataclass_fields__
    fixed = {name: value for name, value in wanted.fixed.items() if name in fields}
    return replace(wanted, fixed=fixed)


def _ranked(
    sized: Mapping[str, Sized], shares: Mapping[str, float], wanted: Wanted
) -> tuple[Choice, ...]:
    from scadgen.hinge.meshing import mesh

    volumes = {name: float(mesh(one.hinge, angle=0).volume()) for name, one in sized.items()}
    least = min(volumes.values(), default=1.0)
    found = []
    for name, one in sized.items():
        worth = {
            "practice": all_families()[name].practice(wanted.duty.cycles),
            "printers": shares[name],
            "plastic": least / volumes[name],
            "margin": _margin(one, wanted),
        }
        points = {what: WEIGHTS[what] * value for what, value in worth.items()}
        found.append(Choice(name, one, shares[name], volumes[name], points))
    return tuple(sorted(found, key=lambda choice: (-choice.score, choice.family)))


def _margin(sized: Sized, wanted: Wanted) -> float:
    """How far it bears more than is asked, 0 to 1; 0 where its family tells no strength."""
    asked = wanted.duty.margin
    return 1 - asked / max(sized.factor, asked) if sized.strengths else 0.0


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


def _suits(family: str, posture: Posture) -> bool:
    return all_families()[family].stance() in POSTURES[posture]


def _wrong_way(family: str, posture: Posture) -> Refused:
    cls = all_families()[family]
    wants = {"standing": "upright", "lying": "parallel to the bed"}[posture]
    return Refused(family, f"it prints {cls.posture}; the part has its axis {wants}.", "Turn it.")
