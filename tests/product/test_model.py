"""What a product works out of its bodies, where it puts them, and what it refuses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from scadgen import SheetFlexure, SnapCatch, WaistedSpindle
from scadgen.product.bodies import Plate
from scadgen.product.building import mechanism, standing
from scadgen.product.frames import Frame
from scadgen.product.model import Place, Product, ProductCatch, ProductJoint
from scadgen.tables.documents import JobError
from tests.product.support import box, chain, cover, tea, tray


def test_a_sheet_is_as_wide_as_the_shorter_side_leaves() -> None:
    plate, narrow = Plate(length=60, width=20, height=2), Plate(length=45.2, width=20, height=2)
    joint = ProductJoint(family=SheetFlexure, fixed="front", moving="back")
    made = Product(name="book", bodies={"front": plate, "back": narrow}, joints={"spine": joint})
    hinge = made.fitted["spine"].hinge
    assert isinstance(hinge, SheetFlexure)
    assert (hinge.sheet_width, hinge.thickness) == (45, 2)


def test_the_axis_stands_half_as_high_as_wall_and_lid_together() -> None:
    for low, lid in ((14, 8), (20, 20), (8, 20)):
        (fitted,) = box(low, lid).fitted.values()
        assert fitted.hinge.axis()[0][2] == (low + lid) / 2  # type: ignore[attr-defined]
        assert fitted.worked["axis_height"].text == "(box_height + lid_height) / 2"
        assert fitted.hinge.swing == 180


def test_what_a_maker_gives_goes_before_what_is_worked_out() -> None:
    (fitted,) = box(axis_height=12).fitted.values()
    assert fitted.hinge.axis_height == 12  # type: ignore[attr-defined]
    assert "axis_height" not in fitted.worked


def test_both_bodies_stand_clear_of_the_knuckles_on_either_side_of_the_axis() -> None:
    product = box()
    (fitted,) = product.fitted.values()
    (turn,) = mechanism(product).joints
    assert turn.axis is not None
    frames = standing(product)
    for name, way in (("box", -1), ("lid", 1)):
        solid = frames[name].carry(product.bodies[name].solid)
        low, high = solid.bounding_box()[1], solid.bounding_box()[4]
        near = high if way < 0 else low
        assert way * (near - turn.axis.origin[1]) == pytest.approx(fitted.off)


@pytest.mark.parametrize("edge", ["back", "front", "left", "right"])
@pytest.mark.parametrize("other", ["back", "front", "left", "right"])
def test_a_hinge_on_any_sides_has_the_bodies_across_from_each_other(edge: str, other: str) -> None:
    square = tray(12, length=40, width=40)
    made = box()
    joint = replace(made.joints["hinge"], edge=edge, moving_edge=other)
    product = replace(made, bodies={"box": square, "lid": square}, joints={"hinge": joint})
    lid = standing(product)["lid"]
    (fitted,) = product.fitted.values()
    assert np.hypot(lid.x, lid.y) == pytest.approx(40 + 2 * fitted.off)
    one, two = (body.solid for body in mechanism(product).bodies)
    assert one.min_gap(two, 1) > 0.25


def test_a_frame_is_undone_by_its_back() -> None:
    frame = Frame(3, -4, 35)
    there = frame.then(frame.back)
    assert (there.x, there.y, there.turn) == pytest.approx((0, 0, 0))


def test_a_chain_stands_in_a_row() -> None:
    product = chain(4)
    apart = np.diff([frame.y for frame in standing(product).values()])
    (off, *_) = (fitted.off for fitted in product.fitted.values())
    assert apart == pytest.approx([16 + 2 * off] * 3)


SNAP = ProductCatch(family=SnapCatch, on="spine")


def ring() -> Product:
    made = chain(3)
    back = replace(made.joints["pin_1"], fixed="link_3", moving="link_1")
    return replace(made, joints={**made.joints, "pin_3": back})


def ajar() -> Product:
    """A catch on a lid of which nobody asks that it shuts."""
    made = tea()
    values = {"axis_height": 10, "backing": 6, "swing": 110}
    hinge = replace(made.joints["hinge"], closes=False, values=values)
    return replace(made, joints={"hinge": hinge})


def two_places() -> Product:
    made = box()
    again = replace(made.joints["hinge"], moving_edge="front", closes=False)
    return replace(
        made,
        bodies={"box": tray(14), "lid": tray(8, width=26)},
        joints={**made.joints, "other": replace(again, edge="left", values={"length": 22})},
    )


def upright() -> Product:
    joint = ProductJoint(
        family=WaistedSpindle, fixed="box", moving="lid", values={"height": 10, "shaft": 3}
    )
    return replace(box(), joints={"hinge": joint})


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (lambda: replace(box(), bodies={}), "bodies: none; name at least one."),
        (
            lambda: replace(box(), bodies={"box": tray(14), "led": tray(8)}),
            'joints.hinge.moving = "lid"; no body is called so; did you mean led?',
        ),
        (
            lambda: replace(
                box(), joints={"h": ProductJoint(family=WaistedSpindle, fixed="box", moving="box")}
            ),
            'joints.h.moving = "box"; it must be another body than fixed.',
        ),
        (
            lambda: replace(box(), joints={"lid": box().joints["hinge"]}),
            "joints.lid: another has that name, too; name them apart.",
        ),
        (
            lambda: box(4, 4).fitted,
            "axis_height = 4 mm, as box and lid have it; it must be at least 6 mm",
        ),
        (
            lambda: replace(tea(), joints={"pin": tea().joints["hinge"]}),
            'catches.snap.on = "hinge"; no joint is called so; there are pin.',
        ),
        (
            lambda: (
                replace(
                    tea(),
                    bodies={"box": tray(14, length=100), "lid": tray(6, length=100, width=40)},
                ).caught
            ),
            "catches.snap.on = hinge; box and lid reach 10 mm differently far from its axis.",
        ),
        (
            lambda: (
                replace(
                    tea(),
                    catches={"snap": replace(tea().catches["snap"], values={"hook_height": 8})},
                ).caught
            ),
            "its axis is 10 mm high, and that of the catch 11 mm; give the joint closes = true",
        ),
        (
            lambda: ajar().caught,
            "it is turned to 110 deg only, and a catch holds what is shut, at 180 deg; give",
        ),
        (
            lambda: (
                replace(cover(), catches={"s": ProductCatch(family=SnapCatch, on="spine")}).caught
            ),
            'catches.s.on = "spine"; a catch closes on a hinge that lies',
        ),
        (lambda: standing(ring()), "joints.pin_1: its bodies hang in a ring"),
        (lambda: standing(two_places()), "joints.other: it puts lid "),
        (lambda: upright().fitted, "joints.hinge.size.shaft = 3 mm; it must be 4 to 30 mm."),
        (lambda: tray(8, wall=15), "wall = 15 mm; it must be below 15 mm, or nothing is left"),
        (lambda: tray(8, floor=8), "floor = 8 mm; it must be below the height of 8 mm"),
        (
            lambda: Plate(length=0.5, width=30, height=3),
            "length = 0.5 mm; it must be 0.8 to 1000 mm.",
        ),
        (
            lambda: ProductJoint(family=WaistedSpindle, fixed="a", moving="b", edge="top"),
            "edge = top; it must be one of back, front, left, right.",
        ),
    ],
)
def test_what_makes_no_product_is_refused_in_words(made: object, said: str) -> None:
    with pytest.raises(JobError) as caught:
        made()  # type: ignore[operator]
    assert said in str(caught.value)


def test_a_place_is_where_the_axis_is_on_the_body() -> None:
    made = box()
    (before,) = (joint.axis for joint in mechanism(made).joints)
    assert before is not None
    off = made.fitted["hinge"].off
    place = Place(x=0, y=15 + off, way=90)
    moving = Place(x=0, y=15 + off, way=-90)
    joint = replace(made.joints["hinge"], place=place, moving_place=moving)
    placed = replace(made, joints={"hinge": joint})
    (after,) = (joint.axis for joint in mechanism(placed).joints)
    assert after is not None
    assert after.origin == pytest.approx(before.origin)
    assert standing(placed)["lid"].y == pytest.approx(standing(made)["lid"].y)
