"""What a family answers of a duty is what its strengths depend on; the rest is refused alike."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path

import numpy as np
import pytest

from scadgen import check
from scadgen.cli.main import main
from scadgen.handover.facts import facts
from scadgen.hinge.family import Hinge, all_families
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.on_strength import strength
from scadgen.sizing.choose import choose
from scadgen.sizing.size import Refused, Sized, Wanted, size
from scadgen.strength.asked import EVERY, answerable, asked, unanswered
from scadgen.strength.bearing import bears
from scadgen.strength.duty import QUANTITIES, Duty
from scadgen.strength.materials import material, materials
from tests.sheet.subjects import subject
from tests.support import each_family, few_candidates, some_hinges
from tests.test_developers import add as add
from tests.test_developers import example as example

PETG = material("petg")
#: A duty that asks all; each quantity is varied from here over its range.
ALL = Duty(load=7, lever=30, pull=11, cycles=50, hours=1, celsius=40, offset=20, pull_lever=25)


def values(name: str) -> list[float]:
    """Values over the range of a quantity, its ends among them."""
    low, high = QUANTITIES[name].low, QUANTITIES[name].high
    return [low, high, *np.geomspace(max(low, 1), high, 6).tolist()]


def told(hinge: Hinge, duty: Duty) -> list[tuple[str, float, float]]:
    """All that the family tells of its strength."""
    found = hinge.strengths(duty, PETG)
    return [(s.name, float(s.actual), float(s.permissible)) for s in found]


def moved_by(hinge: Hinge, name: str) -> bool:
    """Whether a quantity of the duty changes anything that is told."""
    duties = (dataclasses.replace(ALL, **{name: value}) for value in values(name))
    usual = told(hinge, ALL)
    return any(told(hinge, duty) != usual for duty in duties)


@each_family
@pytest.mark.parametrize("name", EVERY)
def test_a_family_answers_what_its_strengths_depend_on_and_nothing_else(
    cls: type[Hinge], name: str
) -> None:
    for hinge in some_hinges(cls, 5):
        assert moved_by(hinge, name) == (name in cls.answers), (name, hinge)


@each_family
def test_what_is_answered_has_a_name(cls: type[Hinge]) -> None:
    assert set(cls.answers) <= set(EVERY)


@each_family
@pytest.mark.parametrize("name", EVERY)
def test_what_is_not_answered_fails_by_name_value_and_unit(
    cls: type[Hinge], name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cls, "answers", tuple(q for q in cls.answers if q != name))
    (left,) = (one for one in unanswered(cls, ALL) if one.name == name)
    (finding,) = (f for f in strength(cls(), ALL, PETG) if f.name == name)
    assert not finding.passed
    value = f"{getattr(ALL, name):g} {left.unit} are asked; ask {left.idle:g} {left.unit}"
    assert finding.words.startswith(f"{cls.family} tells no strength for ")
    assert value in finding.words
    assert f"{finding.name}: {finding.words}" == str(left)
    assert not bears(cls(), ALL, PETG)
    refused = size(cls, Wanted(ALL, PETG), 50)
    assert isinstance(refused, Refused)
    short = f"{name} = {getattr(ALL, name):g} {left.unit}"  # where another quantity comes first
    assert str(left) in str(refused) or short in str(refused)


def test_nothing_that_asks_nothing_is_refused() -> None:
    assert asked(Duty(0, 500, 0, 1, offset=9, pull_lever=9)) == {}
    assert asked(Duty(0, 500, 3, 1, offset=9)) == {"pull": 3}
    assert asked(Duty(2, 0, 0, 1, pull_lever=9)) == {"load": 2}
    assert set(asked(ALL)) == set(EVERY)


@each_family
def test_the_usual_duty_is_one_that_the_family_answers(cls: type[Hinge]) -> None:
    assert not list(unanswered(cls, cls.usual_duty()))
    wanted = Wanted(cls.usual_duty(), PETG)
    assert isinstance(size(cls, wanted, 4000), Sized)


def test_a_lever_without_a_load_is_no_usual_duty() -> None:
    assert answerable(Duty(), ("lever", "pull", "cycles")) == Duty(load=0, lever=0)
    assert answerable(Duty(), ()) == Duty(0, 0, 0, 1)
    assert answerable(Duty(), EVERY) == Duty()


def test_a_link_that_breaks_away_bears_no_load_however_it_is_asked() -> None:
    """2000 N on webs that a push snaps: it was once called proven, and the favourite."""
    cls = all_families()["break_away_link"]
    duty = Duty(load=2000, lever=0, pull=0, cycles=1)
    words = (
        "load: break_away_link tells no strength for a load: 2000 N are asked; ask 0 N, or take "
        "another family."
    )
    verdict = check(cls(facets=16), duty=duty, plastic=PETG)
    assert [f"{f.name}: {f.words}" for f in verdict.findings if not f.passed] == [words]
    assert str(size(cls, Wanted(duty, PETG), 50)) == words
    wanted = Wanted(dataclasses.replace(duty, load=500), PETG)
    reasons = {r.family: str(r) for r in choose(wanted, "lying", ROUGH, 300).refused}
    assert reasons["break_away_link"] == words.replace("2000", "500")
    sheet = facts(*subject(cls(facets=16), duty=duty))
    assert not sheet.bears
    assert sheet.weakest.startswith(words)
    assert "none of those known" in {row.words for row in sheet.load}


def test_a_lattice_minds_its_lever() -> None:
    """1 N at 1000 mm is some fifteen times what holds it bent; at 20 mm the bend holds it."""
    cls = all_families()["slit_lattice"]
    name = "load held by the bend, with no stop"

    def factor(duty: Duty, hinge: Hinge) -> float:
        return float(next(s.factor for s in hinge.strengths(duty, PETG) if s.name == name))

    near, far = Duty(1, 20, 0, 1), Duty(1, 1000, 0, 1)
    assert factor(near, cls()) > 1 > 10 * factor(far, cls())
    torque = cls().efforts(PETG)["torque at the full bend (N mm)"]
    most = torque / PETG.modulus.high * PETG.modulus.low  # of the soft end
    assert most / 1040 < factor(far, cls()) < most / 1000
    sizes = [size(cls, Wanted(duty, PETG), 4000) for duty in (Duty(1, 0, 0, 1), near)]
    light, heavy = (one.hinge.bulk() if isinstance(one, Sized) else np.inf for one in sizes)
    assert light < heavy


#: A thousand times and more of what any hinge here bears, in each direction and at each place.
TOO_MUCH = {
    "load": Duty(2000, 0, 0, 1),
    "load at a lever": Duty(2000, 1000, 0, 1),
    "load beside the middle": Duty(2000, 0, 0, 1, offset=1000),
    "pull": Duty(0, 0, 2000, 1),
    "pull at a lever": Duty(0, 0, 2000, 1, pull_lever=1000),
}


@each_family
@pytest.mark.parametrize("where", TOO_MUCH)
def test_no_family_bears_whatever_is_asked(cls: type[Hinge], where: str) -> None:
    for plastic in map(material, materials()):
        for hinge in (cls(), *some_hinges(cls, 5)):
            assert not bears(hinge, TOO_MUCH[where], plastic)
    assert not all(finding.passed for finding in strength(cls(), TOO_MUCH[where], PETG))


PRINTED = '[printers]\nmaterial = "petg"\n'


def job(folder: Path, family: str, duty: str, printers: str = PRINTED) -> str:
    path = folder / "job.toml"
    text = f'family = "{family}"\n[size]\nfacets = 16\n{printers}{duty}'
    path.write_text(text, encoding="utf-8")
    return str(path)


LOADED = "[duty]\nload = 2000\nlever = 0\npull = 0\ncycles = 1\n"
SENTENCE = "break_away_link tells no strength for a load: 2000 N are asked; ask 0 N"


@pytest.mark.parametrize(
    "command",
    [
        ["check", "--json"],
        ["check"],
        ["write", "--out", "OUT"],
        ["size"],
        ["size", "--json"],
        ["fleet", "--count", "1000"],
        ["fleet", "--json", "--count", "1000"],
    ],
    ids=" ".join,
)
def test_every_command_tells_it_alike(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = job(tmp_path, "break_away_link", LOADED), tmp_path / "out"
    name, *options = (str(out) if word == "OUT" else word for word in command)
    assert main([name, path, *options]) == 1
    seen = capsys.readouterr()
    assert SENTENCE in seen.out + seen.err
    assert not out.exists()


def test_choose_tells_it_as_data(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    few_candidates(monkeypatch)  # and of what would change the order nothing is asked here
    monkeypatch.setattr("scadgen.sizing.changes.changes", lambda *_, **__: [])
    path = tmp_path / "wish.toml"
    path.write_text(PRINTED + LOADED.replace("2000", "500"), encoding="utf-8")
    main(["choose", str(path), "--json"])
    data = json.loads(capsys.readouterr().out)
    reasons = {one["family"]: one["why"] for one in data["refused"]}
    assert SENTENCE.replace("2000", "500") in reasons["break_away_link"]
    assert data["favourite"] != "break_away_link"


def test_a_job_that_names_no_duty_is_asked_what_the_family_answers(tmp_path: Path) -> None:
    """A plastic alone asks for the usual duty: that of the family."""
    assert main(["check", job(tmp_path, "break_away_link", "")]) == 0
    web = "web = 0.6\n"  # the smallest that bears it is too thin for many printers
    assert main(["size", job(tmp_path, "break_away_link", "", web + PRINTED)]) == 0


def test_a_family_without_strengths_answers_nothing_and_breaks_nothing(
    example: type[Hinge], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """That of the guide: each quantity that is asked fails, one by one."""
    verdict = check(example(), duty=ALL, plastic=PETG)
    assert [f.name for f in verdict.findings if not f.passed] == list(EVERY)
    assert check(example(), duty=example.usual_duty(), plastic=PETG).passed
    refused = size(example, Wanted(Duty(), PETG), 50)
    assert isinstance(refused, Refused)
    assert str(refused) == (
        "load: grooved_strip tells no strength for a load: 3 N are asked; ask 0 N, or take another "
        "family. The same holds for lever = 20 mm, pull = 5 N, cycles = 1000 turns."
    )
    assert isinstance(size(example, Wanted(example.usual_duty(), PETG), 50), Sized)
    sheet = facts(*subject(example()))
    assert len(sheet.left) == len(asked(Duty()))
    path = job(tmp_path, "grooved_strip", "[duty]\nload = 3\n")
    for command in ("check", "size", "fleet"):
        assert main([command, path, "--json"]) == 1
        assert "grooved_strip tells no strength for a load: 3 N" in capsys.readouterr().out
    ranking = choose(Wanted(Duty(), PETG), "lying", ROUGH, 300)
    assert "grooved_strip" in {one.family for one in ranking.refused}


def test_a_duty_needs_a_plastic() -> None:
    cls = all_families()["rod_loops"]
    (finding,) = (f for f in strength(cls(), Duty(), None) if not f.passed)
    assert finding.name == "plastic"
