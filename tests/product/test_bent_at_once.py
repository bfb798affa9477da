"""Joints of which some bend, at once: what is searched is what the joints do."""

from __future__ import annotations

import pytest

from scadgen import RodLoops, SheetFlexure
from scadgen.mechanism.mechanism import Mechanism
from scadgen.product.bodies import Plate
from scadgen.product.building import mechanism
from scadgen.product.model import Product, ProductJoint
from scadgen.proof.at_once import Bending, Group, Path, searched_paths

FREE = (0.0, 90.0)
NEAR = 60.0


def whole() -> Mechanism:
    """A page on a fold, on a strip on a pivot."""
    plate, strip = Plate(length=20, width=30, height=4.0), Plate(length=20, width=16, height=4.0)
    values = {"swing": 90, "swing_down": 90, "border": 3, "strain": 20, "segments": 8}
    joints = {
        "pin": ProductJoint(
            family=RodLoops, fixed="base", moving="strip", moving_edge="front",
            values={"facets": 16, "length": 20},
        ),
        "fold": ProductJoint(
            family=SheetFlexure, fixed="strip", moving="page", moving_edge="front", values=values
        ),
    }  # fmt: skip
    bodies = {"base": plate, "strip": strip, "page": Plate(length=20, width=30, height=4.0)}
    return mechanism(Product(name="mixed", bodies=bodies, joints=joints))


def paths_of(made: Mechanism) -> list[Path]:
    groups = [Group(joint, FREE, FREE) for joint in made.joints]
    return [*searched_paths(made, groups, [g for g in groups if g.joint.chain])]


def test_a_path_carries_bodies_as_their_joints_do() -> None:
    made = whole()
    (path,) = (p for p in paths_of(made) if not any(isinstance(end, Bending) for end in p.pair))
    pin, fold = made.joints
    base, page = (made.body(name).solid for name in ("base", "page"))
    assert pin.axis is not None
    for turn, bend in ((0.0, 0.0), (30.0, 40.0), (80.0, -25.0), (15.0, 85.0)):
        angles = {pin: turn, fold: bend}
        one, other = (
            arm.placed([angles[group.joint] for group in path.groups]) for arm in path.arms()
        )
        bent = fold.moved(page, bend)
        assert bent is not None
        there = pin.axis.turn(bent, turn)
        assert one.min_gap(other, NEAR) == pytest.approx(base.min_gap(there, NEAR), abs=1e-6)


def test_what_bends_is_asked_beside_bodies_that_its_joint_has_no_part_in() -> None:
    webs = [p for p in paths_of(whole()) if isinstance(p.pair[0], Bending)]
    assert [path.names for path in webs] == ["what bends between strip and page and base"]
    assert all(len(path.groups) == 2 for path in webs)
