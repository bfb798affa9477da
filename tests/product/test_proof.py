"""The proof of a product fails where bodies meet, hover or block each other, and says where."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from scadgen import BreakAwayLink, SheetFlexure
from scadgen.findings.finding import NO_DUTY, Finding
from scadgen.mechanism.joint import Case, JointProof
from scadgen.mechanism.mechanism import Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.product.bodies import Plate
from scadgen.product.building import mechanism
from scadgen.product.model import Place, Product, ProductJoint
from scadgen.product.proving import BODIES, Proven, check_product
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from scadgen.tables.documents import JobError
from tests.product.support import box, chain, cover, named, tea, tray, wallet


@cache
def small() -> Proven:
    return check_product(box())


def failed(product: Product) -> dict[str, Finding]:
    findings = check_product(product).verdict.findings
    return {found.name: found for found in findings if not found.passed}


def test_the_tea_sampler_box_is_proven_and_lies_on_its_rim() -> None:
    proven = check_product(tea())
    assert proven.verdict.proven
    assert proven.verdict.lacks == (NO_DUTY,)
    assert named(proven, "shut at 180 deg").passed


def test_a_catch_stands_at_the_walls_across_and_holds_more_than_the_hinge_plays() -> None:
    product = tea()
    (fitted,) = product.caught.values()
    (held,) = product.fitted.values()
    values = {name: worked.value for name, worked in fitted.worked.items()}
    assert values["reach"] == pytest.approx(66 + held.off)
    assert (values["keeper_height"], values["hook_height"], values["wall"]) == (14, 6, 4)
    strays = held.hinge.strays()
    assert strays is not None
    assert values["slack"] >= strays[0]


def test_a_body_in_the_way_of_the_hook_is_met() -> None:
    """A rib on the lid's side of the keeper, where the hook comes down: a part of the box."""
    made = tea()
    rib = Plate(length=70, width=4, height=14, at=(0, -38), loose=True)
    found = failed(replace(made, bodies={**made.bodies, "rib": rib}, bed=None))
    assert "lid meets rib" in found["box and lid: turn beside the others"].words


def test_a_catch_that_the_hinge_outplays_is_refused() -> None:
    made = tea()
    (catch,) = made.catches.values()
    loose = replace(catch, values={"slack": 1.2})
    with pytest.raises(JobError, match=r"catches\.snap\.size\.\w+ = .* This works: "):
        replace(made, catches={"snap": loose}).caught  # noqa: B018


def test_the_plastic_says_how_far_a_catch_may_bend() -> None:
    asked = tea(plastic=material("petg"), duty=Duty(load=0.5, cycles=2000))
    (fitted,) = asked.caught.values()
    assert "strain" in fitted.worked
    names = [found.name for found in check_product(asked).verdict.findings]
    assert "snap: pull that opens it" in names


def test_the_contact_that_is_told_is_that_of_the_rims() -> None:
    """All around the shorter rim, but for what the hinge takes at its back wall."""
    rim = 50 * 30 - (50 - 4) * (30 - 4)
    words = named(small(), "shut at 180 deg").words
    touching, facing = map(float, re.findall(r"(\d+) mm2", words))
    assert 0.9 * rim < touching < rim
    assert 0.9 * rim < facing < rim


def test_a_lid_that_hovers_or_digs_in_is_not_shut() -> None:
    assert "hovers" in failed(box(axis_height=11.1, backing=8))["shut at 180 deg"].words
    assert "swing" in failed(box(axis_height=10.9, backing=8))


def test_a_body_in_the_way_is_met_wherever_it_is() -> None:
    """A post that stands in the box, higher than the lid lets it."""
    post = Plate(length=6, width=6, height=40, at=(0, 0), loose=True)
    found = failed(box(others={"post": post}))
    assert "post and box: gap at rest" in found or "box and post: gap at rest" in found
    beside = Plate(length=6, width=6, height=40, at=(40, 0), loose=True)
    assert failed(box(others={"beside": beside})) == {}
    path = Plate(length=6, width=6, height=40, at=(0, -20), loose=True)
    made = box(others={"path": path})
    long = replace(made, bodies={**made.bodies, "lid": tray(8, width=40)})
    met = failed(long)["box and lid: turn beside the others"]
    assert "lid meets path around" in met.words
    assert met.place is not None
    assert met.place.point[:2] == pytest.approx((0, -20), abs=4)


def test_a_body_that_nothing_holds_is_named_unless_it_is_loose() -> None:
    beside = Plate(length=6, width=6, height=4, at=(40, 0))
    assert list(failed(box(others={"tag": beside}))) == ["tag is held"]


def test_what_a_bed_does_not_hold_fails() -> None:
    assert list(failed(replace(box(), bed=(60, 60)))) == ["room on the bed"]
    assert failed(replace(box(), bed=(120, 60))) == {}


