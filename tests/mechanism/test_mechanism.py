"""Mechanisms: bodies by name, what a joint carries along, and every body accounted for."""

from __future__ import annotations

import itertools
from functools import partial

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.hinge.family import Hinge
from scadgen.hinge.meshing import mesh
from scadgen.mechanism.joint import Case
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.proof.verdict import check
from scadgen.proof.whole import Printed, prove
from tests.mechanism.posing import posed
from tests.support import each_family

BOX = Manifold.cube((4, 4, 4), True)


def row(count: int) -> tuple[Body, ...]:
    """Boxes a, b, c ... 10 mm apart along x."""
    names = "abcdefgh"[:count]
    places = [(10.0 * k, 0, 0) for k in range(count)]
    return tuple(
        Body(n, n, partial(BOX.translate, place)) for n, place in zip(names, places, strict=True)
    )


def turn(fixed: str, moving: str, x: float = 0.0) -> Turn:
    """A joint about an upright line at x (mm)."""
    return Turn(fixed=fixed, moving=moving, about=Axis((x, 0, 0), (0, 0, 1)))


CHAIN = Mechanism("chain", row(4), (turn("a", "b", 5), turn("c", "b", 15), turn("c", "d", 25)))


def middle(solid: Manifold) -> list[float]:
    box = np.array(solid.bounding_box())
    return ((box[:3] + box[3:]) / 2).tolist()  # type: ignore[no-any-return]


def test_a_joint_carries_what_hangs_on_its_moving_side() -> None:
    carried = [set(CHAIN.carried(joint)) for joint in CHAIN.joints]
    assert carried == [{"b", "c", "d"}, {"a", "b"}, {"d"}]


def test_two_joints_between_the_same_bodies_move_together() -> None:
    whole = Mechanism("lid", row(2), (turn("a", "b"), turn("a", "b")))
    assert whole.carried(whole.joints[0]) == {"b"}


def test_in_a_loop_no_joint_moves_alone_and_the_proof_says_that_it_is_not_covered() -> None:
    bodies = row(3)
    joints = (turn("a", "b", 5), turn("b", "c", 15), turn("c", "a", 10))
    whole = Mechanism("loop", bodies, joints)
    assert all(joint.fixed in whole.carried(joint) for joint in joints)
    proof = prove(whole, Printed((0.2,), 10.0, floor=-2.0), Case())
    loops = [finding for finding in proof.findings if finding.name.endswith(": loop")]
    assert len(loops) == 3
    assert not any(finding.passed for finding in loops)
    assert all("not covered" in finding.words for finding in loops)


def test_at_a_position_each_piece_stands_where_the_joint_has_carried_it() -> None:
    placed = {piece.title: middle(solid) for piece, solid in CHAIN.at(90, CHAIN.joints[0])}
    assert placed["a"] == pytest.approx([0, 0, 0])
    for name, along in (("b", 5), ("c", 15), ("d", 25)):
        assert placed[name] == pytest.approx([5, along, 0])


def test_all_joints_turn_as_a_row_of_links_does() -> None:
    """Against the sum of the links' own vectors, each turned by all turns before it."""
    angles = (30.0, -70.0, 110.0)
    signs = (1, -1, 1)  # the second joint is told the other way round
    placed = posed(CHAIN, dict(zip(CHAIN.joints, angles, strict=True)))
    heads = np.radians(np.cumsum([s * a for s, a in zip(signs, angles, strict=True)]))
    pivot = np.array([5.0, 0.0])
    for name, head in zip("bcd", heads, strict=True):
        way = np.array([np.cos(head), np.sin(head)])
        assert middle(placed[name])[:2] == pytest.approx(list(pivot + 5 * way), abs=1e-6)
        pivot = pivot + 10 * way


def test_bodies_that_nothing_holds_are_told_and_fail() -> None:
    whole = Mechanism("spare", row(3), (turn("a", "b", 5),), loose=())
    assert [body.name for body in whole.unheld] == ["c"]
    loose = Mechanism("spare", row(3), (turn("a", "b", 5),), loose=("c",))
    assert loose.unheld == ()


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Mechanism("m", (*row(1), *row(1))), "two bodies of one name"),
        (lambda: Mechanism("m", row(1), (turn("a", "z"),)), "no body is called 'z'"),
        (lambda: Mechanism("m", row(1), loose=("q",)), "no body is called 'q'"),
    ],
)
def test_names_that_are_wrong_are_refused(make: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        make()  # type: ignore[operator]


@each_family
def test_a_hinge_has_named_bodies_all_of_them_held(cls: type[Hinge]) -> None:
    hinge = cls()
    whole = hinge.mechanism()
    assert whole.unheld == ()
    (joint,) = whole.joints
    assert joint.pair == ("fixed", "moving")
    assert joint.asked == (hinge.lowest(), hinge.swing)
    volume = sum(piece.solid.volume() for piece in whole.pieces)
    assert volume == pytest.approx(mesh(hinge, angle=0).volume(), rel=1e-6)
    assert (joint.axis is None) != (joint.fold_line is None)


@each_family
def test_at_the_end_of_its_turn_it_is_as_its_module_draws_it(cls: type[Hinge]) -> None:
    hinge = cls(facets=16)
    end = hinge.swing - 1
    placed = [solid for _, solid in hinge.mechanism().at(end)]
    drawn = mesh(hinge, angle=end)
    together = sum(placed[1:], placed[0])
    assert (together - drawn).volume() + (drawn - together).volume() < 1e-3


def test_a_hinge_that_tells_no_joint_is_proven_by_nothing() -> None:
    """A kind without a mechanism: its bodies are there, nothing holds them, and that fails."""
    from scadgen import BreakAwayLink, CaptiveCone

    for family, count in ((CaptiveCone, 2), (BreakAwayLink, 1)):
        plain = type(family.__name__, (family,), {"mechanism": Hinge.mechanism})
        verdict = check(plain(facets=16), (0.3,))
        failed = [finding for finding in verdict.findings if not finding.passed]
        wanted = ["joint"] if count == 1 else ["fixed body is held", "moving body is held"]
        assert [finding.name for finding in failed] == wanted


def test_strangers_that_touch_or_are_in_the_way_are_told_with_the_place() -> None:
    from tests.inspection.test_mechanisms import HINGE

    fixed, moving = mesh(HINGE, "fixed"), mesh(HINGE, "moving")
    joint = HINGE.mechanism().joints[0]
    beside = BOX.translate((12, 9, 3))
    solids = {"fixed": fixed, "moving": moving, "stone": beside}
    bodies = tuple(Body(n, n, partial(solids.__getitem__, n)) for n in solids)
    whole = Mechanism("yard", bodies, (joint,), loose=("stone",))
    found = {f.name: f for f in prove(whole, Printed((0.3,), 10.0), Case()).findings}
    passing = found["fixed and moving: turn beside the others"]
    assert not passing.passed
    assert passing.place is not None
    assert "moving meets stone around (" in passing.words
    assert 0 < passing.place.angle < HINGE.swing
    pairs = list(itertools.combinations(solids, 2))
    near = [f"{a} and {b}: gap at rest" for a, b in pairs if "stone" in (a, b)]
    assert all(found[name].passed for name in near if name in found)
