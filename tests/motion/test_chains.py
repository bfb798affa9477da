"""What bends, as a chain of turns: as it is drawn, and never farther than its bounds say."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from scadgen import mesh
from scadgen.families.break_away_link import BreakAwayLink
from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.families.slit_lattice import SlitLattice
from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.motion.arms import Arm, Step, directions
from scadgen.motion.at_once import at_once
from scadgen.motion.axis import Axis
from scadgen.motion.chains import Bend, Chain, Web
from tests.shapes import box
from tests.support import some_hinges

#: Volume that rounding may leave, mm3.
NOTHING = 1e-3
BENT = [SheetFlexure, SlitLattice]


def chain_of(hinge: Hinge) -> Chain:
    assert isinstance(hinge, Flexure)
    found = hinge.chain()
    assert found is not None
    return found


@pytest.mark.parametrize("cls", BENT)
def test_it_carries_and_holds_all_that_is_drawn(cls: type[Flexure]) -> None:
    for hinge in (cls(), *some_hinges(cls, 1)):
        chain, (fixed, moving) = chain_of(hinge), (mesh(hinge, p, 0) for p in ("fixed", "moving"))
        low, high = hinge.lowest(), float(hinge.swing)
        for bend in (low, 0.37 * high, high):
            drawn, there = (
                mesh(hinge, "moving", bend),
                Arm(moving, (Bend(chain, 0),)).placed([bend]),
            )
            assert (drawn - there).volume() + (there - drawn).volume() < NOTHING
            again = Arm(there, (Bend(chain, 0, -1),)).placed([bend])
            assert (moving - again).volume() < NOTHING
            web = mesh(hinge, "both", bend) - fixed - drawn
            rooms = Web.of(chain, 0, ()).placed([bend])
            assert (web - rooms).volume() < NOTHING < web.volume()


def test_webs_in_recesses_are_not_held_by_their_links() -> None:
    assert BreakAwayLink().chain() is None


def arms_of(chain: Chain) -> list[Arm]:
    pin = Step(Axis((0.0, 40.0, 3.0), (1.0, 0.2, 0.1)), 0)
    far = box((-5, 20, -1), (5, 35, 2))
    bend, back = Bend(chain, 1), Bend(chain, 1, -1)
    return [
        Arm(far, (bend,)),
        Arm(far, (back,)),
        Arm(far, (pin, bend)),
        Arm(far, (bend, pin)),
        Web.of(chain, 1, ()),
        Web.of(chain, 1, (pin,)),
        Web.of(chain, 1, (pin, back)),
    ]


@pytest.mark.parametrize("which", range(7))
@pytest.mark.parametrize("cls", BENT)
def test_no_corner_strays_farther_than_its_bounds(cls: type[Flexure], which: int) -> None:
    arm = arms_of(chain_of(cls()))[which]
    ways, rng = directions((arm,)), np.random.default_rng(which)
    for _ in range(6):
        middle, half = rng.uniform(-1.2, 1.2, (1, 2)), rng.uniform(0, 0.6, (1, 2))
        here = arm.at(middle)
        within, reach = here.ways(half), here.farthest(half, ways)
        for _ in range(8):
            there = arm.at(middle + half * rng.uniform(-1, 1, (1, 2)))
            strays = np.linalg.norm(there.places - here.places, axis=2)
            assert (strays <= within + 1e-9).all()
            assert ((there.places @ ways.T).max(1) <= reach + 1e-9).all()


@pytest.mark.parametrize("which", range(7))
def test_speeds_are_those_of_the_corners(which: int) -> None:
    arm, small = arms_of(chain_of(SheetFlexure()))[which], 1e-6
    middle = np.array([[0.3, -0.7]])
    here, (low, high) = arm.at(middle), (arm.at(middle + way * small) for way in (-1, 1))
    moved: Any = sum(here.speeds)
    assert moved == pytest.approx((high.places - low.places) / (2 * small), abs=1e-5)


def test_a_pose_is_where_its_corners_are() -> None:
    for arm in arms_of(chain_of(SlitLattice())):
        pose = (17.0, -33.0)
        box_of = np.array(arm.placed(pose).bounding_box()).reshape(2, 3)
        places = arm.at(np.radians([pose])).places[0]
        assert np.array([places.min(0), places.max(0)]) == pytest.approx(box_of, abs=1e-6)


def covers(bend: float) -> tuple[float, bool]:
    """How much of a bend two covers are free for at once, about a spine; whether they meet."""
    hinge = SheetFlexure(swing=120, web_length=20, border=2, sheet_width=20)
    chain, half = chain_of(hinge), (6 + hinge.web_length) / 2
    near, far = (_shifted(chain, way) for way in (-half, half))
    inner, outer = half + hinge.web_length / 2, half + hinge.web_length / 2 + 20
    one = Arm(box((-10, -outer, 0), (10, -inner, 3)), (Bend(near, 0, -1),))
    other = Arm(box((-10, inner, 0), (10, outer, 3)), (Bend(far, 1),))
    found = at_once(one, other, [(0.0, bend)] * 2)
    return found.scale, found.met is not None


def _shifted(chain: Chain, way: float) -> Chain:
    def along(axis: Axis) -> Axis:
        x, y, z = axis.origin
        return Axis((x, y + way, z), axis.direction)

    return chain.carried(lambda room: room.translate((0, way, 0)), along)


def test_covers_close_and_meet_when_they_are_bent_further() -> None:
    assert covers(90) == (1.0, False)
    scale, met = covers(130)
    assert met
    assert 90 < 130 * scale < 130