@pytest.mark.parametrize(("bed", "turned"), [((120.0, 60.0), True), ((60.0, 120.0), False)])
def test_a_bed_that_holds_it_only_turned_says_so(bed: tuple[float, float], turned: bool) -> None:
    """The files lie as the product prints, and nobody turns them unasked."""
    words = named(check_product(replace(box(), bed=bed)), "room on the bed").words
    assert words.endswith("turn it by 90 deg on it.") is turned


def test_a_duty_is_asked_of_each_hinge_and_leaves_the_bodies_open() -> None:
    asked = replace(box(), duty=Duty(load=2), plastic=material("petg"))
    verdict = check_product(asked).verdict
    assert any(found.name == "cone in bending" for found in verdict.findings)
    assert verdict.passed
    assert not verdict.proven
    assert verdict.doubts == (f"strength {BODIES}",)
    heavy = replace(asked, duty=Duty(load=500))
    assert "cone in bending" in failed(heavy)


def test_every_joint_of_a_chain_is_proven_beside_the_others_and_at_once() -> None:
    proven = check_product(chain(3))
    assert proven.verdict.proven
    names = [found.name for found in proven.verdict.findings]
    for pair in ("link 1 and link 2", "link 2 and link 3"):
        assert f"{pair}: swing" in names
        assert f"{pair}: turn beside the others" in names
    words = named(proven, "all joints together").words
    assert words.startswith("free for certain, between poses too, with all 2 joints turned at once")


def test_a_chain_that_meets_itself_says_where_and_is_proven_within_what_is_told() -> None:
    made = chain(4)
    turning = {n: replace(j, values={**j.values, "swing": 110}) for n, j in made.joints.items()}
    made = replace(made, joints=turning)
    wide = check_product(made)
    assert wide.verdict.passed
    (doubt,) = wide.verdict.doubts
    told = re.fullmatch(
        r"all joints together is free for certain only from 0 to ([\d.]+) deg", doubt
    )
    assert told
    within = float(told[1])
    words = named(wide, "all joints together").words
    assert "link 1 and link 4 meet" in words
    joints = {n: replace(j, with_others=(0.0, within)) for n, j in made.joints.items()}
    narrow = check_product(replace(made, joints=joints))
    assert narrow.verdict.proven
    assert "one joint is turned" in named(narrow, "all joints together").words


def test_an_order_names_every_joint_once_or_none() -> None:
    made = chain(4)
    names = tuple(made.joints)[::-1]
    assert mechanism(replace(made, order=names)).order == tuple(
        made.joints[name].pair for name in names
    )
    assert mechanism(replace(made, order=())).order == ()
    with pytest.raises(JobError, match="every joint has to be in it once"):
        replace(made, order=names[:2])
    with pytest.raises(JobError, match="no joint is called so"):
        replace(made, order=("pin_9",))


def test_a_joint_is_not_turned_further_with_others_than_alone() -> None:
    joints = {n: replace(j, with_others=(0.0, 95.0)) for n, j in chain(3).joints.items()}
    with pytest.raises(JobError, match=re.escape("This works: [0, 90].")):
        check_product(replace(chain(3), joints=joints))


def passing(gap: float) -> Product:
    """A flap that is longer than its base passes a post beside that, so far away (mm)."""
    made = chain(2)
    base, flap = Plate(length=30, width=16, height=4), Plate(length=40, width=16, height=4)
    post = Plate(length=6, width=6, height=24, at=(20 + 3 + gap, 15.5), loose=True)
    return replace(made, bodies={"link_1": base, "link_2": flap, "post": post})


@pytest.mark.parametrize(("gap", "good"), [(0.02, False), (0.3, True)])
def test_what_passes_another_body_too_near_is_as_good_as_met(gap: float, good: bool) -> None:
    found = named(check_product(passing(gap)), "link 1 and link 2: turn beside the others")
    assert found.passed is good
    assert ("link 2 passes post by 0.020 mm" in found.words) is not good
    assert ("as good as met" in found.words) is not good


@pytest.mark.parametrize(("gap", "good"), [(0.105, False), (0.25, True)])
def test_what_passes_another_body_must_do_so_on_enough_printers(gap: float, good: bool) -> None:
    """Both walls grow into the way; they print far apart, so that nothing closes it."""
    name = "link 1 and link 2: turn beside the others"
    proven = check_product(passing(gap))
    told = named(proven, name)
    assert told.passed
    assert told.measured == pytest.approx(gap, abs=0.006)
    every = named(proven, "rough fleet, all together")
    assert every.passed is good
    assert name in every.words
    assert "apart" not in every.words
    assert proven.verdict.passed is good


