"""What time and warmth leave of a plastic: published points, weak ends, and what nobody knows."""

from __future__ import annotations

import dataclasses
import itertools
import re
from pathlib import Path

import pytest

from scadgen.cli.main import main
from scadgen.findings.finding import Finding
from scadgen.handover.facts import facts
from scadgen.hinge.family import Hinge, all_families
from scadgen.proof.on_strength import strength
from scadgen.sizing.size import Refused, Wanted, size
from scadgen.strength.bearing import bears
from scadgen.strength.duty import ROOM, Duty, DutyError
from scadgen.strength.lasting import (
    BELOW_SOFTENING,
    modulus_left,
    strength_left,
    untold,
    warmest,
)
from scadgen.strength.material_files import MARKS
from scadgen.strength.materials import Plastic, load_material, material, materials
from scadgen.tables.documents import JobError
from tests.sheet.subjects import subject
from tests.strength.comparisons.lasting import SHEET, pipe
from tests.strength.test_materials import OWN
from tests.support import each_family

LIGHT = Duty(load=0.01, lever=1, pull=0.01, cycles=1, margin=1)
#: Plastics of which points are tabulated, and of which none are that say anything of strength.
KNOWN = [name for name in materials() if any(p.strength for p in material(name).lasting)]
UNKNOWN = [name for name in materials() if name not in KNOWN]


def lasting(hours: float, celsius: float) -> Duty:
    return dataclasses.replace(LIGHT, hours=hours, celsius=celsius)


def test_the_reference_line_is_the_standards_own() -> None:
    """PP-H is called PP-H 100: 10 MPa for 50 years at 20 deg C."""
    assert pipe(50 * 365.25 * 24, 20) == pytest.approx(10, rel=0.02)


@pytest.mark.parametrize("celsius", [23, 40])
@pytest.mark.parametrize("hours", [1, 1000, 10_000, 100_000])
def test_polypropylene_keeps_no_more_than_the_standard_for_its_pipes_says(
    hours: float, celsius: float
) -> None:
    assert strength_left(material("pp"), lasting(hours, celsius)) <= pipe(hours, celsius) / SHEET


def test_polyamide_keeps_no_more_of_its_stiffness_than_was_measured() -> None:
    """PA66, conditioned: 1400 MPa at first, 930 MPa after 1000 h (ISO 899-1, data sheet)."""
    assert modulus_left(material("pa6"), lasting(1000, 23)) <= 930 / 1400


@pytest.mark.parametrize("name", materials())
def test_every_point_has_its_mark_and_source(name: str) -> None:
    for point in material(name).lasting:
        assert point.mark in MARKS
        assert point.source or point.mark not in ("looked up", "assumed"), point
        assert point.strength or point.modulus


@pytest.mark.parametrize("name", materials())
def test_longer_and_warmer_never_leaves_more(name: str) -> None:
    plastic = material(name)
    hours, warmths = (0, 0.5, 1, 5, 720, 1000, 2000, 8760, 1e5), (23, 30, 35, 40, 50, 60, 90)
    for left in (strength_left, modulus_left):
        for celsius in warmths:
            row = [left(plastic, lasting(h, celsius)) for h in hours]
            assert all(more >= less for more, less in itertools.pairwise(row)), celsius
        for h in hours:
            column = [left(plastic, lasting(h, celsius)) for celsius in warmths]
            assert all(more >= less for more, less in itertools.pairwise(column)), h
    assert strength_left(plastic, Duty()) == modulus_left(plastic, Duty()) == 1


@pytest.mark.parametrize("name", KNOWN)
def test_between_points_the_weak_end_of_a_worse_one_is_taken(name: str) -> None:
    plastic = material(name)
    for point in plastic.lasting:
        if point.strength is None:
            continue
        here = strength_left(plastic, lasting(point.hours, point.celsius))
        assert here <= point.strength[0] or any(
            other.strength and other.strength[0] == here and other.beyond(point)
            for other in plastic.lasting
        )
    assert strength_left(plastic, lasting(2, 23)) <= strength_left(plastic, lasting(1, 23))
    month = strength_left(plastic, lasting(720, 23))
    assert month in [p.strength[0] for p in plastic.lasting if p.strength and p.hours >= 720]


