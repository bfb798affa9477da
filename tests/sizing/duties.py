"""The forty duties, and what comes first: ``python -m tests.sizing.duties`` prints both."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scadgen.proof.fleet.population import POPULATIONS
from scadgen.sizing.choose import Ranking, choose
from scadgen.sizing.postures import Posture
from scadgen.sizing.wanted import Aim, Envelope, Prefers, Wanted
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material

#: Proportions of each family that are tried, and the parts of the table.
COUNT, PARTS = 2000, ("duty", "later")
TABLE = Path(__file__).with_name("duties.toml")


@dataclass(frozen=True, kw_only=True)
class Row:
    """A duty, the forms that may come first, those that may not, and why.

    disputed: why the table may be wrong where it does not agree.
    """

    why: str
    plastic: str
    first: list[str]
    never: list[str]
    posture: Posture = "lying"
    angle: float = 90
    load: float = 0
    lever: float = 20
    pull: float = 0
    cycles: float = 1000
    room: tuple[float, float, float] = (float("inf"),) * 3
    one_piece: bool = False
    must_not_come_off: bool = False
    aim: Aim | None = None
    fleet: str = "rough"
    disputed: str = ""

    @property
    def wanted(self) -> Wanted:
        """What is wanted, less the posture."""
        duty = Duty(load=self.load, lever=self.lever, pull=self.pull, cycles=self.cycles)
        prefers = Prefers(self.one_piece, self.must_not_come_off, self.aim)
        given = {"swing": self.angle}
        return Wanted(duty, material(self.plastic), Envelope(*self.room), given, prefers)

    def ranked(self, count: int) -> Ranking:
        """The ranking of so many candidates."""
        return choose(self.wanted, self.posture, POPULATIONS[self.fleet], count, turned=False)

    def agrees(self, family: str | None) -> bool:
        """Whether a maker would put the family first."""
        return family in self.first and family not in self.never


def rows(part: str) -> list[Row]:
    """A part of the table; ``later`` is what was added when the points were done."""
    document: dict[str, list[dict[str, Any]]] = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return [Row(**({"never": []} | row)) for row in document[part]]


@functools.cache
def ranked(part: str) -> list[tuple[Row, Ranking]]:
    """Every row with what is found for it."""
    return [(row, row.ranked(COUNT)) for row in rows(part)]


def main() -> None:
    """Print what comes first beside what a maker takes."""
    for part in PARTS:
        agreed = 0
        for row, ranking in ranked(part):
            scores = [f"{choice.family} {choice.score:.0f}" for choice in ranking.choices]
            agrees = row.agrees(favourite(ranking))
            agreed += agrees
            print(f"{'  ' if agrees else 'NO'} {row.why}\n     {', '.join(scores)}; {row.first}")
        print(f"{agreed} of {len(rows(part))} agree")


def favourite(ranking: Ranking) -> str | None:
    """The family that comes first."""
    return ranking.favourite.family if ranking.favourite else None


if __name__ == "__main__":
    main()