def test_two_hinges_of_one_lid_are_one_angle() -> None:
    made = box(length=20)
    (joint,) = made.joints.values()
    made = replace(made, bodies={"box": tray(14, length=70), "lid": tray(8, length=70)})
    joints = {f"hinge_{side}": replace(joint, offset=k * 15) for k, side in ((-1, "l"), (1, "r"))}
    found = check_product(replace(made, joints=joints))
    assert found.verdict.proven
    assert not [f for f in found.verdict.findings if f.name == "all joints together"]


def test_hinges_of_one_lid_click_at_once_and_hold_it_shut() -> None:
    clicks: dict[str, Any] = {"detent_at": 85, "detent_also": 180, "leaf_length": 26, "length": 20}
    made = box(**clicks)
    (joint,) = made.joints.values()
    made = replace(made, bodies={"box": tray(14, length=90), "lid": tray(8, length=90)})
    joints = {f"hinge_{side}": replace(joint, offset=k * 22) for k, side in ((-1, "l"), (1, "r"))}
    found = check_product(replace(made, joints=joints))
    assert found.verdict.proven
    told = [f.name for f in found.verdict.findings if "detent 2 at 180 deg" in f.name]
    assert len(told) == len(joints)


def test_what_prints_on_its_edge_folds_face_to_face() -> None:
    """Walls stand where the leaves are, twice the setback apart when shut, less their thickness."""
    proven = check_product(cover())
    assert proven.verdict.passed
    (turn,) = proven.whole.joints
    front, back = proven.whole.bodies
    middle = turn.axis.origin[0] if turn.axis else 0
    shut = turn.moved(back.solid.trim_by_plane((1, 0, 0), middle + 20), 180)
    assert shut is not None
    there = front.solid.trim_by_plane((-1, 0, 0), 20 - middle)
    assert shut.min_gap(there, 20) == pytest.approx(8, abs=0.01)


@pytest.mark.parametrize("turned", [0.0, 25.0])
def test_what_closes_on_its_edge_lies_face_on_face(turned: float) -> None:
    made = wallet()
    front = replace(made.bodies["front"], turn=turned)
    proven = check_product(replace(made, bodies={**made.bodies, "front": front}))
    assert proven.verdict.proven
    words = named(proven, "shut at 180 deg").words
    touching, facing = map(float, re.findall(r"(\d+) mm2", words))
    assert 0.98 * 40 * 50 < touching <= 40 * 50
    assert facing == pytest.approx(touching, rel=0.02)
    assert named(proven, "nowhere else at 180 deg").passed


def test_what_hovers_over_what_it_closes_on_is_not_shut() -> None:
    """The axis half a millimetre before each face; leaves reach the plates all the same."""
    off = 20 + wallet().fitted["spine"].off
    on, other = Place(x=off, y=3.5, way=0), Place(x=-off, y=4.5, way=0)
    found = failed(wallet(place=on, moving_place=other))
    assert "the plane of the axis is not touched: back hovers 1.00 mm" in (
        found["shut at 180 deg"].words
    )


@pytest.mark.parametrize(("web", "border", "good"), [(20, 12, True), (24, 8, False)])
def test_sheets_that_would_carry_a_body_to_two_places_block_each_other(
    web: float, border: float, good: bool
) -> None:
    """Both are as long with their borders, so that they fit as they print."""
    plate = Plate(length=100, width=30, height=2.4)

    def sheet(offset: float, web: float, border: float) -> ProductJoint:
        values = {"web_length": web, "border": border, "sheet_width": 40}
        return ProductJoint(
            family=SheetFlexure,
            fixed="one",
            moving="two",
            moving_edge="front",
            offset=offset,
            values=values,
        )

    joints = {"left": sheet(-25, 20, 12), "right": sheet(25, web, border)}
    bodies = {"one": plate, "two": plate}
    found = failed(Product(name="two", bodies=bodies, joints=joints, layer_heights=(0.2,)))
    assert list(found) == ([] if good else ["one and two: one motion"])


def test_a_plate_of_parts_is_one_piece_until_it_is_snapped_apart() -> None:
    token = Plate(length=24, width=24, height=2.4)
    joints = {
        f"web_{k}": ProductJoint(
            family=BreakAwayLink, fixed="a", moving=name, edge=edge,
            values={"edge": 16, "border": 4},
        )
        for k, (name, edge) in enumerate((("b", "right"), ("c", "back")))
    }  # fmt: skip
    bodies = dict.fromkeys("abc", token)
    proven = check_product(Product(name="tokens", bodies=bodies, joints=joints))
    assert proven.verdict.passed
    assert [piece.bodies for piece in proven.whole.pieces] == [("a", "b", "c")]
    assert named(proven, "a and b: one piece").passed


