"""OpenSCAD draws a coupon from the text as the mesh reading builds it from the trees."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from scadgen import emit
from scadgen.coupons.plan import Plan
from scadgen.coupons.solids import whole
from scadgen.coupons.text import emit_coupon
from tests.coupons.support import PIVOTS, PLANS, USUAL, each_of
from tests.engine import Run, run
from tests.support import fewest, thorough

pytestmark = pytest.mark.openscad


def coarse(printed: Plan) -> Plan:
    """The same coupon with few corners: they keep the engine's exact arithmetic quick."""
    few = fewest(printed.family)
    plain = replace(printed, steps=replace(printed.steps, given={**printed.steps.given, **few}))
    assert {**plain.others, **few} == {**printed.others, **few}
    return plain


def ends(printed: Plan) -> Plan:
    """The same coupon with its first and its last step only."""
    first, last = printed.values[0], printed.values[-1]
    return replace(printed, steps=replace(printed.steps, step=round(last - first, 6), count=2))


def drawn(printed: Plan, folder: Path, **settings: Any) -> Run:
    family = printed.family
    (folder / f"{family.family}.scad").write_text(emit(family()), encoding="utf-8")
    (folder / "coupon.scad").write_text(emit_coupon(printed), encoding="utf-8")
    named = {f"{printed.name}_{name}": value for name, value in settings.items()}
    return run(folder / "coupon.scad", folder, **named)


def assert_the_same(printed: Plan, folder: Path) -> None:
    found, built = drawn(printed, folder).mesh, whole(printed)
    assert found.volume == pytest.approx(built.volume(), rel=1e-3)
    assert found.bounds == pytest.approx(np.reshape(built.bounding_box(), (2, 3)), abs=0.01)
    assert found.body_count == len(built.decompose())


@each_of(PLANS if thorough() else USUAL)
def test_both_ends_of_a_coupon_are_the_same(printed: Plan, tmp_path: Path) -> None:
    assert ends(printed).others == printed.others
    assert_the_same(coarse(ends(printed)), tmp_path)


def test_a_whole_coupon_is_the_same(tmp_path: Path) -> None:
    """Unless the run is thorough of six pieces: they fill a row and begin another."""
    (printed,) = (one for one in PIVOTS if one.family.family == "rod_loops")
    few = printed if thorough() else replace(printed, steps=replace(printed.steps, count=6))
    assert_the_same(coarse(few), tmp_path)


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        ({"count": 11}, "count = 11; it must be 1 to 10 here, or the widest piece has no room."),
        ({"in_row": 40}, "or a row is longer than the bed."),
        ({"bed": 60}, "in_row = 5; it must be 1 to 3 here, or a row is longer than the bed."),
        ({"stroke": 0.8}, "stroke = 0.8 mm; it must be 0.9 to 3 mm here, or the strokes are"),
        ({"count": 2.5}, "count = 2.5; it must be 1 to 40 in steps of 1."),
        ({"in_row": 1}, "or the rows do not fit the bed."),
    ],
)
def test_a_setting_that_does_not_fit_is_refused(
    settings: dict[str, float], words: str, tmp_path: Path
) -> None:
    (printed,) = (one for one in PIVOTS if one.family.family == "captive_cone")
    refused = drawn(printed, tmp_path, **settings)
    assert refused.code != 0
    assert refused.refusal is not None
    assert words in refused.refusal