@pytest.mark.parametrize("name", materials())
def test_what_a_refusal_names_as_known_is_known(name: str) -> None:
    plastic = material(name)
    for hours, celsius in itertools.product((0, 1, 720, 5000, 1e5), (23, 30, 40, 60, 100, 150)):
        duty = lasting(hours, celsius)
        found = list(untold(plastic, duty))
        assert len(found) <= 1
        assert bool(found) == (strength_left(plastic, duty) * modulus_left(plastic, duty) == 0) or (
            celsius > warmest(plastic)
        )
        for one in found:
            asked = dataclasses.replace(duty, **{one.name: one.idle})
            if "for a moment, or" in one.words:
                asked = dataclasses.replace(asked, hours=0)
            assert not list(untold(plastic, asked)), one
            assert str(one).endswith("or take another plastic.")
            assert plastic.name in str(one)


@pytest.mark.parametrize("name", materials())
def test_warmer_than_well_below_its_softening_is_refused(name: str) -> None:
    plastic = material(name)
    most = plastic.softening.low - BELOW_SOFTENING
    (one,) = untold(plastic, lasting(0, most + 1))
    assert one.name == "celsius"
    assert f"softens from {plastic.softening.low:g} deg C on" in one.words


@each_family
@pytest.mark.parametrize("name", ["pla", "pla_plus", "tpu_95a"])
def test_what_nobody_knows_is_never_passed(cls: type[Hinge], name: str) -> None:
    """By hours, or by warmth: the same sentence from the proof, from size and on the sheet."""
    plastic = material(name)
    for duty in (lasting(20_000, 23), lasting(0, 60)):
        asked = dataclasses.replace(duty, load=0, lever=0, pull=0) if not cls.answers else duty
        failed = [f for f in strength(cls(), asked, plastic) if not f.passed]
        assert {"hours", "celsius"} & {f.name for f in failed}
        assert not bears(cls(), asked, plastic)
        refused = size(cls, Wanted(asked, plastic), 50)
        assert isinstance(refused, Refused)
        sheet = facts(*subject(cls(), duty=asked, plastic=plastic))
        assert not sheet.bears
        assert not sheet.places
        for one in untold(plastic, asked):
            if one.name in cls.answers:
                assert str(one) in str(refused)
                assert str(one) in sheet.weakest
                assert one.words in {f.words for f in failed}


@each_family
def test_a_lasting_load_cuts_every_stress_and_all_that_stiffness_holds(cls: type[Hinge]) -> None:
    """Alike in every family: none needs to know of it."""
    plastic, short = material("abs"), Duty(cycles=1)
    long = dataclasses.replace(short, hours=720, celsius=40)
    before = {s.name: s for s in cls().strengths(short, plastic)}
    for place in cls().strengths(long, plastic):
        share = float(place.permissible) / float(before[place.name].permissible)
        if place.unit == "MPa":
            assert share == pytest.approx(strength_left(plastic, long)), place.name
        elif "held by the bend" in place.name:
            assert share == pytest.approx(modulus_left(plastic, long)), place.name
        assert place.factor <= before[place.name].factor


@pytest.mark.parametrize("name", UNKNOWN)
def test_a_plastic_without_points_bears_no_lasting_load(name: str) -> None:
    assert list(untold(material(name), lasting(1, ROOM)))
    assert not list(untold(material(name), LIGHT))


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"hours": -1}, "hours = -1 h; it must be 0 to 100000 h. This works: 0."),
        ({"hours": 1e6}, "hours = 1000000 h; it must be 0 to 100000 h. This works: 100000."),
        ({"celsius": 5}, "celsius = 5 deg C; it must be 23 to 150 deg C. This works: 23."),
        ({"celsius": float("nan")}, "it must be 23 to 150 deg C"),
    ],
)
def test_times_and_warmths_that_no_duty_has(given: dict[str, float], words: str) -> None:
    with pytest.raises(DutyError, match=re.escape(words)):
        Duty(**given)


def test_the_sheet_says_how_much_is_left() -> None:
    cls, duty = all_families()["side_cones"], lasting(720, 40)
    told = {row.label: row.words for row in facts(*subject(cls(), duty=duty)).load}
    assert told["Time and warmth"] == (
        "720 h at a stretch, up to 40 deg C: 18 % of the strength and 30 % of the modulus are left"
    )
    unknown = told["Too warm for, or not known of"].split("; ")
    assert {"PLA", "PLA+", "TPU 95A"} <= set(unknown)
    assert "ABS" not in unknown
    short = {row.label for row in facts(*subject(cls())).load}
    assert "Time and warmth" not in short