def test_a_product_that_bends_is_one_piece_and_free_for_certain() -> None:
    plate = Plate(length=40, width=20, height=2)
    joint = ProductJoint(family=SheetFlexure, fixed="front", moving="back", values={"swing": 90})
    product = Product(
        name="book", bodies={"front": plate, "back": plate}, joints={"spine": joint},
        layer_heights=(0.2,),
    )  # fmt: skip
    proven = check_product(product)
    assert [piece.bodies for piece in proven.whole.pieces] == [("front", "back")]
    assert proven.verdict.passed
    assert not proven.verdict.doubts
    (passed,) = (found for found in proven.verdict.findings if "bent past" in found.name)
    assert "free for certain between them, too" in passed.words


def test_several_pieces_that_bend_are_pieces_of_their_own() -> None:
    """Two books side by side, and so near that they fuse."""
    plate, far = (
        Plate(length=40, width=20, height=2),
        Plate(length=40, width=20, height=2, at=(60, 0)),
    )
    pages = {"front": plate, "back": plate, "left": far, "right": far}
    joints = {
        name: ProductJoint(family=SheetFlexure, fixed=fixed, moving=moving, values={"swing": 10})
        for name, fixed, moving in (("spine", "front", "back"), ("fold", "left", "right"))
    }
    made = Product(name="books", bodies=pages, joints=joints, layer_heights=(0.2,))
    proven = check_product(made)
    assert [piece.bodies for piece in proven.whole.pieces] == [("front", "back"), ("left", "right")]
    assert [piece.title for piece in proven.whole.pieces] == ["piece 1", "piece 2"]
    assert proven.verdict.passed
    assert not proven.verdict.doubts
    names = [found.name for found in proven.verdict.findings]
    assert {"front and back: piece 1", "left and right: piece 2"} <= set(names)
    assert "all joints together" in names
    near = replace(far, at=(40.05, 0))
    found = failed(replace(made, bodies={**pages, "left": near, "right": near}))
    assert "piece 1 and piece 2: gap at rest" in found


def test_a_tall_wall_beside_a_fold_is_met() -> None:
    low, tall = Plate(length=40, width=20, height=30), Plate(length=40, width=20, height=30)
    joint = ProductJoint(
        family=SheetFlexure, fixed="low", moving="tall", values={"swing": 90, "thickness": 2.4}
    )
    product = Product(
        name="book", bodies={"low": low, "tall": tall}, joints={"spine": joint},
        layer_heights=(0.2,),
    )  # fmt: skip
    words = failed(product)["low and tall bent past each other"].words
    assert words.startswith("tall meets low around")


@pytest.mark.parametrize("turned", [0.0, 90.0, 30.0])
def test_where_it_stands_on_the_bed_makes_no_difference(turned: float) -> None:
    made = box()
    first = replace(made.bodies["box"], turn=turned, at=(5.0, -3.0))
    moved = check_product(replace(made, bodies={**made.bodies, "box": first}))
    assert moved.verdict.passed
    for name in ("swing", "gap at rest"):
        one, other = named(moved, name), named(small(), name)
        assert one.measured == pytest.approx(other.measured, abs=2e-3)


@pytest.mark.parametrize(("to", "proven"), [(90.0, True), (120.0, False)])
def test_a_notebook_is_bent_at_both_sheets_at_once(to: float, proven: bool) -> None:
    """Further than its covers lie on each other they meet: then it says how far they are free."""
    cover, spine = (Plate(length=20, width=wide, height=2) for wide in (30.0, 12.0))
    bodies = {"front": cover, "spine": spine, "back": replace(cover)}
    values = {"swing": to, "swing_down": 10, "border": 3, "strain": 20, "segments": 8}
    pairs = (("front", "spine"), ("spine", "back"))
    joints = {
        f"fold_{k}": ProductJoint(
            family=SheetFlexure, fixed=fixed, moving=moving, moving_edge="front", values=values
        )
        for k, (fixed, moving) in enumerate(pairs)
    }
    made = check_product(
        Product(name="notebook", bodies=bodies, joints=joints, layer_heights=(0.2,))
    )
    (found,) = (one for one in made.verdict.findings if one.name == "all joints together")
    assert made.verdict.passed
    assert bool(made.verdict.doubts) is not proven
    assert ("is free for certain only" in found.leaves_open) is not proven
    assert ("front and back meet" in found.words) is not proven


def test_what_a_joint_bears_by_itself_is_asked_of_its_detent(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made = box()
    joint = replace(made.joints["hinge"], duty=Duty(hours=1000))
    asked: list[Duty | None] = []

    def seen(turn: Turn, whole: Mechanism, case: Case) -> JointProof:
        asked.append(case.duty)
        return JointProof(turn, ())

    monkeypatch.setattr(Turn, "prove", seen)
    for joints in (made.joints, {"hinge": joint}):
        whole = mechanism(replace(made, joints=joints))
        whole.joints[0].prove(whole, Case(duty=Duty(hours=1)))
    assert [duty and duty.hours for duty in asked] == [1, 1000]
