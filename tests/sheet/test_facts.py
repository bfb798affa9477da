"""What a sheet says, against the data that it stands on."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable

import pytest

from scadgen import RodLoops, SheetFlexure, WaistedSpindle
from scadgen.handover.facts import PRINTERS, facts
from scadgen.handover.load import NO_DUTY
from scadgen.handover.rows import Row
from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.proof.fleet.population import CAREFUL, ROUGH
from scadgen.proof.fleet.shares import fleet
from scadgen.strength.bearing import bears
from scadgen.strength.duty import Duty
from scadgen.strength.life import band, strength_share
from scadgen.strength.materials import material, materials
from tests.sheet.subjects import COARSE, FINE, TITLE, subject
from tests.support import each_family


def words(rows: Iterable[Row], label: str) -> str:
    """What the row of that label says."""
    found = [row.words for row in rows if row.label == label]
    assert len(found) == 1, label
    return found[0]


@each_family
def test_every_family_has_a_sheet_that_says_how_it_prints(cls: type[Hinge]) -> None:
    hinge = cls()
    told = facts(*subject(hinge))
    assert told.heading == TITLE
    assert hinge.posture in words(told.printing, "On the bed")
    assert "No supports" in words(told.printing, "On the bed")
    assert hinge.hangs in words(told.printing, "On the bed")
    assert words(told.printing, "Line width") == f"{hinge.line_width:g} mm"
    box = mesh(hinge, angle=0).bounding_box()
    sides = words(told.printing, "Size as it prints").removesuffix(" mm").split(" x ")
    for side, low, high in zip(sides, box[:3], box[3:], strict=True):
        assert float(side) == pytest.approx(high - low, abs=0.051)
    assert [row.label for row in told.cautions][:4] == [
        "Pinching",
        "Small parts",
        "Heat",
        "Lasting load",
    ]


@each_family
def test_every_place_that_gives_way_is_told_weakest_first(cls: type[Hinge]) -> None:
    hinge = cls()
    plastic = ROUGH.printed(material("petg"), hinge.line_width)
    duty = Duty(margin=2, offset=30, pull_lever=30)  # beyond what any leaf leans on
    strengths = {s.name: s for s in hinge.strengths(duty, plastic)}
    told = facts(*subject(hinge, duty=duty)).places
    assert {place.name for place in told} == set(strengths)
    shares = []
    for place in told:
        strength = strengths[place.name]
        if strength.caution:
            assert (place.asked, place.verdict) == ("-", "see")
            continue
        ratio = float(strength.permissible) / float(strength.actual)
        assert float(place.factor) == pytest.approx(ratio, rel=0.006)
        assert float(place.actual.split()[0]) == pytest.approx(float(strength.actual), rel=0.006)
        asked = 1 if strength.limit else duty.margin
        assert float(place.asked) == asked
        assert place.good is (ratio >= asked)
        assert (place.verdict in ("enough", "kept")) is place.good
        shares.append(ratio / asked)
    assert shares == sorted(shares)


@each_family
def test_plastics_that_bear_the_duty_and_those_that_do_not(cls: type[Hinge]) -> None:
    hinge, duty = cls(), Duty(cycles=1, load=1)
    told = facts(*subject(hinge, duty=duty)).load
    known = [ROUGH.printed(material(name), hinge.line_width) for name in materials()]
    others = [plastic for plastic in known if plastic.name != "PETG"]
    good = [plastic.name for plastic in others if bears(hinge, duty, plastic)]
    bad = [plastic.name for plastic in others if plastic.name not in good]
    assert words(told, "Others that bear it") == ("; ".join(good) or "none of those known")
    assert words(told, "Do not use") == ("; ".join(bad) or "none of those known fails")


def test_layers_are_those_at_which_the_proof_passed() -> None:
    told = facts(*subject(WaistedSpindle(), FINE, COARSE))
    assert words(told.printing, "Layers") == "0.16 mm, proven; not in 0.28 mm"
    assert not told.proven
    assert "NOT proven" in told.verdict
    alone = facts(*subject(WaistedSpindle(), COARSE))
    assert words(alone.printing, "Layers") == "none proven; not in 0.28 mm"


def test_mass_is_volume_by_the_range_of_densities() -> None:
    hinge, plastic = RodLoops(), material("abs")
    told = words(facts(*subject(hinge, plastic=plastic)).printing, "Amount of plastic")
    cm3 = float(mesh(hinge).volume()) / 1000
    volume, _, low, _, high, *rest = told.split()
    assert rest[:2] == ["g", "ABS,"]
    assert float(volume) == pytest.approx(cm3, abs=0.051)
    assert float(low) == pytest.approx(cm3 * 1.02, abs=0.06)  # ABS: 1.02 to 1.08 g/cm3
    assert float(high) == pytest.approx(cm3 * 1.08, abs=0.06)


def test_turn_stop_play_and_fit() -> None:
    hinge = WaistedSpindle(swing=90, stop_at=120)
    told = facts(*subject(hinge)).moving
    assert words(told, "Turn").startswith("90 deg one way and 90 deg the other")
    assert words(told, "Stop") == "flat faces meet at 120 deg"
    assert words(told, "Clearance").startswith("0.3 mm")
    assert words(told, "Play along the axis, each way") == "0.42 mm"
    flat = facts(*subject(RodLoops())).moving
    assert "110 deg one way and no other" in words(flat, "Turn")
    folds = facts(*subject(SheetFlexure(swing=90, swing_down=60))).moving
    assert words(folds, "Turn").startswith("90 deg one way and 60 deg the other")


def test_the_longest_bridge_is_the_hinges_own() -> None:
    assert words(facts(*subject(RodLoops(bridge=12))).printing, "Longest bridge") == "12 mm"
    assert words(facts(*subject(WaistedSpindle())).printing, "Longest bridge") == "none"


@pytest.mark.parametrize("population", [ROUGH, CAREFUL])
def test_the_share_is_that_of_the_population(population: object) -> None:
    hinge = WaistedSpindle()
    told = words(facts(*subject(hinge, population=population)).printing, "Fleet of printers")
    found = fleet(hinge, population, PRINTERS)  # type: ignore[arg-type]
    assert f"{100 * found.share_both.value:.1f}".rstrip("0").rstrip(".") in told
    assert found.population in told
    assert "assumed" in told


@pytest.mark.parametrize("cycles", [1, 100, 5_000, 1_000_000])
def test_life_names_its_band_and_what_it_stands_on(cycles: float) -> None:
    told = words(facts(*subject(WaistedSpindle(), duty=Duty(cycles=cycles))).load, "Life")
    assert told.startswith(f"{cycles:,} times")
    assert f"'{band(cycles).name}'" in told
    assert told.endswith(band(cycles).basis)
    assert f"{100 * strength_share(cycles):.0f} % of the strength" in told


def test_without_a_duty_nothing_is_said_of_strength() -> None:
    told = facts(*subject(WaistedSpindle(), duty=None))
    assert words(told.load, "Load and life") == NO_DUTY
    assert not told.places
    assert not told.weakest
    assert {row.label for row in told.load} == {"Plastic", "Load and life"}


def test_without_a_plastic_all_that_bear_it_are_told() -> None:
    told = facts(*subject(WaistedSpindle(), plastic=None, duty=Duty(load=1, pull=1)))
    assert "PETG" in words(told.load, "Plastics that bear it").split("; ")
    assert not told.places
    assert "by plastic" in words(told.printing, "Amount of plastic")


def test_a_named_plastic_that_fails_is_told_so() -> None:
    told = facts(*subject(SheetFlexure()))
    assert "does not bear the duty" in words(told.load, "Plastic")
    assert not told.bears
    assert facts(*subject(WaistedSpindle(), duty=Duty(load=1, pull=1))).bears


def test_heat_is_15_kelvin_below_the_softening_of_the_plastic() -> None:
    told = words(facts(*subject(WaistedSpindle(), plastic=material("pla"))).cautions, "Heat")
    assert "below 35 deg C" in told  # PLA softens from 50 deg C on


def test_screws_bring_their_own_caution() -> None:
    plain = {row.label for row in facts(*subject(WaistedSpindle())).cautions}
    screwed = {row.label for row in facts(*subject(WaistedSpindle(screw=1))).cautions}
    assert screwed - plain == {"Screws"}


def test_a_hinge_larger_than_the_cylinder_is_no_small_part() -> None:
    hinge = WaistedSpindle(height=120)
    assert isinstance(hinge, Pivot)
    told = words(facts(*subject(hinge)).cautions, "Small parts")
    assert told.startswith("Neither side")
    small = words(facts(*subject(WaistedSpindle())).cautions, "Small parts")
    assert "fixed side or the moving side may be a small part" in small


def test_long_texts_are_cut_so_that_it_stays_one_page() -> None:
    told = facts(*subject(WaistedSpindle(), title="lid " * 200, note="box " * 400))
    assert len(told.heading) <= 120
    assert len(told.note) <= 400
    assert told.note.endswith("...")


def test_facts_are_the_same_every_time() -> None:
    one, other = (facts(*subject(WaistedSpindle())) for _ in range(2))
    assert dataclasses.asdict(one) == dataclasses.asdict(other)