def test_a_bend_that_was_held_keeps_a_part_in_tpu() -> None:
    cls = all_families()["sheet_flexure"]
    told = facts(*subject(cls(), plastic=material("tpu_95a"))).cautions
    words = next(row.words for row in told if row.label == "Lasting load")
    assert "20 % (moulded, compressed for 22 h at 23 C)" in words
    kept = material("tpu_95a").permanent_set
    assert kept is not None
    assert all(entry.mark == "looked up" and entry.source for entry in kept.entries)


POINT = """
[[lasting]]
hours = 1
celsius = 23
strength = [0.5, 0.7]
modulus = 0.8
mark = "measured"

[[lasting]]
hours = 1000
celsius = 30
strength = 0.3
modulus = 0.5
mark = "measured"
"""


def own(folder: Path, points: str) -> Plastic:
    path = folder / "own.toml"
    path.write_text(OWN + points, encoding="utf-8")
    return load_material(path)


def test_a_makers_own_points_are_read(tmp_path: Path) -> None:
    plastic = own(tmp_path, POINT)
    assert strength_left(plastic, lasting(1, 23)) == 0.5
    assert strength_left(plastic, lasting(0, 25)) == 0.3
    assert modulus_left(plastic, lasting(2, 23)) == 0.5
    assert strength_left(plastic, lasting(1001, 23)) == 0


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("hours = 1\n", "", "lasting.hours: missing"),
        ("hours = 1\n", "hours = -2\n", "lasting.hours = -2 h; it must be 0 to 100000 h."),
        ("celsius = 30", "celsius = 900", "lasting.celsius = 900 deg C; it must be 23 to 150"),
        ("strength = 0.3", "strength = 30", "lasting.strength = 30; it must be 0.01 to 1."),
        ("strength = 0.3", "strength = 0.9", "0.9 is left after 1000 h at 30 deg C, and 0.7"),
        ("strength = 0.3\nmodulus = 0.5\n", "", "lasting.strength: missing; give it or"),
        ('mark = "measured"', 'mark = "sure"', "must be one of looked up, measured"),
        ("modulus = 0.8", "modules = 0.8", "did you mean lasting.modulus?"),
    ],
)
def test_a_mistake_in_a_point_is_named(tmp_path: Path, old: str, new: str, words: str) -> None:
    with pytest.raises(JobError) as caught:
        own(tmp_path, POINT.replace(old, new, 1))
    assert words in str(caught.value)


def test_nothing_acts_is_said_in_words() -> None:
    found: list[Finding] = []
    for cls in all_families().values():
        found += strength(cls(), Duty(0, 0, 0, 1), material("petg"))
    assert any("nothing acts here" in finding.words for finding in found)
    assert not any("inf" in finding.words.split() for finding in found)


def test_a_strain_that_is_too_little_says_what_margin_is_in_it() -> None:
    cls, pla = all_families()["sheet_flexure"], material("pla")
    refused = size(cls, Wanted(Duty(cycles=5000, margin=2), pla), 50)
    assert isinstance(refused, Refused)
    assert refused.why.startswith("PLA bears 0.45 % only, 0.225 % with the margin of 2 in it;")
    plain = size(cls, Wanted(Duty(cycles=5000, margin=1), pla), 50)
    assert isinstance(plain, Refused)
    assert plain.why.startswith("PLA bears 0.45 % only;")


@pytest.mark.parametrize("command", ["check", "write", "size", "choose", "fleet"])
def test_a_duty_without_a_plastic_asks_for_one(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "job.toml"
    path.write_text('family = "side_cones"\n[duty]\nload = 3\n', encoding="utf-8")
    more = ["--out", str(tmp_path / "out")] if command == "write" else []
    assert main([command, str(path), *more]) == 2
    said = capsys.readouterr().err
    assert "printers.material: missing; what it bears depends on its plastic" in said
    assert 'This works: printers.material = "petg".' in said
    assert not (tmp_path / "out").exists()
