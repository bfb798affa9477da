"""Prisms along a line, together: held against the solids that they stand for."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import CrossSection, JoinType, Manifold, OpType

from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.meshing import mesh, raised_alike, raised_parts, unmerged_meshes
from scadgen.motion.relief import SKIN, _Room, rooted
from scadgen.motion.rest import body
from scadgen.motion.slabs import body_of
from scadgen.motion.stack import Beside, Prism, Stack, across, body_together, made
from scadgen.trees.raised import Raised
from tests.support import each_family, some_hinges

X = (1.0, 0.0, 0.0)
LINES = [X, (0.0, 1.0, 0.0), (0.0, 0.0, -1.0), (0.6, 0.0, 0.8)]
FLEXURES = [cls for cls in all_families().values() if issubclass(cls, Flexure)]
each_flexure = pytest.mark.parametrize("cls", FLEXURES, ids=[cls.family for cls in FLEXURES])

places = st.integers(0, 6)
slabs = st.tuples(places, places, places, st.integers(1, 3), st.integers(1, 3), st.integers(1, 3))


def block(x: float, y: float, z: float, long: float = 2, wide: float = 1, high: float = 1) -> Prism:
    """A box with a corner at (x, y, z), its outline in y and z."""
    return Prism(CrossSection.square((wide, high)).translate((y, z)), x, x + long)


def solids(*prisms: Prism) -> Manifold:
    """What they are together."""
    return Manifold.batch_boolean(list(made(Stack(X, prisms))), OpType.Add)


RING = (0, 0, 0), (0, 5, 0), (0, 0, 0, 1, 6), (1.5, 0, 0, 0.5, 6)


@pytest.mark.parametrize(
    ("blocks", "pieces", "openings"),
    [
        (((0, 0, 0),), 1, 0),
        (((0, 0, 0), (1, 0.5, 0.5)), 1, 0),
        (((0, 0, 0), (2, 0, 0)), 1, 0),  # end to end
        (((0, 0, 0), (2.1, 0, 0)), 2, 0),
        (((0, 0, 0), (0, 1.1, 0)), 2, 0),
        (((0, 0, 0), (0, 1.1, 0), (2, 0, 0, 1, 3)), 1, 0),  # a fork
        (RING, 1, 1),
        ((*RING, (0, 9, 0)), 2, 1),
        ((*RING, (0, 2.5, 0)), 1, 2),
        (RING[:3], 1, 0),
    ],
)
def test_pieces_and_openings_of_blocks(
    blocks: tuple[tuple[float, ...], ...], pieces: int, openings: int
) -> None:
    prisms = [block(*each) for each in blocks]
    found = body_of(prisms)
    assert found is not None
    assert (found.pieces, found.openings, found.voids) == (pieces, openings, 0)
    assert found.watertight
    assert found.volume == pytest.approx(solids(*prisms).volume())


def test_of_slabs_with_a_hole_nothing_is_said_and_the_solid_is_made() -> None:
    ring = Prism(CrossSection.circle(3, 32) - CrossSection.circle(2, 32), 0.0, 2.0)
    assert body_of([ring]) is None
    assert body_together(Stack(X, (ring,))).openings == 1
    whole = Prism(CrossSection.circle(3, 32), 2.0, 3.0)
    ends = (ring, whole, replace(whole, low=-1.0, high=0.0))
    assert body_of(ends) is None
    assert body_together(Stack(X, ends)).voids == 1


@given(st.lists(slabs, min_size=1, max_size=9))
def test_they_are_as_sound_as_the_solid_that_they_make(rows: list[tuple[int, ...]]) -> None:
    """Blocks on a grid that overlap or are a little apart, and never touch by an edge."""
    prisms = [
        Prism(
            CrossSection.square((wide + 0.1, high + 0.2)).translate((y * 0.9, z * 0.95)),
            x * 0.8,
            x * 0.8 + long + 0.3,
        )
        for x, y, z, long, wide, high in rows
    ]
    found = body_of(prisms)
    if found:
        whole = body(solids(*prisms))
        assert replace(found, volume=0) == replace(whole, volume=0)
        assert found.volume == pytest.approx(whole.volume)


@each_flexure
def test_what_bends_is_as_sound_as_its_solid_and_as_large(cls: type[Flexure]) -> None:
    for hinge in (cls(), *some_hinges(cls, 1)):
        assert isinstance(hinge, Flexure)
        angles = (hinge.swing, hinge.lowest() / 3)
        for angle, parts in zip(angles, raised_parts(hinge, "both", angles), strict=True):
            stack = Stack.of(parts, hinge.fold_line)
            if stack is None:
                continue
            whole, together = mesh(hinge, "both", angle), body_together(stack)
            there = body(whole)
            assert replace(together, volume=0) == replace(there, volume=0)
            assert together.volume == pytest.approx(there.volume, rel=1e-6)
            merged = Manifold.batch_boolean(list(made(stack)), OpType.Add)
            assert (merged - whole).volume() == pytest.approx(0, abs=1e-6 * there.volume)
            assert (whole - merged).volume() == pytest.approx(0, abs=1e-6 * there.volume)


@pytest.mark.parametrize("family", ["sheet_flexure", "slit_lattice"])
def test_sheets_and_lattices_that_are_bent_are_known_as_prisms(family: str) -> None:
    (parts,) = raised_parts(all_families()[family](), "both", (30.0,))
    stack = Stack.of(parts, X)
    assert stack is not None
    assert body_of(stack.prisms) is not None


def test_a_plate_that_is_raised_across_the_line_is_none() -> None:
    upright = Raised.of(CrossSection.square((2, 3)), 4, centered=False)
    assert Stack.of([upright], X) is None
    assert Stack.of([upright.rotate((0, 89, 0))], X) is None
    assert Stack.of([upright.rotate((0, 90, 0))], X) is not None
    assert Stack.of([Manifold.cube((1, 1, 1))], X) is None


@given(st.lists(st.sampled_from("tqm"), max_size=5), st.booleans())
def test_as_prisms_they_are_where_their_solids_are(moves: list[str], centered: bool) -> None:
    outline = CrossSection([[(0, 0), (3, 0), (1, 2)]])
    drawn = Raised.of(outline, 4.0, centered)
    for move in moves:
        match move:
            case "t":
                drawn = drawn.translate((1, -2, 3))
            case "q":
                drawn = drawn.rotate((90, 0, 90))
            case "m":
                drawn = drawn.mirror((1, 0, 1))
    drawn = drawn.rotate((25, 0, 0))
    stack = next(s for line in LINES[:3] if (s := Stack.of([drawn], line)) or line == LINES[2])
    if stack is None:
        return
    (solid,) = made(stack)
    assert solid.volume() == pytest.approx(12)
    assert (solid ^ drawn.solid).volume() == pytest.approx(12, rel=1e-6)


@pytest.mark.parametrize("line", LINES)
def test_carried_and_cut_they_are_as_solids_are(line: tuple[float, float, float]) -> None:
    outline = CrossSection([[(0, 0), (3, 0), (1, 2)]])
    stack = Stack(line, (Prism(outline, 1.0, 5.0), Prism(outline.translate((0, 3)), 2.0, 3.0)))
    for prism, solid in zip(stack.prisms, made(stack), strict=True):
        again = Prism.of(solid, line)
        assert again is not None
        assert (again.low, again.high) == pytest.approx((prism.low, prism.high))
        assert (again.outline ^ prism.outline).area() == pytest.approx(prism.outline.area())
    cut = stack.without(Prism(CrossSection.square((1.5, 1.5)), 0.0, 9.0))
    assert cut is not None
    assert cut.prisms[0].outline.area() < outline.area()
    assert cut.prisms[1].outline.area() == pytest.approx(outline.area())
    assert stack.without(Prism(CrossSection.square((1, 1)), 1.5, 9.0)) is None


def test_carried_about_x_they_go_where_solids_go() -> None:
    stack = Stack(X, (Prism(CrossSection.square((3, 1)), 1.0, 5.0),))
    (solid,), (there,) = made(stack), made(stack.carried(30, (1, 2, 3)))
    wanted = solid.rotate((30, 0, 0)).translate((1, 2, 3))
    assert (wanted ^ there).volume() == pytest.approx(wanted.volume(), rel=1e-9)


def test_prisms_of_one_outline_are_made_one_solid() -> None:
    one, other = CrossSection.square((1, 1)), CrossSection.circle(2, 8)
    spans = (Prism(one, 0.0, 1.0), Prism(other, 2.0, 3.0), Prism(one, 5.0, 7.0))
    alike, alone = made(Stack(X, spans))
    assert alike.volume() == pytest.approx(3)
    assert (alike.bounding_box()[0], alike.bounding_box()[3]) == (0, 7)
    assert (alone.bounding_box()[0], alone.bounding_box()[3]) == (2, 3)


def test_a_solid_that_is_no_prism_is_told_as_none() -> None:
    plate = Manifold.cube((4, 3, 2))
    assert Prism.of(plate, X) is not None
    assert Prism.of(plate - Manifold.cube((1, 1, 1)), X) is None
    assert Prism.of(plate + plate.translate((4, 0, 1)), X) is None
    assert Prism.of(Manifold.cylinder(3, 2, 1.999, 16).rotate((0, 90, 0)), X) is None
    assert Prism.of(Manifold(), X) is None


@each_flexure
def test_an_outlines_own_part_is_that_of_its_solid(cls: type[Hinge]) -> None:
    own = mesh(cls(), "fixed", 0)
    prism, towards = Prism.of(own, X), (0.0, 1.0, 0.0)
    if prism is None:
        return
    outline = rooted(prism.outline, across(towards, X)[:2], 0.3)
    (flat,) = made(Stack(X, (Prism(outline, prism.low - SKIN, prism.high + SKIN),)))
    solid = rooted(own, towards, 0.3)
    for a, b in ((solid, flat), (flat, solid)):
        assert (a - b).volume() < SKIN * 1e-2 * own.surface_area()


def test_beside_a_prism_only_shadows_count_as_long_as_it_goes_all_along() -> None:
    leaning = Manifold.cube((2, 3, 4)).rotate((0, 0, 30)).translate((0, 0, 1))
    cut = Prism(CrossSection.square((9, 2)).translate((-1, 0)), -3.0, 3.0)
    (block_of_it,) = made(Stack(X, (cut,)))
    left = leaning - block_of_it
    beside = Beside.of([leaning], X, cut, lambda: [left])
    assert beside is not None
    assert made(beside) == [left]
    relief = Prism(CrossSection.square((20, 5.4)).translate((-10, 0)), -9.0, 9.0)
    assert beside.room_in(relief, 2.0) == pytest.approx(0.4)
    assert beside.room_in(replace(relief, high=2.0), 2.0) == pytest.approx(2 - 3**0.5)
    assert beside.room_in(replace(relief, high=1.7), 2.0) == 0
    assert Beside.of([leaning], X, replace(cut, high=1.0), lambda: [left]) is None


@given(st.lists(slabs, min_size=1, max_size=5), st.lists(slabs, min_size=1, max_size=5))
def test_in_a_relief_they_have_as_much_room_as_their_solids(
    rows: list[tuple[int, ...]], cut: list[tuple[int, ...]]
) -> None:
    """In a box with blocks taken out of it, all along."""
    room = CrossSection.square((14, 14)).translate((-3, -3))
    for _, y, z, _, wide, high in cut:
        room -= CrossSection.square((wide * 0.4, high * 0.3)).translate((y * 1.7, z * 1.6))
    relief = Prism(room, -1.0, 12.0)
    stack = Stack(X, tuple(block(x, y, z, long, wide, high) for x, y, z, long, wide, high in rows))
    (around,) = made(Stack(X, (relief,)))
    left = _Room(around, 2.0)
    assert left.left_by(stack, 1.5) == pytest.approx(left.left_by(made(stack), 1.5), abs=1e-9)


@each_flexure
@pytest.mark.parametrize("smaller", [0.0, 0.2, 1.0])
def test_a_relief_that_is_too_small_leaves_prisms_as_little(
    cls: type[Flexure], smaller: float
) -> None:
    hinge = cls()
    relief = Prism.of(mesh(hinge, "fixed_relief", 0), X)
    whole = hinge.mechanism()
    (joint,) = whole.joints
    past = joint.past(whole, "fixed")
    assert past is not None
    if relief is None:
        return
    outline = relief.outline.offset(-smaller, JoinType.Miter)
    (solid,) = made(Stack(X, (replace(relief, outline=outline),)))
    room = _Room(solid, 2.0)
    for drawn in past([hinge.swing, hinge.lowest() / 2, 0.0]):
        assert isinstance(drawn, Stack | Beside)
        gap = room.left_by(drawn, 0.6)
        assert gap == pytest.approx(room.left_by(made(drawn), 0.6), abs=1e-6)
        assert smaller == 0 or gap < hinge.clearance


@each_family
def test_reliefs_not_made_yet_are_the_reliefs(cls: type[Hinge]) -> None:
    hinge = cls()
    sides = [part for part in definition(cls).parts if part.endswith("_relief")]
    for side, drawn in zip(sides, raised_alike(hinge, sides, 0.0), strict=True):
        solid = drawn.solid if isinstance(drawn, Raised) else drawn
        assert isinstance(drawn, Raised) or not issubclass(cls, Flexure)
        wanted = mesh(hinge, side, 0.0)
        assert solid.volume() == pytest.approx(wanted.volume(), rel=1e-12)
        assert solid.bounding_box() == pytest.approx(wanted.bounding_box(), abs=1e-12)


@each_flexure
def test_parts_not_made_yet_are_the_parts(cls: type[Hinge]) -> None:
    hinge = cls()
    angles = (0.0, hinge.swing / 3, hinge.lowest())
    raised = raised_parts(hinge, "both", angles)
    for ours, theirs in zip(raised, unmerged_meshes(hinge, "both", angles), strict=True):
        for part, solid in zip(ours, theirs, strict=True):
            assert isinstance(part, Raised)
            assert part.solid.volume() == pytest.approx(solid.volume(), rel=1e-12)
            assert part.solid.bounding_box() == pytest.approx(solid.bounding_box(), abs=1e-12)
            assert math.isclose((part.solid ^ solid).volume(), solid.volume(), rel_tol=1e-9)
