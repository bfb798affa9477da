"""Where a hinge sits on its bodies: nothing hangs past a corner and is still called proven."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scadgen.families.snap_catch import SnapCatch
from scadgen.product.bodies import Plate
from scadgen.product.model import Place, Product, ProductCatch, ProductJoint
from scadgen.product.proving import check_product
from scadgen.product.seating import SEATED, screws, seats
from tests.product.support import book, box, chain


def _shares(product: Product) -> list[tuple[bool, int]]:
    """Of each seat whether it passes, and how much is carried, %."""
    found = [one for fitted in product.merged for one in seats(product, fitted)]
    return [(one.passed, round(one.measured or 0.0)) for one in found]


@pytest.mark.parametrize("product", [box(), chain(3), book()], ids=lambda product: product.name)
def test_what_is_fitted_is_seated_whole(product: Product) -> None:
    assert _shares(product) == [(True, 100)] * (2 * len(product.fitted))


@pytest.mark.parametrize("past", [0.0, 3.0, 16.0])
def test_a_hinge_that_hangs_past_a_corner_is_told_by_its_share(past: float) -> None:
    plain = box()
    ends = (plain.bodies["box"].length - 30) / 2  # type: ignore[attr-defined]
    joint = replace(plain.joints["hinge"], offset=ends + past)
    found = _shares(replace(plain, joints={"hinge": joint}))
    share = 1 - past / 30
    assert [good for good, _ in found] == [share >= SEATED] * 2
    assert [each for _, each in found] == pytest.approx([100 * share] * 2, abs=3)


def test_a_body_that_a_hinge_barely_touches_does_not_carry_it() -> None:
    plate = Plate(length=50, width=20, height=4)
    off = box().fitted["hinge"].off
    joint = ProductJoint(
        family=box().joints["hinge"].family,
        fixed="one",
        moving="other",
        place=Place(x=0, y=10 + off, way=90),
        moving_place=Place(x=0, y=-10 - off - 1.9, way=90),
        values={"facets": 16, "leaf_length": 2, "leaf_thickness": 2},
    )
    bodies = {"one": plate, "other": plate}
    product = Product(name="far", bodies=bodies, joints={"hinge": joint}, layer_heights=(0.2,))
    assert [good for good, _ in _shares(product)] == [True, False]


def test_a_catch_stays_on_its_walls_where_they_have_room() -> None:
    plain = box(low=16, lid=10)
    whole = replace(plain, catches={"snap": ProductCatch(family=SnapCatch, on="hinge")})
    assert _shares(whole)[2:] == [(True, 100)] * 2
    hung = replace(
        plain, catches={"snap": ProductCatch(family=SnapCatch, on="hinge", offset=-20.0)}
    )
    assert not any(good for good, _ in _shares(hung)[2:])


@pytest.mark.parametrize("length", [45.0, 70.0, 200.0])
def test_a_lattice_is_as_wide_as_the_sides_that_it_joins(length: float) -> None:
    plain = book()
    plate = Plate(length=length, width=25, height=2.4)
    whole = replace(plain, bodies={"front": plate, "cover": plate})
    assert _shares(whole) == [(True, 100)] * 2
    (fitted,) = whole.fitted.values()
    wide = float(fitted.hinge.width)  # type: ignore[attr-defined]
    assert length - 0.5 * fitted.hinge.columns <= wide <= length  # type: ignore[attr-defined]


@pytest.mark.parametrize(("out", "good"), [(0.0, False), (18.0, True)], ids=["swallowed", "clear"])
def test_screws_go_through_no_leaf_that_a_body_swallows(out: float, good: bool) -> None:
    """What a leaf is drilled for is filled by the body that it is merged into."""
    plate = Plate(length=60, width=30, height=4)
    away = 15 + chain(2).fitted["pin_1"].off + out
    joint = ProductJoint(
        family=box().joints["hinge"].family,
        fixed="one",
        moving="other",
        place=Place(x=0, y=away, way=90),
        moving_place=Place(x=0, y=-away, way=90),
        values={"facets": 16, "leaf_length": 20, "screw": 3, "swing": 90},
    )
    bodies = {"one": plate, "other": plate}
    product = Product(name="screwed", bodies=bodies, joints={"hinge": joint}, layer_heights=(0.2,))
    (found,) = screws(product, product.fitted["hinge"])
    assert found.passed is good
    assert check_product(product).verdict.passed is good


def test_what_has_no_screws_is_not_asked_of_them() -> None:
    whole = box()
    assert not list(screws(whole, whole.fitted["hinge"]))
