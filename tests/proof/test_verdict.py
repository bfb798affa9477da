"""One meaning of "proven", in Python and by every command."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from manifold3d import Manifold

from scadgen import SideCones, check
from scadgen.cli.main import main
from scadgen.findings.finding import NO_DUTY, NO_FLEET, NO_GAPS, NO_PLASTIC, Finding, Verdict
from scadgen.findings.page import page, summary
from scadgen.gallery.cards import Card
from scadgen.gallery.page import shown
from scadgen.hinge import family
from scadgen.hinge.family import definition
from scadgen.inspection import Asked, inspect
from scadgen.jobs.job import load_job
from scadgen.meshfiles.writing import stl
from scadgen.proof.fleet.population import CAREFUL
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.gallery.pages import made_up

GOOD = Finding("swing", True, "free.")
#: Few facets keep a proof quick.
FEW = 16
#: Close enough that about a fifth of the rough fleet makes it work.
TIGHT = SideCones(clearance=0.15, layer=0.2, facets=FEW)


@pytest.fixture
def tight(tmp_path: Path) -> Path:
    path = tmp_path / "tight.toml"
    path.write_text(
        'family = "side_cones"\nclearance = 0.15\nprinters.layer_heights = [0.1, 0.2]\n'
        f"size.facets = {FEW}\n"
    )
    return path


def test_python_and_the_command_agree(tight: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job, here = load_job(tight), check(TIGHT)
    assert job.hinge == TIGHT
    assert here == job.prove()
    assert [finding.name for finding in here.findings if not finding.passed] == ["rough fleet"]
    assert not here.passed
    assert not here.proven
    assert main(["check", "--json", str(tight)]) == 1
    said = json.loads(capsys.readouterr().out)
    assert (said["passed"], said["proven"], said["unasked"]) == (False, False, [NO_DUTY])


def test_a_family_that_declares_nothing_to_spoil_is_not_proven(
    monkeypatch: pytest.MonkeyPatch, tight: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every printer would pass: then a share of 100 % says nothing."""
    bare = replace(definition(SideCones), gaps=(), grips=(), webs=())
    monkeypatch.setitem(family._definitions, "side_cones", bare)
    found = check(TIGHT)
    assert found.passed
    assert not found.proven
    assert NO_GAPS in found.unasked
    assert not [finding for finding in found.findings if "fleet" in finding.name]
    assert summary(found).startswith(f"side_cones: passed, not proven: {NO_GAPS}; ")
    assert main(["check", "--quiet", str(tight)]) == 1
    assert main(["fleet", str(tight)]) == 2
    assert NO_GAPS in capsys.readouterr().err


def test_without_a_fleet_nothing_is_proven() -> None:
    found = check(TIGHT, population=None)
    assert found.passed
    assert not found.proven
    assert found.unasked == (NO_FLEET, NO_DUTY)
    told = found.to_dict()
    assert (told["passed"], told["proven"], told["unasked"]) == (True, False, [NO_FLEET, NO_DUTY])
    assert summary(found).startswith(f"side_cones: passed, not proven: {NO_FLEET}; {NO_DUTY}; all ")
    assert next(page(found)).mood == "near"


def test_what_was_asked_is_not_told_as_unasked() -> None:
    duty, plastic = Duty(load=1, pull=1, cycles=1), material("petg")
    hinge = SideCones(facets=FEW)
    asked = check(hinge, population=CAREFUL, duty=duty, plastic=plastic)
    assert asked.unasked == ()
    assert asked.proven
    assert summary(asked).endswith(" measures passed.")
    assert check(hinge, duty=duty).unasked == (NO_PLASTIC,)
    assert check(hinge).unasked == (NO_DUTY,)


@pytest.mark.parametrize(
    ("findings", "unasked", "proven", "words"),
    [
        ((GOOD,), (), True, "x: proven, all 1 measures passed."),
        ((GOOD,), (NO_DUTY,), True, f"x: proven, all 1 measures passed; {NO_DUTY}."),
        (
            (GOOD,),
            (NO_FLEET,),
            False,
            f"x: passed, not proven: {NO_FLEET}; all 1 measures passed.",
        ),
        (
            (GOOD, Finding("play", False, "loose.")),
            (NO_FLEET,),
            False,
            "x: NOT proven, 1 of 2 measures failed.",
        ),
    ],
)
def test_the_summary_says_no_more_than_was_shown(
    findings: tuple[Finding, ...], unasked: tuple[str, ...], proven: bool, words: str
) -> None:
    verdict = Verdict("x", findings, unasked=unasked)
    assert verdict.proven is proven
    assert summary(verdict) == words


def test_a_model_passes_but_is_never_proven(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "plate.stl"
    path.write_bytes(stl(Manifold.cube((30, 20, 3))))
    found = inspect(path, Asked(layers=(0.2,), loose=(1,))).verdict
    assert found.passed
    assert not found.proven
    assert main(["inspect", str(path), "--layers", "0.2", "--loose", "1"]) == 0
    assert f"plate.stl: passed, not proven: {NO_FLEET}" in capsys.readouterr().out


def test_a_sized_hinge_is_held_against_its_duty(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The verdict of `size` is that of the job that it writes."""
    asked: list[Verdict] = []

    def heard(*given: object, **more: object) -> Verdict:
        asked.append(check(*given, **more))
        return asked[-1]

    monkeypatch.setattr("scadgen.proof.verdict.check", heard)
    wish, job = tmp_path / "wish.toml", tmp_path / "job.toml"
    wish.write_text(
        'family = "side_cones"\nprinters.layer_heights = [0.2]\nduty.load = 3\n'
        f'size.facets = {FEW}\nprinters.material = "petg"\n'
    )
    assert main(["size", "--quiet", str(wish), "--out", str(job)]) == 0
    assert load_job(job).prove() == asked[-1]
    assert asked[0].unasked == ()
    assert asked[0] == asked[-1]


def test_a_card_keeps_what_was_not_asked_and_the_page_says_it() -> None:
    told = replace(made_up(), proof=Verdict("tea_latch", (GOOD,), unasked=(NO_FLEET,)))
    assert Card.from_json(told.to_json()) == told
    assert shown(told)["state"] == "not-proven"
    assert shown(told)["verdict"] == f"Passed, not proven: {NO_FLEET}."
    assert shown(made_up())["verdict"] == "Proven: all 1 measures passed."
