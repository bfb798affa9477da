"""What prints near each other in a product, of which no hinge tells: a fleet keeps it apart."""

from __future__ import annotations

from dataclasses import replace

import pytest
from manifold3d import Manifold

from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.families.side_cones import SideCones
from scadgen.product.building import mechanism
from scadgen.product.fleets import whole_fleet
from scadgen.product.giving import rooms
from scadgen.product.model import Place, Product, ProductJoint
from scadgen.product.neighbours import near
from tests.product.support import Given, book, box, chain
from tests.product.test_giving import caught, clicking

SHEET = {"thickness": 2.4, "sheet_width": 40, "web_length": 10, "border": 10, "facets": 16}
HINGE = {"facets": 16, "knuckles": 2, "length": 40, "leaf_length": 0, "leaf_thickness": 2}


def _block(x: float, y: float, z: float, *at: float) -> Manifold:
    return Manifold.cube((x, y, z)).translate(at)


def _sheet(fixed: str, moving: str, place: Place, moving_place: Place) -> ProductJoint:
    return ProductJoint(
        family=SheetFlexure,
        fixed=fixed,
        moving=moving,
        place=place,
        moving_place=moving_place,
        values=SHEET,
    )


def hairpin(gap: float, beside: float | None = None) -> Product:
    """Three plates in one piece, joined by two sheets: the third lies beside the first, mm.

    beside: a tongue of the third ends so far beside what bends between the others, mm.
    """
    plate = _block(50, 40, 2.4, -25, -50, 0)
    across = 50 + gap
    third = plate
    if beside is not None:
        end = 20 + beside - across
        third = third + _block(-25 - end, 3, 2.4, end, -3, 0) + _block(3, 10, 2.4, -25, -12, 0)
    bodies = {"one": plate, "two": _block(60 + across, 40, 2.4, -25, 10, 0), "three": third}
    return Product(
        name="hairpin",
        bodies={name: Given(given=solid) for name, solid in bodies.items()},
        joints={
            "first": _sheet("one", "two", Place(x=0, y=0, way=90), Place(x=0, y=0, way=90)),
            "second": _sheet(
                "two", "three", Place(x=across, y=0, way=-90), Place(x=0, y=0, way=-90)
            ),
        },
        layer_heights=(0.2,),
        order=(),
    )


def eared(gap: float) -> Product:
    """Two plates with a hinge, and ears at both its ends that come so near on the bed, mm."""
    plate = _block(120, 42, 4, -60, -50, 0)
    ears = [_block(30, 9 - gap / 2, 4, x, -9, 0) for x in (-60, 30)]
    side = Given(given=plate + ears[0] + ears[1])
    hinge = ProductJoint(
        family=SideCones,
        fixed="base",
        moving="flap",
        place=Place(x=0, y=0, way=90),
        moving_place=Place(x=0, y=0, way=-90),
        values=HINGE,
    )
    bodies = {"base": side, "flap": side}
    return Product(name="eared", bodies=bodies, joints={"hinge": hinge}, layer_heights=(0.2,))


@pytest.mark.parametrize(("gap", "good"), [(0.15, False), (0.3, False), (0.8, True)])
def test_plates_of_one_piece_must_print_apart_on_enough_printers(gap: float, good: bool) -> None:
    """They share no joint and never meet as the sheets bend: only a fleet finds them welded."""
    found = whole_fleet(hairpin(gap))
    assert found is not None
    assert found.passed is good
    assert "one and three apart" in found.words


def test_what_bends_must_print_apart_from_a_body_that_it_does_not_join() -> None:
    product = hairpin(8, 0.15)
    gaps = dict(near(product, mechanism(product)))
    (sizes,) = (
        [gap.size for gap in gaps[name]] for name in gaps if name.startswith("three and what bends")
    )
    assert sizes == pytest.approx([0.15, 0.15], abs=0.01)
    found = whole_fleet(product)
    assert found is not None
    assert not found.passed


