"""What bends needs room between the bodies of a product: nothing stands there and is proven."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.families.side_cones import SideCones
from scadgen.families.snap_catch import SnapCatch
from scadgen.findings.finding import Finding
from scadgen.product.bodies import Plate
from scadgen.product.building import mechanism
from scadgen.product.giving import rooms
from scadgen.product.model import Place, Product, ProductCatch, ProductJoint
from tests.product.support import Given, tray

#: A hinge that clicks, and what is as long without.
CLICKS = {"detent_at": 85, "detent_arm": 30, "leaf_length": 32, "facets": 16}
PLAIN = {"length": 40, "knuckles": 2, "swing": 110, "facets": 16}


def _found(product: Product) -> dict[str, list[Finding]]:
    """The findings on room for arms, by the name of their joint."""
    whole = mechanism(product)
    return {fitted.name: list(rooms(product, fitted, whole)) for fitted in product.merged}


def _passed(product: Product) -> dict[str, list[bool]]:
    return {name: [one.passed for one in found] for name, found in _found(product).items()}


def clicking(beside: float | None = None, **bodies: Plate) -> Product:
    """Two plates with a hinge that clicks, and another hinge so far beside it, mm."""
    plate = Plate(length=220, width=60, height=4)
    hinge = ProductJoint(
        family=SideCones, fixed="base", moving="flap", moving_edge="front", values=PLAIN | CLICKS
    )
    joints = {"clicks": hinge}
    if beside is not None:
        joints["other"] = replace(hinge, values=PLAIN, offset=beside)
    return Product(
        name="flap",
        bodies={"base": plate, "flap": plate, **bodies},
        joints=joints,
        layer_heights=(0.2,),
    )


def caught(*offsets: float, **bodies: Plate) -> Product:
    """A box with so many catches at those offsets, mm."""
    sides = {"length": 110, "width": 50}
    return Product(
        name="caught",
        bodies={"box": tray(16, **sides), "lid": tray(10, **sides), **bodies},
        joints={
            "hinge": ProductJoint(
                family=SideCones,
                fixed="box",
                moving="lid",
                closes=True,
                values={"length": 40, "knuckles": 2, "facets": 16},
            )
        },
        catches={
            f"snap_{k}": ProductCatch(family=SnapCatch, on="hinge", offset=offset)
            for k, offset in enumerate(offsets)
        },
        layer_heights=(0.2,),
    )


@pytest.mark.parametrize(
    ("beside", "good"),
    [(None, True), (43.7, False), (-43.7, False), (47.0, True)],
    ids=["alone", "at one end", "at the other", "further away"],
)
def test_another_hinge_where_an_arm_of_a_detent_bends_is_found(
    beside: float | None, good: bool
) -> None:
    found = _passed(clicking(beside))
    ends = [True, True] if good else [(beside or 0) < 0, (beside or 0) > 0]
    assert found == {"clicks": ends} | ({} if beside is None else {"other": []})


@pytest.mark.parametrize(("away", "good"), [(0.5, False), (1.7, True)])
def test_a_part_that_stands_where_an_arm_bends_is_found(away: float, good: bool) -> None:
    plain = clicking()
    whole, hinge = mechanism(plain), plain.fitted["clicks"].hinge
    outside = hinge.length / 2 + hinge.detent_gap + hinge.detent_thickness  # type: ignore[attr-defined]
    y = whole.joints[0].axis.origin[1]  # type: ignore[union-attr]
    at = (outside + away + 2, y)
    post = Plate(length=4, width=4, height=12, at=at, loose=True)
    (one, other) = _found(clicking(post=post))["clicks"]
    assert (one.passed, other.passed) == (good, True)
    assert one.words.startswith("nothing is where it bends" if good else "post is where it bends")


@pytest.mark.parametrize(
    ("offsets", "good"),
    [((0.0,), True), ((0.0, 36.0), False), ((-40.0, 10.0), True)],
    ids=["one", "on the arm of the other", "apart"],
)
def test_a_hook_on_the_arm_of_another_catch_is_found(
    offsets: tuple[float, ...], good: bool
) -> None:
    found = _passed(caught(*offsets))
    assert found.pop("hinge") == []
    assert list(found.values()) == [[good]] * len(offsets)


def test_where_it_is_welded_the_finding_tells_the_place_on_the_bed() -> None:
    product = caught(0.0, 36.0)
    one = _found(product)["snap_0"][0]
    assert one.place is not None
    low, high = (mechanism(product).body("lid").solid.bounding_box()[k : k + 3] for k in (0, 3))
    assert all(a <= x <= b for a, x, b in zip(low, one.place.point, high, strict=True))


@pytest.mark.parametrize(("reach", "good"), [(110.0, False), (5.0, True)])
def test_what_lies_across_a_sheet_that_bends_is_found(reach: float, good: bool) -> None:
    """A third plate, which hangs on the first beside it, has an arm that ends on the sheet."""
    plate = Plate(length=60, width=40, height=2.4)
    sheet = ProductJoint(
        family=SheetFlexure,
        fixed="one",
        moving="two",
        moving_edge="front",
        values={"web_length": 20},
    )
    beside = replace(
        sheet,
        moving="three",
        place=Place(x=-44, y=0, way=180),
        moving_place=Place(x=34, y=0, way=180),
        values={"web_length": 20, "sheet_width": 30},
    )
    base = Plate(length=40, width=76, height=2.4).solid
    arm = Plate(length=reach, width=4, height=2.4).solid.translate((20 + reach / 2, 33, 0))
    product = Product(
        name="three",
        bodies={"one": plate, "two": plate, "three": Given(given=base + arm)},
        joints={"first": sheet, "second": beside},
        layer_heights=(0.2,),
        order=(),
    )
    assert _passed(product) == {"first": [good], "second": [True]}


@pytest.mark.parametrize("joints", [1, 2])
def test_the_room_of_an_arm_is_told_for_the_pose_in_which_it_was_looked_at(joints: int) -> None:
    """Where another joint may bring a body in its way, nothing is said of that."""
    made = clicking()
    plate = made.bodies["base"]
    other = replace(made.joints["clicks"], moving="tail", edge="front", moving_edge="back")
    other = replace(other, values=PLAIN)
    if joints == 2:
        bodies = {**made.bodies, "tail": plate}
        made = replace(made, bodies=bodies, joints={**made.joints, "other": other})
    for one in _found(made)["clicks"]:
        assert one.passed
        assert one.words.endswith("with all other joints at rest.") is (joints == 2)
