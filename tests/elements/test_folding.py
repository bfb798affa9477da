"""A flexure pulled at its moving border: what bends bears what beams say, and more at its roots."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest

from scadgen import BreakAwayLink, SheetFlexure, SlitLattice
from scadgen.elements.bears import stiffness
from scadgen.elements.folding import FoldCut, FoldLoad, Sheet, sheet_of
from scadgen.elements.judged import Asked, Bent
from scadgen.elements.of_hinge import NotLoaded, pulled_of, refusal, solved
from scadgen.mechanism.fold import Fold
from scadgen.strength import bent_web, twisted_web
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Use, material

PETG = material("petg")
FLEXURE = SheetFlexure(sheet_width=8, facets=16, segments=8)


@cache
def sheet() -> tuple[Sheet, FoldCut]:
    """What bends of a narrow sheet, in cubes of half its web."""
    whole = FLEXURE.mechanism()
    (fold,) = whole.joints
    assert isinstance(fold, Fold)
    made = sheet_of(whole, fold, stiffness(PETG))
    return made, made.cut(FLEXURE.web / 2, 0.6)


def along(which: Any, way: tuple[float, ...]) -> Any:
    """Stress along the sheet at some of its places, MPa."""
    return sheet()[1].stress(0, way)[which, 1]


def test_what_bends_and_a_strip_of_both_borders_is_kept() -> None:
    made, cut = sheet()
    assert made.far - made.near == pytest.approx(FLEXURE.span)
    assert made.heights == pytest.approx((0, FLEXURE.web), abs=1e-6)
    assert made.across @ cut.directions()[1] == pytest.approx(0)


def test_half_way_a_pull_across_is_even_and_one_along_bends_as_a_beam() -> None:
    made, cut = sheet()
    middle = abs(cut.points @ made.across) < 0.5
    pulled = bent_web.pull_stress(10, FLEXURE.width, FLEXURE.web)
    even = along(middle, (10, 0))
    assert even.mean() == pytest.approx(pulled, rel=0.02)
    assert abs(even - pulled).max() < 0.2 * pulled  # the held border, higher up, bends it a little
    side = middle & (abs(cut.points[:, 0]) > FLEXURE.width / 2 - 1e-6)
    lever = made.far
    beam = bent_web.sideways_stress(10, lever, FLEXURE.width, FLEXURE.web)
    at = cut.points[side] @ made.across
    found = abs(along(side, (0, 10))) * lever / (lever - at)
    assert found.mean() == pytest.approx(beam, rel=0.05)


def test_pulls_are_tried_either_way_and_add_up() -> None:
    assert list(FoldLoad("", 2, 0).ways()) == [(2, 0, 0, 0), (-2, 0, 0, 0)]
    assert len(list(FoldLoad("", 2, 3).ways())) == 4
    assert len(list(FoldLoad("", 2, 3, 4, 5).ways())) == 16
    _, cut = sheet()
    both = cut.stress(0, (2, -3))
    assert both == pytest.approx(cut.stress(0, (2, 0)) - cut.stress(0, (0, 3)))


def findings(duty: Duty) -> Any:
    """What is said of the sheet under a duty."""
    made, cut = sheet()
    asked: Asked = pulled_of(FLEXURE, duty, PETG)
    return list(Bent((cut, cut), asked, made.solid).findings())


def test_it_is_said_for_each_pull_and_a_weak_web_fails() -> None:
    found = findings(Duty(1, 20, 2, 1, 1.5))
    assert [one.name for one in found] == [
        f"solid, sheet, {load}" for load in ("load", "pull", "load and pull")
    ]
    assert all(one.passed for one in found)
    assert "moving border is pushed" in found[0].words
    assert found[0].measured is not None
    pried = float(FLEXURE.pulled(Duty(1, 20, 2, 1, 1.5)))
    assert pried == pytest.approx(20 / FLEXURE.heel)
    assert not findings(Duty(found[0].measured / 1.4, 20, 0, 1, 1.5))[0].passed


def test_a_picture_shows_what_bends() -> None:
    made, cut = sheet()
    shares = Bent((cut, cut), pulled_of(FLEXURE, Duty(1, 20, 2, 1, 2), PETG), made.solid).shares()
    ((title, solid, points, used),) = shares
    assert title == "what bends of it"
    assert solid is made.solid
    assert len(points) == len(used)
    one = Bent((cut, cut), pulled_of(FLEXURE, Duty(1, 20, 2, 1, 1), PETG), made.solid).shares()
    assert used == pytest.approx(2 * np.asarray(one[0][3]))


def test_a_lattice_is_loaded_by_its_outermost_column_in_few_rows() -> None:
    whole, duty = SlitLattice(), Duty(2, 0, 3, 1, 1)
    sample = whole.sample(duty)
    small = sample.hinge
    assert isinstance(small, SlitLattice)
    assert (small.rows, small.columns) == (3, 1)
    for name in ("strip", "slit", "slit_length", "bridge", "thickness", "border"):
        assert getattr(small, name) == getattr(whole, name)
    # What opens its strips is what opens the outermost ones of the whole.
    place, across = "strips pulled open", Duty(sample.across, 0, 0, 1, 1)
    (ours,), (theirs,) = (
        [float(s.actual) for s in hinge.strengths(asked, PETG) if s.name == place]
        for hinge, asked in ((small, across), (whole, duty))
    )
    assert ours == pytest.approx(theirs)
    assert sample.along == pytest.approx(duty.pull / whole.columns)
    asked = pulled_of(whole, duty, PETG)
    assert (asked.aside, asked.along) == pytest.approx((sample.across, sample.along))
    assert asked.part == "3 of 17 rows in one of 2 columns, the outermost"
    assert refusal(whole, duty, PETG) == ""
    assert refusal(SlitLattice(swing=180, rows=60, columns=12), duty, PETG) == ""
    aside = Duty(2, 0, 3, 1, 1, offset=10, pull_lever=90)
    assert whole.sample(aside).across == pytest.approx(2 * whole.pulled_each(aside))
    assert refusal(whole, aside, PETG) == ""


def test_moments_bend_the_web_in_its_plane_and_twist_it() -> None:
    made, cut = sheet()
    side = abs(cut.points @ made.across) < 0.5
    side &= abs(cut.points[:, 0]) > FLEXURE.width / 2 - 1e-6
    beam = 6 * 100 / (FLEXURE.web * FLEXURE.width**2)
    assert abs(along(side, (0, 0, 100))).mean() == pytest.approx(beam, rel=0.05)
    middle = (abs(cut.points @ made.across) < 0.5) & (abs(cut.points[:, 0]) < 0.5)
    twisted = abs(cut.stress(0, (0, 0, 0, 100))[middle][:, 3:]).max()
    poisson = PETG.weak_end("poisson", Use.BEND)
    least = 1 - twisted_web.share_bent(FLEXURE.width, FLEXURE.span, poisson)
    shorn = twisted_web.shear_stress(100, FLEXURE.width, FLEXURE.web)
    assert least * shorn < twisted < 1.1 * shorn


def test_a_load_beside_the_middle_and_a_pull_far_out_ask_for_more() -> None:
    middle, tilted = Duty(1, 20, 2, 1, 1), Duty(1, 20, 2, 1, 1, offset=8, pull_lever=30)
    assert refusal(FLEXURE, tilted, PETG) == ""
    plain, aside = findings(middle), findings(tilted)
    factors = [[one.measured or 0 for one in found] for found in (plain, aside)]
    assert all(more < less for less, more in zip(*factors, strict=True))
    assert "turned by" in aside[0].words
    stresses = [s for s in FLEXURE.strengths(tilted, PETG) if s.unit == "MPa"]
    told = min(float(s.factor) for s in stresses)
    assert 1 / 1.15 < min(factors[1]) / told < 2


def test_a_flexure_that_tells_of_no_moments_is_not_loaded_beside_its_middle(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(SheetFlexure, "sampled_tilted", False)
    aside = Duty(2, 0, 3, 1, 1, offset=10)
    assert "Ask 0 of both" in refusal(SheetFlexure(), aside, PETG)


def test_webs_too_thin_and_links_that_bear_nothing_are_refused() -> None:
    with pytest.raises(NotLoaded, match=r"sheet_flexure: about \d+ thousand cubes"):
        solved(SheetFlexure(sheet_width=300), Duty(), PETG)
    with pytest.raises(NotLoaded, match="break_away_link: it answers no load"):
        solved(BreakAwayLink(), Duty(), PETG)
