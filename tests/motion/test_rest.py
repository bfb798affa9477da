"""Two bodies as they stand."""

from __future__ import annotations

import json
import math
from dataclasses import asdict

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold, Mesh64

from scadgen.motion.rest import body, rest
from tests.shapes import ASKEW, box


@given(st.floats(0.01, 1.9), st.floats(-1, 1))
def test_gap_between_two_boxes_is_the_gap_built(gap: float, shift: float) -> None:
    result = rest(box((0, 0, 0), (4, 4, 4)), box((4 + gap, shift, 0), (9, shift + 4, 4)))
    assert result.gap == pytest.approx(gap, abs=1e-9)
    assert result.overlap == 0


def test_gap_from_edge_to_edge_is_the_diagonal() -> None:
    result = rest(box((0, 0, 0), (4, 4, 4)), box((4.3, 4.4, 0), (9, 9, 4)))
    assert result.gap == pytest.approx(math.hypot(0.3, 0.4))


def test_gap_beyond_the_search_reads_as_the_search() -> None:
    far = box((9, 0, 0), (10, 1, 1))
    assert rest(box((0, 0, 0), (4, 4, 4)), far, search=1.5).gap == 1.5


def test_overlap_is_the_shared_volume() -> None:
    result = rest(box((0, 0, 0), (4, 4, 4)), box((3.5, 1, 1), (9, 3, 9)))
    assert result.overlap == pytest.approx(0.5 * 2 * 3)
    assert result.gap == 0


def test_faces_in_contact_share_nothing_and_have_no_gap() -> None:
    result = rest(box((0, 0, 0), (4, 4, 4)), box((4, 0, 0), (9, 4, 4)))
    assert (result.overlap, result.gap) == (0, 0)


def test_a_body_swallowed_whole_overlaps() -> None:
    result = rest(box((0, 0, 0), (9, 9, 9)), box((4, 4, 4), (5, 5, 5)))
    assert result.overlap == pytest.approx(1)
    assert result.gap == 0


def test_pieces_and_voids_are_counted_apart() -> None:
    hollow = box((0, 0, 0), (9, 9, 9)) - box((4, 4, 4), (5, 5, 5))
    result = body(hollow + box((20, 0, 0), (21, 1, 1)))
    assert (result.pieces, result.voids, result.watertight) == (2, 1, True)
    assert result.volume == pytest.approx(729)


def test_openings_of_all_pieces_are_counted() -> None:
    """Two through a plate, one through a ring beside it, and a void that is no opening."""
    slots = box((1, 1, -1), (2, 2, 9)) + box((4, 1, -1), (5, 2, 9))
    ring = box((20, 0, 0), (23, 3, 1)) - box((21, 1, -1), (22, 2, 2))
    result = body(box((0, 0, 0), (9, 9, 3)) - slots - box((6, 6, 1), (7, 7, 2)) + ring)
    assert (result.pieces, result.voids, result.openings) == (2, 1, 3)


def test_slivers_that_rounding_leaves_are_neither_pieces_nor_voids() -> None:
    plate = box((0, 0, 0), (9, 9, 3)) - box((1, 1, -1), (2, 2, 9))
    inside = box((5, 5, 1), (5.001, 5.001, 1.001))
    result = body(plate - inside + inside.translate((20, 0, 0)))
    assert (result.pieces, result.voids, result.openings) == (1, 0, 1)


def test_an_open_surface_is_not_watertight() -> None:
    mesh = box((0, 0, 0), (1, 1, 1)).to_mesh64()
    torn = Manifold(Mesh64(np.array(mesh.vert_properties), np.array(mesh.tri_verts)[:-1]))
    assert not body(torn).watertight


def test_nothing_is_not_watertight() -> None:
    result = body(Manifold())
    assert (result.pieces, result.watertight, result.volume) == (0, False, 0)


def test_moving_both_bodies_changes_nothing() -> None:
    fixed, moving = box((0, 0, 0), (4, 4, 4)), box((4.3, 4.4, 0), (9, 9, 4))
    there = rest(ASKEW.turn(fixed, 77), ASKEW.turn(moving, 77))
    assert there.gap == pytest.approx(rest(fixed, moving).gap, abs=1e-9)
    assert there.overlap == 0


def test_result_is_plain_data() -> None:
    result = rest(box((0, 0, 0), (4, 4, 4)), box((5, 0, 0), (9, 4, 4)))
    assert json.loads(json.dumps(asdict(result)))["fixed"]["pieces"] == 1


def test_a_piece_swallowed_by_another_body_overlaps_though_neither_box_holds_the_other() -> None:
    parts = box((1, 1, 1), (2, 2, 2)) + box((9, 0, 0), (10, 1, 1))
    assert rest(box((0, 0, 0), (4, 4, 4)), parts).overlap == pytest.approx(1)
