"""A printer that is known is found again from what its coupons do."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from scadgen.coupons.closing import closing
from scadgen.coupons.fit import Growth, fit_growth
from scadgen.coupons.outputs import calibration_lines, printer_file
from scadgen.coupons.plan import Plan
from scadgen.coupons.results import FREE, FUSED, LOST, WOBBLED, Results
from scadgen.jobs.job import JobError
from tests.coupons.support import CALIBRATING, PIVOTS, PLANS, each_of, simulated, turns
from tests.support import thorough

#: About half of what a step of the clearance tells of the growth, mm, where walls lean most.
NEAR = 0.035
GROWTHS = (-0.05, -0.02, 0.0, 0.03, 0.08, 0.13, 0.2)
#: Unless the run is thorough each coupon is asked with every third, another to begin with.
IN_TURN = 1 if thorough() else 3
THICK = 0.3
LATTICES = [p for p in CALIBRATING if p not in PIVOTS]
SOME = PIVOTS[0]


def in_turn(name: str, values: tuple[float, ...]) -> pytest.MarkDecorator:
    """Coupons of pivots, each with some of the values: all of them have been asked in the end."""
    asked = [
        pytest.param(printed, value, id=f"{value:g}-{printed.family.family}")
        for number, printed in enumerate(PIVOTS)
        for value in values[number % IN_TURN :: IN_TURN]
    ]
    assert {one.values[1] for one in asked} == set(values)
    return pytest.mark.parametrize(("printed", name), asked)


def said(words: str, layer: float = THICK, printed: Plan = SOME) -> Results:
    """Results given by a letter for each step: f(ree), w(obbled), x fused, l(ost)."""
    named = {"f": FREE, "w": WOBBLED, "x": FUSED, "l": LOST}
    found = {v: named[w] for v, w in zip(printed.values, words, strict=True)}
    return Results(printed, "said", layer, found)


@in_turn("growth", GROWTHS)
def test_growth_is_found_again(printed: Plan, growth: float) -> None:
    results = simulated(printed, growth, THICK)
    found = fit_growth(results)
    assert found.mean == pytest.approx(growth, abs=NEAR)
    assert found.low <= growth <= found.high
    assert results.contradictions == []


@in_turn("growth", (-0.03, 0.01, 0.1))
@pytest.mark.parametrize("layer", [0.1, 0.2])
def test_in_thinner_layers_it_says_how_sure_it_is(
    printed: Plan, growth: float, layer: float
) -> None:
    results = simulated(printed, growth, layer)
    found = fit_growth(results)
    assert found.low <= growth <= found.high
    if all(results.turned.values()):
        assert "no lower limit" in " ".join(calibration_lines(results, found))
        assert "one side only" in printer_file(results, found)
    else:
        assert found.mean == pytest.approx(growth, abs=NEAR)


@each_of(LATTICES)
@pytest.mark.parametrize("growth", [0.18, 0.21, 0.24])
def test_slits_that_close_tell_it_too(printed: Plan, growth: float) -> None:
    """A slit has closed when its opening is gone from the grown section."""
    from manifold3d import JoinType

    from scadgen.coupons.solids import piece

    found = {}
    for value in printed.values:
        section = piece(printed, value).slice(0.5)
        spread = section.offset(growth, JoinType.Miter, 2.0)
        open_still = spread.num_contour() == section.num_contour()
        found[value] = FREE if open_still else FUSED
    assert set(found.values()) == {FREE, FUSED}
    fitted = fit_growth(Results(printed, "simulated", 0.2, found))
    assert fitted.mean == pytest.approx(growth, abs=NEAR)
    assert fitted.low <= growth <= fitted.high


@each_of(PIVOTS)
@pytest.mark.parametrize("layer", [0.1, 0.2, 0.3])
def test_the_relation_agrees_with_the_layers_of_the_solids(printed: Plan, layer: float) -> None:
    """It names the growth at which a piece fuses to within what a layer's place decides."""
    value = printed.values[4]
    growth = np.arange(0, 0.4, 0.001)
    closed = growth[int((closing(printed, [value], growth, layer)[0] < 0).argmax())]
    assert turns(printed, value, closed - 0.012, layer)
    assert not turns(printed, value, closed + 0.025, layer)


def test_wobbling_counts_as_turning_and_the_snuggest_is_named() -> None:
    free, wobbled = said("xxffffffff"), said("xxfffwwwww")
    assert fit_growth(free) == fit_growth(wobbled)
    assert said("xxwfffffff").snuggest == pytest.approx(0.3)
    assert said("xxxxxxxxxx").snuggest is None


def test_more_that_fuses_means_more_growth() -> None:
    means = [fit_growth(said("x" * k + "f" * (10 - k))).mean for k in range(11)]
    assert means == sorted(means)
    assert len(set(means)) == 11


def test_a_lost_piece_tells_nothing_but_leaves_room_for_doubt() -> None:
    sure, unsure = fit_growth(said("xxxfffffff")), fit_growth(said("xxllffffff"))
    assert unsure.std > sure.std


def test_a_mild_contradiction_is_named_and_widens_the_answer() -> None:
    odd = said("xxfxffffff")
    assert odd.contradictions == [pytest.approx((0.25, 0.3))]
    found, plain = fit_growth(odd), fit_growth(said("xxxfffffff"))
    assert found.std > plain.std
    assert found.low < plain.mean < found.high
    lines = " ".join(calibration_lines(odd, found))
    assert "0.30 mm fused, but the narrower 0.25 mm was free." in lines


@pytest.mark.parametrize("words", ["fffffxxxxx", "fxfxfxfxfx", "llllllllll"])
def test_what_makes_no_sense_is_refused(words: str) -> None:
    with pytest.raises(JobError, match=r"contradict the others|nothing to learn"):
        fit_growth(said(words))


@each_of([p for p in PLANS if not p.calibrates])
def test_a_family_whose_coupon_tells_nothing_of_it_has_no_relation(printed: Plan) -> None:
    with pytest.raises(ValueError, match="closes nothing"):
        closing(printed, [0.3], 0.1, 0.2)


def test_the_printer_file_holds_the_numbers_and_any_name() -> None:
    import tomllib
    from dataclasses import replace

    growth = Growth(0.0812, 0.0101, 0.06, 0.1)
    named = replace(said("xxxfffffff"), name='a "b"\n[growth] \\ é')
    read: dict[str, Any] = tomllib.loads(printer_file(named, growth))
    assert read["name"] == 'a "b" [growth] \\ é'
    source = read["growth"].pop("source")
    assert read["growth"] == {"mean": 0.0812, "std": 0.0101, "low": 0.06, "high": 0.1}
    assert source == f"measured with a coupon of {SOME.family.family} at layers of 0.3 mm"
