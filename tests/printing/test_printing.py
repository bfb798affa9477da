"""Findings on how bodies print: hand-made ones, and hinges that print or just do not."""

from __future__ import annotations

import pytest
from manifold3d import Manifold

from scadgen import SideCones
from scadgen.findings.finding import Finding
from scadgen.findings.on_printing import printing
from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.rules import HingeError
from tests.shapes import box
from tests.support import each_family, mended

from .test_air import lid

PIVOTS = [cls for cls in all_families().values() if issubclass(cls, Pivot)]
each_pivot = pytest.mark.parametrize("cls", PIVOTS, ids=[cls.family for cls in PIVOTS])


def findings(bodies: list[Manifold], *heights: float, **asked: float) -> dict[str, Finding]:
    """The findings by name, with no bridge allowed."""
    found = list(printing(bodies, heights or (0.2,), 0, lambda _: None, **asked))  # type: ignore[arg-type]
    assert len({finding.name for finding in found}) == len(found)
    assert all(finding.change for finding in found if not finding.passed or finding.marginal)
    return {finding.name: finding for finding in found}


def bodies_of(hinge: Hinge) -> list[Manifold]:
    return [piece.solid for piece in hinge.mechanism().pieces]


def test_sound_bodies_pass_everywhere() -> None:
    found = findings([*lid(2, 0.7)[:1], box((6, 0, 0), (9, 4, 4))], 0.1, 0.3)
    assert list(found) == [
        "layers of 0.1 mm",
        "layers of 0.3 mm",
        "first layer",
        "footing of body 1",
        "footing of body 2",
        "over-extrusion",
        "walls",
    ]
    assert all(finding.passed and not finding.marginal for finding in found.values())


def test_what_is_wrong_is_told_with_its_number_and_place() -> None:
    found = findings(lid(2, 0.05), 0.3)
    layers = found["layers of 0.3 mm"]
    assert not layers.passed
    assert layers.words.startswith("22.78 mm2 droop")  # 4 mm by 6 less a reach of 0.305
    assert "16.00 mm2 fused" in layers.words
    assert "it fuses from z = 2.1 mm on" in layers.words
    assert (layers.unit, layers.needed, layers.at_least) == ("mm2", 0, False)
    air = found["air between layers"]
    assert (air.passed, air.measured, air.needed, air.unit) == (False, 0, 1, "layers")
    assert "0.05 mm of air hold 0 or 1 empty layers of 0.3 mm" in air.words
    assert air.change == "more clearance: 6.00 times as much, or thinner layers: 0.05 mm or less"
    assert not found["over-extrusion"].passed


def test_an_island_is_told_with_its_place() -> None:
    words = findings([box((0, 0, 0), (4, 4, 2)), box((9, 1, 1), (13, 4, 2))])["layers of 0.2 mm"]
    assert "1 islands" in words.words
    assert "an island starts at z = 1, x = 11.0, y = 2.5 mm" in words.words
    assert "stand every body on the bed" in words.change


def test_a_gap_that_only_luck_keeps_is_marginal() -> None:
    """0.16 mm from 2.02 mm up: the middle of a layer at 2.1 mm happens to lie in it."""
    air = findings(lid(2.02, 0.16))["air between layers"]
    assert (air.passed, air.marginal, air.measured) == (True, True, 1)
    assert "thinner layers: 0.16 mm or less" in air.change


MEETING = {
    "overlap": ((0, 0, 0), (9, 9, 5), (5, 5, 0), (14, 14, 8)),
    "touch": ((0, 0, 0), (9, 9, 5), (9, 0, 0), (14, 14, 8)),
    "inside": ((0, 0, 0), (9, 9, 5), (1, 1, 2), (3, 3, 4)),
    "one upon the other": ((0, 0, 0), (9, 9, 5), (0, 0, 5), (9, 9, 9)),
}


@pytest.mark.parametrize("corners", MEETING.values(), ids=MEETING.keys())
def test_no_number_is_told_where_bodies_touch_or_overlap(
    corners: tuple[tuple[float, float, float], ...],
) -> None:
    """No clearance, however many times as much, draws them apart."""
    for height in (0.04, 0.2, 0.8):
        found = findings([box(*corners[:2]), box(*corners[2:])], height)
        names = ("first layer", "air between layers", "over-extrusion")
        met = [found[name] for name in names if name in found and "overlap" in found[name].words]
        assert found["over-extrusion"] in met
        for each in met:
            assert not each.passed
            assert each.change == "draw the bodies apart: they touch or overlap"
            assert each.measured in (None, 0)
            assert "-" not in each.words


def test_hardly_any_air_is_no_factor() -> None:
    """0.001 mm under layers of 0.3: three hundred times as much clearance is no advice."""
    assert "as much" not in findings(lid(2, 0.001), 0.3)["air between layers"].change
    assert "at least 0.3 mm of air" in findings(lid(2, 0.001), 0.3)["air between layers"].change


