"""Bodies out of loose triangles: told apart, sound, or plainly refused."""

from __future__ import annotations

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.inspection.bodies import bodies
from scadgen.meshfiles.crossing import crossing
from scadgen.meshfiles.shells import shells
from scadgen.tables.documents import JobError
from tests.inspection.models import MOVED, TURNED, Array, soup

SMALL, BIG = Manifold.cube((1, 2, 3)), Manifold.cube((5, 5, 5)).translate((10, 0, 0))
BALL = Manifold.sphere(2, 32).translate((-5, 0, 0))


def shuffled(triangles: Array, seed: int = 0) -> Array:
    """The same triangles in another order, each begun at another corner."""
    rng = np.random.default_rng(seed)
    rolls = rng.integers(0, 3, len(triangles))
    turned = np.array([np.roll(t, r, axis=0) for t, r in zip(triangles, rolls, strict=True)])
    return turned[rng.permutation(len(triangles))]


def test_bodies_are_sorted_by_volume_whatever_the_order_of_triangles() -> None:
    for seed in range(3):
        found, notes = bodies(shuffled(soup(SMALL, BIG, BALL), seed))
        assert [body.number for body in found] == [1, 2, 3]
        wanted = [BIG.volume(), BALL.volume(), SMALL.volume()]
        assert [body.volume for body in found] == pytest.approx(wanted)
        assert notes == []


def test_bodies_of_one_volume_are_sorted_by_place() -> None:
    left, right = SMALL.translate((-9, 0, 0)), SMALL.translate((9, 0, 0))
    for order in ((left, right), (right, left)):
        found, _ = bodies(soup(*order))
        assert [body.box[0] for body in found] == [-9, 9]


def test_bodies_that_touch_in_a_point_stay_two() -> None:
    found, _ = bodies(soup(Manifold.cube((1, 1, 1)), Manifold.cube((2, 2, 2)).translate((1, 1, 1))))
    assert [body.volume for body in found] == pytest.approx([8, 1])


def test_bed_contact_is_the_area_on_the_lowest_plane_of_the_model() -> None:
    found, _ = bodies(soup(BIG.translate((0, 0, -7)), SMALL.translate((0, 0, 1))))
    assert [body.bed for body in found] == pytest.approx([25, 0])


def test_a_hollow_belongs_to_the_body_around_it_and_a_body_may_lie_in_it() -> None:
    outer = Manifold.cube((20, 20, 20), True) - Manifold.cube((10, 10, 10), True)
    inner = Manifold.cube((6, 6, 6), True)
    found, _ = bodies(soup(outer, inner))
    assert [body.volume for body in found] == pytest.approx([7000, 216])
    assert [body.hollows for body in found] == [1, 0]


def test_a_body_inside_out_is_turned_round() -> None:
    found, notes = bodies(np.concatenate([soup(BIG), soup(SMALL)[:, ::-1]]))
    assert [body.volume for body in found] == pytest.approx([125, 6])
    assert notes == ["1 shells were inside out and were turned round."]


def test_overlapping_shells_of_more_than_two_print_as_one() -> None:
    handle = Manifold.cube((9, 1, 1)).translate((4, 2, 2)).translate((10, 0, 0))
    found, notes = bodies(soup(BIG, handle, SMALL))
    assert [body.volume for body in found] == pytest.approx([125 + 8, 6])
    assert notes == ["body 1 is 2 shells that overlap: they print as one."]


def test_two_overlapping_shells_stay_two() -> None:
    found, notes = bodies(soup(BIG, SMALL.translate((10, 0, 0))))
    assert (len(found), notes) == (2, [])


def test_corners_that_a_file_rounds_differently_are_put_together() -> None:
    loose = soup(BALL) @ TURNED.T + MOVED
    noise = np.random.default_rng(0).uniform(-2e-4, 2e-4, loose.shape)
    found, _ = bodies(loose + noise)
    assert [body.volume for body in found] == pytest.approx([BALL.volume()], rel=1e-3)


@pytest.mark.parametrize("missing", [1, 2])
def test_open_edges_are_counted_and_the_body_named(missing: int) -> None:
    torn = soup(BALL)[missing:]
    edges = {1: 3, 2: sum(shell.open_edges for shell in shells(torn))}[missing]
    with pytest.raises(JobError, match=rf"body 2 of 2 .*not watertight: {edges} open edges\."):
        bodies(np.concatenate([soup(BIG), torn]))


def test_triangles_that_look_the_other_way_are_refused() -> None:
    flipped = soup(BIG)
    flipped[0] = flipped[0, ::-1]
    with pytest.raises(
        JobError, match=r"body 1 of 1 .*at 3 edges its triangles look opposite ways"
    ):
        bodies(flipped)


def test_a_body_that_crosses_itself_is_refused() -> None:
    bow = np.array([[-4, -4], [6, 6], [6, -6], [-4, 4]])  # a bow tie: its sides cross
    low, high = (np.column_stack([bow, np.full(4, z)]) for z in (0.0, 3.0))
    sides = [
        triangle
        for k in range(4)
        for triangle in (
            (low[k], low[(k + 1) % 4], high[(k + 1) % 4]),
            (low[k], high[(k + 1) % 4], high[k]),
        )
    ]
    caps = [(low[0], low[2], low[1]), (low[0], low[3], low[2])]
    caps += [(high[0], high[1], high[2]), (high[0], high[2], high[3])]
    tie = np.array([*sides, *caps]) + np.array([0.0, 20.0, 0.0])
    tie[:, :, 2] += tie[:, :, 0] * 0.1
    with pytest.raises(JobError, match=r"crosses itself: \d+ pairs of triangles, one of them at"):
        bodies(np.concatenate([tie, soup(BIG)]) + 0.0)


def test_no_sound_body_crosses_itself() -> None:
    knot = BALL + BIG.translate((-16, 0, 0)) - SMALL.translate((-4.8, 0.1, -1))
    mesh = knot.to_mesh64()
    assert crossing(mesh.vert_properties[:, :3], mesh.tri_verts.astype(int)) is None


def test_shells_pushed_into_each_other_cross_where_they_meet() -> None:
    loose = soup(BIG, BIG.translate((4, 1, 1)))
    corners, place = np.unique(loose.reshape(-1, 3), axis=0, return_inverse=True)
    crossed = crossing(corners, place.reshape(-1, 3))
    assert crossed is not None
    x, y, z = crossed[1]
    assert 14 - 1e-9 <= x <= 15 + 1e-9
    assert 1 - 1e-9 <= y <= 5 + 1e-9
    assert 1 - 1e-9 <= z <= 5 + 1e-9


def test_flat_things_are_no_bodies() -> None:
    sheet = np.array([[[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[0, 0, 0], [0, 9, 0], [9, 0, 0]]], float)
    with pytest.raises(JobError, match="enclose nothing"):
        bodies(sheet)
    found, notes = bodies(np.concatenate([sheet - 20, soup(BIG)]))
    assert [body.volume for body in found] == pytest.approx([125])
    assert notes == ["1 flat shells without volume were left out."]


def test_dust_is_refused() -> None:
    dust = [SMALL.translate((4 * i, 4 * j, 0)) for i in range(26) for j in range(20)]
    with pytest.raises(JobError, match="520 loose pieces; at most 500"):
        bodies(soup(*dust))