@pytest.mark.parametrize(("gap", "good"), [(0.3, False), (1.5, True)])
def test_what_bends_must_print_apart_from_an_ear_of_the_body_that_carries_it(
    gap: float, good: bool
) -> None:
    """The relief keeps the clearance of it free, which a first layer fills on many printers."""
    plate, wide = _block(36, 40, 2.4, -18, -50, 0), _block(80, 40, 2.4, -40, -50, 0)
    ears = [_block(10, 51, 2.4, x, -50, 0) for x in (20 + gap, -30 - gap)]
    joint = _sheet("one", "two", Place(x=0, y=0, way=90), Place(x=0, y=0, way=-90))
    product = Product(
        name="eared_sheet",
        bodies={"one": Given(given=wide + ears[0] + ears[1]), "two": Given(given=plate)},
        joints={"sheet": joint},
        layer_heights=(0.2,),
    )
    names = dict(near(product, mechanism(product)))
    assert ("one and what bends between one and two" in names) is not good
    found = whole_fleet(product)
    assert (found is None or found.passed) is good


@pytest.mark.parametrize(("beside", "good"), [(44.75, False), (44.8, False), (46.0, True)])
def test_the_post_of_one_catch_must_print_apart_from_the_arm_of_another(
    beside: float, good: bool
) -> None:
    """It stands nowhere where the arm bends, and touches it, or nearly so, where it ends."""
    product = caught(0.0, beside)
    whole = mechanism(product)
    assert all(one.passed for f in product.merged for one in rooms(product, f, whole))
    names = dict(near(product, whole))
    assert ("lid and arm of the hook of snap_0" in names) is not good
    found = whole_fleet(product)
    assert found is not None
    assert found.passed is good


@pytest.mark.parametrize(("gap", "good"), [(0.3, False), (1.5, True)])
def test_of_two_pieces_with_a_joint_either_rest_prints_apart_from_the_other(
    gap: float, good: bool
) -> None:
    """An ear of the first plate reaches past the second, which turns, to the third."""
    plate = _block(50, 42, 4, -25, -50, 0)
    ear = _block(10, 140, 4, 25 + gap, -10, 0) + _block(10 + gap, 10, 4, 25, -20, 0)
    middle = _block(44, 76, 4, -22, 8, 0)
    thick = SHEET | {"thickness": 4}
    ahead, back = Place(x=0, y=0, way=90), Place(x=0, y=0, way=-90)
    on = Place(x=0, y=92, way=90)
    first = replace(_sheet("one", "two", ahead, ahead), values=thick)
    hinge = replace(first, family=SideCones, fixed="two", moving="three", values=HINGE)
    hinge = replace(hinge, place=on, moving_place=back)
    far = Place(x=0, y=-58, way=-90)
    last = replace(first, fixed="three", moving="four", place=far, moving_place=back)
    solids = {"one": plate + ear, "two": middle, "three": plate, "four": plate}
    product = Product(
        name="two_pieces",
        bodies={name: Given(given=solid) for name, solid in solids.items()},
        joints={"first": first, "hinge": hinge, "last": last},
        layer_heights=(0.2,),
    )
    told = [(name, g.size) for name, gaps in near(product, mechanism(product)) for g in gaps]
    nearest = min((size for name, size in told if name == "piece 1 and piece 2"), default=9.0)
    assert nearest == pytest.approx(gap, abs=0.01)
    found = whole_fleet(product)
    assert found is not None
    assert found.passed is good


@pytest.mark.parametrize(("gap", "good"), [(0.42, False), (0.8, True)])
def test_bodies_nearer_on_the_bed_than_their_hinge_must_print_apart(gap: float, good: bool) -> None:
    """At 0.42 mm a first layer that spreads by the usual 0.2 mm leaves them just apart."""
    found = whole_fleet(eared(gap))
    assert found is not None
    assert found.passed is good
    assert "base and flap apart" in found.words


@pytest.mark.parametrize("product", [chain(3), box(), book(), caught(0.0), clicking()])
def test_bodies_that_their_hinge_keeps_apart_are_left_to_it(product: Product) -> None:
    assert not list(near(product, mechanism(product)))
