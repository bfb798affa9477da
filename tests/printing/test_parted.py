"""Bodies that fall apart as they print are found; those that hold together are left in peace."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import CrossSection, Manifold

from scadgen.findings.on_printing import printing
from scadgen.hinge.family import all_families
from scadgen.printing.cuts import Cuts
from scadgen.printing.outlines import moved
from scadgen.printing.parted import TOUCHES, _laid, _lies, parted

LINE, HEIGHT = 0.45, 0.2


def box(low: tuple[float, float, float], sides: tuple[float, float, float]) -> Manifold:
    return Manifold.cube(sides).translate(low)


#: Two blocks of 10 mm, a millimetre apart.
BLOCKS = box((0, 0, 0), (10, 10, 6)) + box((11, 0, 0), (10, 10, 6))


def _joined(y: float, z: float, at: float = 0.0) -> Manifold:
    """Both blocks with a bridge so wide and so thick between them, which begins so high (mm)."""
    return BLOCKS + box((9, 4, at), (3, y, z))


def _counts(solid: Manifold, height: float = HEIGHT) -> list[int]:
    return [one.count for one in parted(Cuts((solid,)), height, LINE)]


@pytest.mark.parametrize(
    ("y", "z", "at", "whole"),
    [
        (4, 1, 0, True),
        (0.42, 2, 0, True),  # a line, or nearly
        (0.3, 1, 0, False),  # thinner than a line
        (4, 0.05, 0, False),  # on the bed, thinner than half a layer
        (4, 0.15, 0, True),
        (4, 0.15, 3.12, False),  # between the middles of two layers
        (4, 0.15, 3, True),
    ],
)
def test_what_joins_two_blocks_must_be_a_line_wide_and_in_a_layer(
    y: float, z: float, at: float, whole: bool
) -> None:
    assert _counts(_joined(y, z, at)) == ([] if whole else [2])


def test_a_slit_right_through_parts_a_tower_and_a_ledge_above_it_joins() -> None:
    tower = box((0, 0, 0), (8, 8, 9))
    assert _counts(tower) == []
    slit = box((-1, -1, 4), (10, 10, 0.3))
    post = box((0, 0, 3), (0.2, 0.2, 3))
    assert _counts(tower - slit + post) == [2]
    assert _counts(tower - slit + box((0, 0, 3), (1, 1, 3))) == []


def test_the_place_told_is_in_the_smaller_part() -> None:
    small = box((12, 2, 0), (3, 3, 6))
    (found,) = parted(
        Cuts((box((0, 0, 0), (10, 10, 6)) + small + box((9, 3, 0), (4, 0.2, 1)),)), HEIGHT, LINE
    )
    assert (found.body, found.count, found.z) == (0, 2, 0)
    assert 12 < found.x < 15
    assert 2 < found.y < 5


@pytest.mark.parametrize("tilt", [0, 30, 45])
def test_a_thin_wall_that_leans_is_one(tilt: float) -> None:
    wall = box((0, 0, 0), (20, 0.5, 20)).rotate((-tilt, 0, 0)).trim_by_plane((0, 0, 1), 1)
    assert _counts(wall.translate((0, 0, -1)), 0.2) == []


@pytest.mark.parametrize("name", all_families())
def test_no_family_falls_apart(name: str) -> None:
    hinge = all_families()[name]()
    cuts = Cuts(tuple(piece.solid for piece in hinge.mechanism().pieces))
    assert [parted(cuts, height, hinge.line_width) for height in (0.1, hinge.layer)] == [[], []]


def test_the_finding_on_layers_fails_and_names_the_body() -> None:
    def said(solid: Manifold) -> tuple[bool, str]:
        found = next(iter(printing([solid], [HEIGHT], 0, lambda _: None, names=["the box"])))
        assert found.name == "layers of 0.2 mm"
        return found.passed, found.words

    assert said(_joined(4, 1))[0]
    passed, words = said(_joined(4, 0.05))
    assert not passed
    assert "the box prints as 2 pieces, one of them from z = 0" in words


@given(st.floats(-8, 8), st.floats(-8, 8), st.floats(0, 360), st.integers(3, 40))
def test_what_lies_on_what_is_as_all_of_the_areas_tell(
    x: float, y: float, angle: float, sides: int
) -> None:
    """Whatever is told before areas are cut: of a ring with a gap, and a thing in or beside it."""
    half, ring = 0.2, CrossSection.circle(6, 60) - CrossSection.circle(3, 60)
    ring -= CrossSection.square((8, 2)).rotate(angle)
    thing = CrossSection.circle(2, sides).translate((x, y))
    for lower in _laid(ring, half):
        for upper in _laid(thing, half):
            areas = (moved(area.section, half) for area in (upper, lower))
            shared = next(areas) ^ next(areas)
            assert _lies(upper, lower, half) == (shared.area() > TOUCHES)
