"""What is chosen for twenty duties, and why (common practice, no source)."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest

from scadgen.hinge.family import all_families
from scadgen.proof.fleet.population import ROUGH
from scadgen.sizing.choose import PRINTERS, WEIGHTS, Posture, Ranking, choose
from scadgen.sizing.size import Envelope, Wanted
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material

SUPPORTED = ("waisted_spindle", "nested_cones")  # held at both ends of the axis


@dataclass(frozen=True)
class Case:
    """A duty, what must win (one of ``best``), what must be refused and with which words."""

    why: str
    posture: Posture
    plastic: str
    best: tuple[str, ...]
    swing: float = 90
    refused: dict[str, str] = field(default_factory=dict)
    served: tuple[str, ...] = ()
    turned: str | None = None
    room: tuple[float, float, float] = (float("inf"),) * 3
    duty: dict[str, float] = field(default_factory=dict)


ONCE = {"cycles": 1.0, "load": 0.0, "lever": 0.0, "pull": 0.0}
OFTEN = {"cycles": 20_000.0}
WRONG = "it prints standing"
CASES = (
    Case(
        "a brittle plastic breaks in a tight fold; the lattice spreads it over many strips",
        "lying",
        "pla",
        ("side_cones",),
        refused={"sheet_flexure": "PLA bears"},
        served=("slit_lattice",),
    ),
    Case("upright and thousands of turns: held at both ends", "standing", "petg", SUPPORTED),
    Case("the same in PLA", "standing", "pla", SUPPORTED, duty=OFTEN),
    Case("the same in nylon", "standing", "pa12", SUPPORTED, duty=OFTEN),
    Case(
        "parts that are joined once are broken apart",
        "lying",
        "petg",
        ("break_away_link",),
        duty=ONCE,
    ),
    Case("the same in PLA", "lying", "pla", ("break_away_link",), duty=ONCE),
    Case(
        "what is made to break bears no load",
        "lying",
        "abs",
        ("side_cones", "slit_lattice"),
        refused={"break_away_link": "break_away_link tells no strength for a load: 5 N are asked"},
    ),
    Case("cones on their side are ranked best with the lattice", "lying", "petg", ("side_cones",)),
    Case("for tens of thousands of turns as well", "lying", "petg", ("side_cones",), duty=OFTEN),
    Case("in ASA too", "lying", "asa", ("side_cones", "slit_lattice")),
    Case(
        "no lying form serves a part that holds its axis upright",
        "standing",
        "petg",
        SUPPORTED,
        refused={"side_cones": "it prints lying", "slit_lattice": "it prints flat"},
    ),
    Case(
        "no standing form serves a part that lies",
        "lying",
        "petg",
        ("side_cones",),
        refused=dict.fromkeys(("captive_cone", "waisted_spindle", "nested_cones"), WRONG),
    ),
    Case(
        "turning the part opens the better forms",
        "standing",
        "petg",
        SUPPORTED,
        turned="side_cones",
    ),
    Case(
        "a low part has no room for a tall spindle: the captive cone is short",
        "standing",
        "petg",
        ("captive_cone",),
        room=(80, 80, 17),
        refused={"waisted_spindle": "it needs", "nested_cones": "it needs"},
        duty={"load": 3.0},
    ),
    Case(
        "upright facing cones sag onto each other: not for printers that nobody knows",
        "standing",
        "abs",
        SUPPORTED,
        refused={"facing_cones": "% of the printers called rough"},
    ),
    Case(
        "a ductile plastic lives in a sheet",
        "lying",
        "tpu_95a",
        ("side_cones", "sheet_flexure", "slit_lattice"),
        served=("sheet_flexure",),
    ),
    Case(
        "thin leaves take up most room: too little for anything",
        "lying",
        "petg",
        (),
        room=(10, 20, 2),
        refused=dict.fromkeys(("side_cones", "rod_loops", "slit_lattice"), "it needs"),
    ),
    Case(
        "a hard pull at a long lever is too much for a lattice's bridges or strips, not for a rod",
        "lying",
        "petg",
        ("side_cones", "rod_loops"),
        duty={"load": 60.0, "lever": 60.0},
        served=("rod_loops",),
    ),
    Case("a wide turn, upright", "standing", "petg", SUPPORTED, swing=130),
    Case(
        "polypropylene folds as a sheet hundreds of times",
        "lying",
        "pp",
        ("side_cones", "sheet_flexure", "slit_lattice"),
        duty={"cycles": 100.0},
        served=("sheet_flexure",),
    ),
)


def ranked(case: Case) -> Ranking:
    duty = Duty(**{"load": 5.0, "lever": 30.0, **case.duty})
    fixed: dict[str, Any] = {} if duty.cycles <= 1 else {"swing": case.swing}
    wanted = Wanted(duty, material(case.plastic), Envelope(*case.room), fixed)
    return choose(wanted, case.posture, ROUGH, 8000)


@pytest.mark.parametrize("case", CASES, ids=[f"{k}: {case.why}" for k, case in enumerate(CASES)])
def test_the_choice_is_that_of_practice(case: Case) -> None:
    ranking = ranked(case)
    favourite = ranking.favourite.family if ranking.favourite else None
    assert favourite in (case.best or (None,))
    reasons = {refused.family: str(refused) for refused in ranking.refused}
    for family, words in case.refused.items():
        assert words in reasons[family]
    assert set(case.served) <= {choice.family for choice in ranking.choices}
    if case.turned:
        assert ranking.better_turned is not None
        assert ranking.better_turned.family == case.turned


def test_there_are_twenty_duties() -> None:
    assert len(CASES) == 20


def test_every_family_is_ranked_or_refused_with_a_reason() -> None:
    ranking = ranked(CASES[1])
    told = [c.family for c in ranking.choices] + [r.family for r in ranking.refused]
    assert sorted(told) == sorted(all_families())
    assert all(len(str(refused)) > 20 for refused in ranking.refused)


def test_points_add_up_and_none_is_beyond_its_weight() -> None:
    choices = ranked(CASES[1]).choices
    assert PRINTERS > 1000
    assert [c.score for c in choices] == sorted((c.score for c in choices), reverse=True)
    for choice in choices:
        assert choice.score == pytest.approx(sum(choice.points.values()))
        assert choice.points.keys() == WEIGHTS.keys()
        assert all(0 <= choice.points[what] <= weight for what, weight in WEIGHTS.items())
        assert choice.points["printers"] == pytest.approx(WEIGHTS["printers"] * choice.share)