def test_what_is_too_near_is_told_without_a_sign() -> None:
    found = findings([box((0, 0, 0), (4, 4, 2)), box((4.04, 0, 0), (9, 4, 2))])
    assert "0.04 mm apart on the bed, and each side spreads by 0.2 mm" in found["first layer"].words
    assert "stay 0.03 mm short" in found["over-extrusion"].words


def test_a_small_area_on_the_bed_is_not_told_as_none() -> None:
    post = box((0, 0, 0), (0.6, 0.6, 1)) + box((-2, -2, 0.9), (3, 3, 2))
    assert "0.36 mm2 or more of each body" in findings([post])["layers of 0.2 mm"].words


@pytest.mark.parametrize(
    ("gap", "passed", "marginal"), [(0.3, False, False), (0.45, True, True), (0.6, True, False)]
)
def test_a_first_layer_that_spreads_joins(gap: float, passed: bool, marginal: bool) -> None:
    bodies = [box((0, 0, 0), (4, 4, 2)), box((4 + gap, 0, 0), (9, 4, 2))]
    first = findings(bodies)["first layer"]
    assert (first.passed, first.marginal) == (passed, marginal)
    assert first.measured == pytest.approx(gap - 0.4)
    assert findings(bodies, spread=0.1)["first layer"].passed
    assert "common practice, no source" in first.words


@pytest.mark.parametrize(("over", "passed"), [(0.0, True), (0.08, True), (0.12, False)])
def test_over_extrusion_is_held_against_what_is_asked(over: float, passed: bool) -> None:
    """Slicers close 0.1 mm of 0.3: a tenth on each side is left."""
    bodies = [box((0, 0, 0), (4, 4, 2)), box((4.3, 0, 0), (9, 4, 2))]
    found = findings(bodies, over=over)["over-extrusion"]
    assert (found.passed, found.needed) == (passed, over)
    assert found.measured == pytest.approx(0.1)
    assert found.marginal is (over == 0.08)


@pytest.mark.parametrize(
    ("thick", "passed", "marginal"),
    [(0.35, False, False), (0.42, True, True), (0.8, True, True), (1.0, True, False)],
)
def test_a_wall_fails_only_when_no_line_fits(thick: float, passed: bool, marginal: bool) -> None:
    bodies = [box((0, 0, 0), (4, 4, 5)) + box((3, 1, 0), (9, 1 + thick, 5))]
    walls = findings(bodies)["walls"]
    assert (walls.passed, walls.marginal) == (passed, marginal)
    assert walls.measured == pytest.approx(min(thick, 0.9), abs=0.01)
    assert bool(walls.change) is (thick < 0.9)


def test_the_limit_angle_is_the_callers() -> None:
    shelf = box((0, 0, 0), (4, 4, 5)) + Manifold.hull_points(
        [(4, y, z) for y in (0, 4) for z in (2, 5)] + [(6, y, z) for y in (0, 4) for z in (4, 5)]
    )
    assert findings([shelf], reach_angle=46)["layers of 0.2 mm"].passed
    assert not findings([shelf], reach_angle=40)["layers of 0.2 mm"].passed


@each_family
def test_defaults_print_but_for_what_hangs(cls: type[Hinge]) -> None:
    hinge = cls()
    found = printing(bodies_of(hinge), (0.1, 0.2, 0.3), hinge.longest_bridge(), lambda _: None)
    failed = {finding.name for finding in found if not finding.passed}
    assert failed == {f"layers of {h} mm" for h in (0.1, 0.2, 0.3) if hinge.hangs}


@each_pivot
def test_a_hinge_at_half_its_size_is_caught(cls: type[Pivot]) -> None:
    """0.3 mm become 0.15: at 45 degrees 0.21 mm upright, less than a layer of 0.3 mm."""
    hinge = cls()
    whole = bodies_of(hinge)
    half = [body.scale((0.5, 0.5, 0.5)) for body in whole]
    before, after = findings(whole, 0.3), findings(half, 0.3)
    assert before["over-extrusion"].passed
    assert before["air between layers"].passed
    assert not after["over-extrusion"].passed
    assert not after["air between layers"].passed
    assert not after["first layer"].passed or after["first layer"].marginal


def test_a_stop_does_not_cover_the_screws() -> None:
    """A screw hole that ended below a stop was bridged by it; the values come from a drawn test."""
    given = {
        "swing": 20,
        "screws": 1,
        "cone": 28.0,
        "head": 2,
        "layer": 0.3,
        "hole_series": 0,
        "wall": 6.4,
        "screw": 1,
        "leaf_corner": 14.797662347172961,
        "length": 148.5,
        "facets": 228,
        "knuckles": 6,
        "stop_at": 100.46400666122884,
        "leaf_length": 35.5,
        "clearance": 0.45,
    }
    with pytest.raises(HingeError, match="or the stop covers the screws"):
        SideCones(**given)
    hinge = mended(SideCones, given)
    assert isinstance(hinge, SideCones)
    assert hinge.leaf_length > 35.5
    assert findings(bodies_of(hinge), 0.3)["layers of 0.3 mm"].passed
