"""Links under loads: where they bear, how zones share, and what is found and left open."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen import CaptiveCone, FacingCones
from scadgen.elements.bearing import facing, shared, stretches, zones
from scadgen.elements.bears import acting, borne
from scadgen.elements.judged import APART, MOST, Asked, cut_twice, judged, said, sizes, worst
from scadgen.elements.links import PIECES, pushes
from scadgen.elements.of_hinge import NotLoaded, asked_of, refusal
from scadgen.elements.of_hinge import solved as solved_of
from scadgen.elements.skin import skin
from scadgen.elements.tilting import TILTS
from scadgen.elements.turning import Cut, Load, half_way
from scadgen.findings.finding import Finding
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.strength.duty import Duty
from scadgen.strength.filling import Filling
from scadgen.strength.lasting import modulus_left, strength_left
from scadgen.strength.materials import material
from scadgen.strength.place import often

PETG = material("petg")
UPRIGHT = Axis((0, 0, 0), (0, 0, 1))
#: A pin of 6 mm on a bar, in a ring on another bar: 0.3 mm of gap.
PIN, BORE, HIGH = 3.0, 3.3, 6.0
BAR, LONG, WIDE = 5.0, 14.0, 9.0


def pin_and_ring() -> tuple[Manifold, Manifold]:
    """Bodies that no family drew: the pin stands on its bar, the ring lies over it."""
    pin = Manifold.cylinder(HIGH + BAR + 0.3, PIN, circular_segments=48)
    bar = Manifold.cube((LONG, WIDE, BAR)).translate((-LONG, -WIDE / 2, 0))
    ring = Manifold.cylinder(HIGH, BORE + 2.5, circular_segments=48)
    arm = Manifold.cube((LONG, WIDE, HIGH)).translate((0, -WIDE / 2, 0))
    hole = Manifold.cylinder(HIGH + 2, BORE, circular_segments=48).translate((0, 0, -1))
    return pin + bar, (ring + arm - hole).translate((0, 0, BAR + 0.3))


def mechanism() -> Mechanism:
    """The same as a mechanism, as an inspected model gives it."""
    pin, ring = pin_and_ring()
    bodies = (Body("a", "body 1", lambda: pin), Body("b", "body 2", lambda: ring))
    return Mechanism("model", bodies, (Turn(fixed="a", moving="b", about=UPRIGHT),))


def test_a_push_aside_bears_on_the_half_that_faces_it_and_one_along_on_the_end() -> None:
    pin, ring = (skin(solid, PIECES) for solid in pin_and_ring())
    here, there = facing(pin, ring, UPRIGHT), facing(ring, pin, UPRIGHT)
    assert here.least == pytest.approx(0.3, abs=0.02)
    for push in pushes(UPRIGHT)[:4]:
        on_pin, on_ring = zones(here, there, UPRIGHT, push)
        for found, way in ((on_pin, -push), (on_ring, push)):
            for zone in found:
                assert zone.forces.sum(axis=0) == pytest.approx(way, abs=0.02)
                assert (zone.points @ push > 0).all()
                assert np.hypot(*zone.points[:, :2].T).max() < BORE + 0.01
    along = pushes(UPRIGHT)[4]
    assert zones(here, there, UPRIGHT, -along) == ([], [])  # nothing keeps the ring from rising
    (under,), (over,) = zones(here, there, UPRIGHT, along)
    assert under.points[:, 2] == pytest.approx(BAR)
    assert over.points[:, 2] == pytest.approx(BAR + 0.3)


def test_cones_are_spread_by_a_push_aside() -> None:
    whole = FacingCones(facets=32).mechanism()
    fixed, moving = (skin(body.solid, PIECES) for body in whole.bodies)
    axis = whole.joints[0].axis
    assert axis is not None
    here, there = facing(fixed, moving, axis), facing(moving, fixed, axis)
    on_ears, _ = zones(here, there, axis, pushes(axis)[0])
    assert len(on_ears) == 2
    spread = [zone.forces.sum(axis=0)[2] for zone in on_ears]
    # A cosine over half a cone of 45 degrees: 4/pi of the push, outwards at both ends.
    assert spread == pytest.approx([-4 / np.pi, 4 / np.pi], abs=0.05)


def test_long_bearings_are_cut_into_stretches() -> None:
    places = np.concatenate(
        (np.linspace(0, 10, 50), np.linspace(12, 14, 20), np.linspace(20, 60, 90))
    )
    found = stretches(places)
    assert found[:3] == [(0, 5), (5, 10), (12, 14)]
    assert len(found) == 3 + 4  # a very long one is cut into a few, however long they are


def test_zones_share_a_push_as_they_give_way_and_none_pulls() -> None:
    assert shared(np.array([[1.0, 0], [0, 3]])) == pytest.approx([0.75, 0.25])
    # The far one would have to pull: it lets go.
    assert shared(np.array([[1.0, 2], [2, 5]])) == pytest.approx([1, 0])


def test_zones_that_share_a_push_are_one_that_bears_it_all() -> None:
    coarse, fine = solved()[1]
    for push, way in enumerate(pushes(UPRIGHT)[:5]):
        (one,) = fine.joint.zoned[1][push]
        assert one.forces.sum(axis=0) @ way == pytest.approx(1)
        parts = coarse.joint.zoned[1][push]
        assert len(one.points) == sum(len(zone.points) for zone in parts)


def test_three_ways_are_held_against_three_strengths() -> None:
    strength = borne(PETG)
    up, aside, between = np.eye(6)[[2, 0, 3]]
    assert acting(np.array([up, aside, between])) == pytest.approx(np.eye(3)[[1, 0, 2]].T)
    assert strength.used(-up[None])[1] == 0  # pressed together, layers do not part
    assert strength.across == PETG.strength_across.low
    assert strength.between == PETG.shear_strength(True).low


def test_loads_alone_and_together_come_from_every_side() -> None:
    assert len(list(Load("", 1, 0).ways())) == 8
    assert list(Load("", 0, 2).ways()) == [(0, 0, 0, 0, 2, 0), (0, 0, 0, 0, 0, 2)]
    assert len(list(Load("", 1, 2).ways())) == 16


SIZES, REACH = (0.95, 0.7), 1.2


@cache
def solved() -> tuple[Mechanism, tuple[Cut, Cut]]:
    """The model, both its bodies in coarse cubes."""
    whole = mechanism()
    asked = Asked(1, 1, PETG, hold=7, sizes=SIZES, reach=REACH)
    return whole, cut_twice(whole, whole.joints[0], asked)


def of_model(aside: float, along: float, margin: float = 1.5) -> list[Finding]:
    """What is said of the model under a load."""
    whole, cuts = solved()
    asked = Asked(aside, along, PETG, margin=margin, grip=0.5)
    return list(said(whole, whole.joints[0], cuts, asked))


def test_a_model_from_elsewhere_is_judged_by_its_joint_alone() -> None:
    found = of_model(10, 0)
    assert [one.name for one in found] == [
        "solid, body 1, load",
        "solid, body 2, load",
        "solid, give at the bearing, load",
    ]
    assert all(one.passed for one in found)
    assert "of what" not in found[0].words
    assert found[0].place is not None


def test_it_is_held_half_way_unless_told_and_large_bodies_are_cut_more_coarsely() -> None:
    coarse, fine = solved()[1]
    far = half_way(
        (coarse.joint.fixed, coarse.joint.moving), coarse.joint.zoned[0], coarse.joint.axis
    )
    assert far == pytest.approx((BORE + 2.5 + np.hypot(LONG, WIDE / 2)) / 2, abs=0.2)
    assert (coarse.size, fine.size) == SIZES
    large = sizes(coarse.joint, (0.04, 0.02))
    assert large[0] == pytest.approx(APART * large[1])
    assert large[1] == pytest.approx((coarse.joint.moving.volume() / MOST) ** (1 / 3), rel=0.3)


def test_the_pin_is_bent_across_its_layers_at_its_root_about_as_a_beam_is() -> None:
    found = worst(solved()[1][1], 0, Load("", 10, 0), borne(PETG))
    beam = 32 * 10 * (HIGH / 2 + 0.3) / (np.pi * (2 * PIN) ** 3)
    assert found.points[1][2] == pytest.approx(BAR, abs=0.7)
    assert np.hypot(*found.points[1][:2]) == pytest.approx(PIN, abs=0.7)
    # The root is an inner corner, which a beam does not know.
    assert beam < found.acts[1] < 1.7 * beam


def test_twice_the_load_is_borne_half_as_many_times_and_too_much_fails() -> None:
    one, two = of_model(10, 0), of_model(20, 0)
    assert one[0].measured is not None
    assert one[0].measured == pytest.approx(2 * (two[0].measured or 0))
    assert not of_model(10 * one[0].measured, 0)[0].passed
    strict = of_model(10, 0, 2 * one[0].measured)
    assert not strict[0].passed
    assert strict[0].change


def test_a_pull_that_nothing_bears_fails() -> None:
    (found,) = (one for one in of_model(0, 10))
    assert not found.passed
    assert "free that way" in found.words


def test_what_has_not_converged_is_left_open(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("scadgen.elements.judged.SETTLED", 0.0)
    found = of_model(10, 0)[0]
    assert found.measured is not None
    assert found.leaves_open == ""  # it bears far more than twice what is asked
    near = of_model(10, 0, found.measured / 1.5)[0]
    assert near.passed
    assert "has not converged" in near.leaves_open


def test_links_that_give_way_by_more_than_their_grip_fail_and_than_their_gap_stay_open() -> None:
    whole, cuts = solved()
    gap = Turn(fixed="a", moving="b", about=UPRIGHT, clearance=0.3)
    by_one_newton = cuts[1].gives_way(Load("", 1, 0))
    for way, passed, certain in ((0.1, True, True), (6, False, False)):
        asked = Asked(way / by_one_newton, 0, PETG, grip=0.5)
        found = list(said(whole, gap, cuts, asked))[-1]
        assert (found.passed, not found.leaves_open) == (passed, certain)
        assert "the clearance is 0.3 mm; the grip that is left" in found.words


def test_what_leans_and_pries_turns_past_its_stop_as_its_bearing_gives_way() -> None:
    """Statics of a lever: about the heel at 7 mm, an end at 21 goes twice as far as the axis."""
    whole, cuts = solved()
    gap = Turn(fixed="a", moving="b", about=UPRIGHT, clearance=0.3)
    by_one_newton = cuts[1].gives_way(Load("", 1, 0))
    by_one_newton += abs(by_one_newton - cuts[0].gives_way(Load("", 1, 0)))
    for way, passed in ((0.1, True), (0.2, False)):
        force = way / by_one_newton
        asked = Asked(force, 0, PETG, leans=(7, 21))
        *_, found = said(whole, gap, cuts, asked)
        assert found.name == "solid, turn past the stop, load"
        assert found.measured == pytest.approx(2 * way)
        assert found.passed is passed
        assert found.needed == gap.clearance
    hinge = CaptiveCone()
    leans = asked_of(hinge, Duty(lever=20), PETG).leans
    assert leans == (float(hinge.heel), float(hinge.leaf_end))
    assert asked_of(hinge, Duty(lever=float(hinge.heel) - 1), PETG).leans is None


def test_a_hinge_brings_its_duty_its_clamps_and_its_places() -> None:
    hinge, duty = CaptiveCone(), Duty(3, 20, 5, 1000, 2)
    asked = asked_of(hinge, duty, PETG)
    assert asked.aside == pytest.approx(float(hinge.pried(duty)))
    assert (asked.along, asked.margin) == (5, 2)
    assert asked.share < 1
    assert asked.hold is not None
    assert hinge.reach < asked.hold < hinge.leaf_end
    assert asked.grip == pytest.approx(min(float(grip.left) for grip in hinge.grips()))
    assert {name for name, _ in asked.places["moving"]} >= {"arm of the spindle"}


def test_a_mechanism_without_a_bearing_is_refused() -> None:
    whole = dataclasses.replace(mechanism(), joints=())
    with pytest.raises(ValueError, match="no body turns"):
        next(iter(judged(whole, Asked(1, 1, PETG))))


def test_bodies_that_are_nowhere_near_are_refused() -> None:
    one = skin(Manifold.cube((1, 1, 1)), 1)
    other = skin(Manifold.cube((1, 1, 1)).translate((0, 0, 3)), 1)
    found = facing(one, other, UPRIGHT)
    assert found.least == pytest.approx(2, abs=0.1)
    with pytest.raises(ValueError, match="looks at"):
        facing(one, one, UPRIGHT)


def _said() -> Iterator[str]:
    yield from (found.words for found in of_model(10, 0))


def test_words_tell_stress_place_direction_and_mesh() -> None:
    words = next(_said())
    for part in ("MPa within layers", "around (", "is pushed by (", "cubes of 0.95 and 0.7 mm"):
        assert part in words


def test_a_solid_bears_what_walls_and_infill_time_and_turns_leave_of_it() -> None:
    hinge, duty = CaptiveCone(), Duty()
    solid = dataclasses.replace(PETG, filling=Filling(2, 1.0, 0.45))
    sparse = dataclasses.replace(PETG, filling=Filling(2, 0.1, 0.45))
    full, less = (asked_of(hinge, duty, plastic).share for plastic in (solid, sparse))
    assert full == pytest.approx(often(duty))
    shares = [
        float(s.permissible) / float(t.permissible)
        for s, t in zip(hinge.strengths(duty, sparse), hinge.strengths(duty, solid), strict=True)
    ]
    assert less == pytest.approx(full * min(shares))
    assert less < full
    lasting = dataclasses.replace(duty, hours=1)
    assert asked_of(hinge, duty, solid).stiff == 1
    assert asked_of(hinge, lasting, solid).stiff == pytest.approx(modulus_left(PETG, lasting))
    assert asked_of(hinge, lasting, solid).share == pytest.approx(
        full * strength_left(PETG, lasting)
    )


def test_a_tilt_is_a_couple_of_zones_that_pushes_nowhere() -> None:
    _, cuts = solved()
    joint = dataclasses.replace(cuts[0].joint, tilted=True)
    assert "zoned" not in vars(joint)
    upright = np.array(joint.axis.unit)
    for zoned in joint.zoned:
        tilts = zoned[6:]
        assert len(tilts) == len(TILTS)
        ways = []
        for (zone,) in tilts:
            moment = np.cross(zone.points, zone.forces).sum(axis=0)
            total = zone.forces.sum(axis=0)
            assert np.linalg.norm(total) < 0.1 * np.linalg.norm(zone.forces, axis=1).sum()
            level = moment - (moment @ upright) * upright
            assert np.linalg.norm(level) == pytest.approx(1, rel=0.1)
            ways.append(moment)
        assert ways[0] @ ways[1] < -0.9
        assert abs(ways[0] @ ways[2]) < 0.1


def test_a_load_beside_the_middle_tilts_and_asks_for_more() -> None:
    hinge, duty = CaptiveCone(facets=32), Duty(3, 0, 2, 1, 1)
    beside = dataclasses.replace(duty, offset=20.0, pull_lever=30.0)
    asked = asked_of(hinge, beside, PETG)
    assert asked.tilts == (60, 60)
    assert [load.tilt for load in asked.loads()] == [60, 60, 120]
    assert [load.tilt for load in asked_of(hinge, duty, PETG).loads()] == [0, 0, 0]
    whole = hinge.mechanism()
    rough = dataclasses.replace(asked, sizes=SIZES, reach=REACH)
    cuts = cut_twice(whole, whole.joints[0], rough)
    tilted, plain = (
        {one.name: one for one in said(whole, whole.joints[0], cuts, one_asked)}
        for one_asked in (rough, dataclasses.replace(rough, tilts=(0.0, 0.0)))
    )
    for load in ("load", "pull"):
        name = f"solid, moving link, {load}"
        more, less = tilted[name].measured, plain[name].measured
        assert more is not None
        assert less is not None
        assert more < less / 2
        assert "tilted by 60 N mm any way, is pushed by" in tilted[name].words
        assert "tilted" not in plain[name].words
    # Within a factor of two of the formula, as an even load is.
    arm = next(s for s in hinge.strengths(beside, PETG) if s.name == "arm of the spindle")
    both = tilted["solid, moving link, load and pull"].measured
    assert both is not None
    assert 0.5 < both / float(arm.factor) < 2


def test_what_is_too_short_for_a_tilt_is_told() -> None:
    whole, cuts = solved()
    joint = dataclasses.replace(cuts[0].joint, tilted=True)
    fixed, moving = ([*one[:6], [], [], [], []] for one in joint.zoned)
    short = dataclasses.replace(joint, shared=(fixed, moving))
    answers = [
        dataclasses.replace(
            one,
            stresses=[*one.stresses, [], [], [], []],
            gives_way=[*one.gives_way, *[np.zeros((0, 0))] * 4],
        )
        for one in cuts[0].answers
    ]
    cut = Cut(short, cuts[0].size, (answers[0], answers[1]))
    asked = Asked(1, 0, PETG, tilts=(5, 0))
    (found,) = said(whole, whole.joints[0], (cut, cut), asked)
    assert not found.passed
    assert "the bearing is too short" in found.words


def test_a_solid_of_which_nobody_knows_what_is_left_is_refused() -> None:
    duty = dataclasses.replace(Duty(), hours=1000.0, celsius=120.0)
    assert "take another plastic" in refusal(CaptiveCone(), duty, PETG)
    with pytest.raises(NotLoaded, match="take another plastic"):
        solved_of(CaptiveCone(), duty, PETG)
