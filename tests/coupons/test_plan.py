"""Every family's coupon: its pieces are sound, apart, on the bed, and as free as they claim."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from manifold3d import JoinType

from scadgen.coupons.plan import Plan
from scadgen.coupons.shapes import parameters, trees_of
from scadgen.coupons.solids import bodies, minutes, piece, whole
from scadgen.hinge.family import bounds
from scadgen.printing.layers import layers
from tests.coupons.support import CALIBRATING, HEIGHTS, PIVOTS, PLANS, each_of, pieces, turns


@each_of(PLANS)
def test_it_lies_in_the_corner_of_the_bed(printed: Plan) -> None:
    low_x, low_y, low_z, high_x, high_y, _ = whole(printed).bounding_box()
    assert min(low_x, low_y) >= -0.01
    assert low_z == pytest.approx(0, abs=1e-6)
    assert max(high_x, high_y) <= printed.steps.bed


@each_of(PLANS)
def test_it_prints_in_minutes_not_hours(printed: Plan) -> None:
    assert 3 < minutes(printed) < 90


@each_of(PLANS)
def test_every_piece_is_a_sound_hinge_with_a_number_of_its_own(printed: Plan) -> None:
    assert [getattr(printed.hinge(v), printed.steps.field) for v in printed.values] == list(
        printed.values
    )
    shown = [printed.number(value) for value in printed.values]
    assert shown == sorted(set(shown))
    assert 0 < shown[0] <= shown[-1] < 100
    unit = 1 / printed.steps.per_mm
    assert [number * unit for number in shown] == pytest.approx(printed.values)


@each_of(PLANS)
def test_its_bodies_are_its_plates_and_what_moves_on_each_piece(printed: Plan) -> None:
    found, fields = bodies(printed), parameters(printed)
    rows = -(-len(printed.values) // int(fields["in_row"].default))
    plates = [name for name in found if name.startswith("plate")]
    moving = [name for name in found if not name.startswith("plate")]
    assert len(plates) == rows
    assert len(found) == len(whole(printed).decompose())
    assert len(moving) == sum(len(pieces(printed, value)) - 1 for value in printed.values)
    assert sum(body.volume() for body in found.values()) == pytest.approx(whole(printed).volume())


def test_no_body_of_a_piece_is_lost_that_has_several(monkeypatch: pytest.MonkeyPatch) -> None:
    from manifold3d import Manifold

    from scadgen.coupons import solids

    printed, before = PIVOTS[0], bodies(PIVOTS[0])
    name = next(name for name in before if name.startswith("moving side"))
    high = Manifold.cube((1, 1, 1), True)
    left, low, _, right, up, top = before[name].bounding_box()
    another = high.translate(((left + right) / 2, (low + up) / 2, top + 5))
    both = Manifold.compose([whole(printed), another])
    monkeypatch.setattr(solids, "whole", lambda plan: both)
    assert set(bodies(printed)) - set(before) == {f"{name} (2)"}


@each_of(PIVOTS)
def test_each_piece_of_a_pivot_is_two_bodies_with_the_gap_between(printed: Plan) -> None:
    for value in printed.values:
        fixed, moving = pieces(printed, value)
        assert fixed.min_gap(moving, 2) == pytest.approx(value, abs=0.02)


@each_of(PIVOTS)
def test_a_moving_side_swings_past_its_plate_and_its_neighbours(printed: Plan) -> None:
    """Turned by a matrix of its own: the trees' angle has no part in it."""
    hinge, value = printed.hinge(printed.values[-1]), printed.values[-1]
    fixed, moving = sorted(pieces(printed, value), key=lambda body: body.bounding_box()[1])
    neighbour = piece(printed, printed.values[0])
    for angle in range(math.ceil(hinge.lowest()), round(hinge.swing) + 1, 15):
        swung = moving.transform(turn(hinge, angle, printed.steps.turned)[:3])
        assert (swung ^ fixed).volume() < 1e-6
        for side in (-1, 1):
            beside = neighbour.translate((side * printed.room.pitch, 0, 0))
            assert swung.min_gap(beside, 2) > 0.5


def turn(hinge: Any, angle: float, turned: float) -> np.ndarray[Any, Any]:
    """Turn of the moving side by ``angle`` about its axis, which itself was ``turned`` about z."""
    from trimesh import transformations

    rotation_matrix: Any = transformations.rotation_matrix

    place, way = map(np.array, hinge.axis())
    about = rotation_matrix(math.radians(turned), (0, 0, 1))[:3, :3]
    turning: np.ndarray[Any, Any] = rotation_matrix(math.radians(angle), about @ way, about @ place)
    return turning


@each_of([one for one in PLANS if one not in PIVOTS])
def test_flat_pieces_stay_apart(printed: Plan) -> None:
    before, after = (piece(printed, v) for v in (printed.values[0], printed.values[-1]))
    beyond = after.translate((printed.room.pitch, 0, 0))
    assert (before + beyond).genus() == before.genus() + beyond.genus()
    assert (before ^ beyond).volume() < 1


@each_of(PIVOTS)
@pytest.mark.parametrize("layer", HEIGHTS)
def test_a_step_is_free_in_the_layers_that_it_claims_and_not_always_in_others(
    printed: Plan, layer: float
) -> None:
    for value in printed.values:
        if printed.claimed(value, layer):
            assert turns(printed, value, 0, layer)
        else:  # how its layers fall may save it on one printer, not on another
            assert not all(turns(printed, value, 0, layer, k / 40) for k in range(40))


@each_of([one for one in CALIBRATING if one not in PIVOTS])
def test_a_slit_stays_open_in_the_layers_that_it_claims(printed: Plan) -> None:
    for value in printed.values:
        section = piece(printed, value).slice(0.5)
        closed_by_slicer = section.offset(0.05, JoinType.Miter, 2.0)
        assert closed_by_slicer.num_contour() == section.num_contour() > 1
        assert all(printed.claimed(value, layer) for layer in HEIGHTS)


@each_of([one for one in PLANS if not one.family.hangs])
@pytest.mark.parametrize("layer", HEIGHTS)
def test_nothing_of_a_piece_hangs(printed: Plan, layer: float) -> None:
    for value in (printed.values[0], printed.values[-1]):
        cut = layers(pieces(printed, value), layer)
        assert cut.droop == 0
        assert min(cut.bed) > 5


@each_of(PIVOTS)
def test_the_steps_reach_from_fused_to_free_in_the_thickest_layers(printed: Plan) -> None:
    claimed = [printed.claimed(value, max(HEIGHTS)) for value in printed.values]
    assert claimed == sorted(claimed)
    assert not claimed[0]
    assert claimed[-1]


@each_of(PLANS)
def test_its_parameters_are_in_their_own_bounds_and_its_rules_hold(printed: Plan) -> None:
    from scadgen.trees.to_numpy import Numbers

    fields = parameters(printed)
    values = {name: limits.default for name, limits in fields.items()}
    assert all(limits.low <= limits.default <= limits.high for limits in fields.values())
    assert all(bool(Numbers(values)(rule.holds)) for rule in trees_of(printed).rules())
    assert printed.steps.field in bounds(printed.family)
