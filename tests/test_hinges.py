"""Every hinge that the rules let through is proven on its solids, whatever its values are."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen import check, mesh
from scadgen.findings.finding import Verdict
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet, overlap
from scadgen.motion.retention import hold
from scadgen.printing.layers import layers
from tests.support import each_family, mended, some_hinges, sound, thorough

PIVOTS = [cls for cls in all_families().values() if issubclass(cls, Pivot)]
FLEXURES = [cls for cls in all_families().values() if issubclass(cls, Flexure)]
each_pivot = pytest.mark.parametrize("cls", PIVOTS, ids=[cls.family for cls in PIVOTS])
each_flexure = pytest.mark.parametrize("cls", FLEXURES, ids=[cls.family for cls in FLEXURES])

# A proof takes a second: no time for shrinking.
slowly = settings(
    max_examples=settings().max_examples // 13,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)
FEW = 32  # facets where only the shape of a hinge matters
heights = st.sampled_from((0.1, 0.15, 0.2, 0.25, 0.3, 0.5, 0.8))


@each_family
def test_the_default_hinge_is_proven(cls: type[Hinge]) -> None:
    verdict = check(cls())
    assert_proven(cls(), verdict)
    assert {"fixed relief", "moving relief"} <= {finding.name for finding in verdict.findings}


@each_family
@slowly
@given(data=st.data())
def test_every_sound_hinge_is_proven(cls: type[Hinge], data: st.DataObject) -> None:
    hinge, height = data.draw(sound(cls)), data.draw(heights)
    assert_proven(hinge, check(hinge, [min(height, hinge.layer)], population=None))


# Values at which a rule or a measure once fell short, beside what fell short.
TIGHT: list[tuple[str, dict[str, float]]] = [
    # an arm reached through the wall of its ring into the faceted bore
    (
        "captive_cone",
        {"leaf_thickness": 8.7656, "shaft": 5.5, "waist": 1.4, "knuckle": 2.14, "height": 29.8}
        | {"facets": 96, "layer": 0.26, "line_width": 0.25, "screw": 2, "head": 2},
    ),
    # the wall at the end of a row of recesses was half of one between two; a thick line needs more
    ("break_away_link", {"edge": 91, "webs": 9, "web_width": 8.5, "border": 54.5, "recess": 5.9}),
    (
        "break_away_link",
        {"edge": 91, "webs": 9, "web_width": 8.5, "gap": 5.8, "recess": 5.9, "line_width": 0.6},
    ),
    # a web whose score line cuts through the layer, beside a fin: air counted as a wall
    (
        "break_away_link",
        {"thickness": 16.7, "gap": 5.2, "webs": 25, "web_width": 0.9, "web": 3.3, "recess": 6}
        | {"edge": 77.5, "clearance": 0.2, "effort": 48},
    ),
    # the last bit of a leaf beside a stop: as thick as the leaf, but counted as wide as it is short
    (
        "nested_cones",
        {"swing": 60, "stop_at": 60, "height": 74, "knuckle": 22, "clearance": 0.55, "facets": 16}
        | {"leaf_length": 5, "leaf_thickness": 1.22, "layer": 0.15, "line_width": 0.69},
    ),
    # a wide clearance near the axis: 5 degrees before the stop its faces are nearer than that
    (
        "facing_cones",
        {"swing": 60, "stop_at": 60, "height": 33.5, "cone": 7.5, "tip": 3.1, "wall": 1.4}
        | {"clearance": 0.7852, "leaf_length": 8},
    ),
    # faces that nearly coincide left slivers without volume, counted as hollows and as no openings
    (
        "waisted_spindle",
        {"swing": 60, "stop_at": 95.755628, "height": 152.973142, "shaft": 14.825268, "waist": 2.1}
        | {"rings": 3, "hold": 1.446885, "leaf_length": 15.579848, "leaf_thickness": 4.8},
    ),
    (
        "slit_lattice",
        {"swing": 10, "thickness": 8.72153, "border": 4.659257, "rows": 56, "columns": 11}
        | {"strip": 8.492646, "slit_length": 108.5, "bridge": 21.239972, "slit": 1.15},
    ),
    # a bridge as long as it may be came out longer by a rounding error
    (
        "rod_loops",
        {"length": 26, "knuckles": 1, "clearance": 0.6, "gap": 1, "foot": 0.667337, "layer": 0.1},
    ),
    # a cone began where the chamfer along the bed had already drawn the knuckle back
    (
        "side_cones",
        {"length": 22, "tip": 3.1, "wall": 0.8, "foot": 0.9, "hold": 2.224881, "layer": 0.06}
        | {"leaf_thickness": 1.23378, "line_width": 0.2015},
    ),
    # the side of a stop half-way between the leaves ran too near the knuckles
    (
        "side_cones",
        {"swing": 63.8, "clearance": 0.55, "facets": 36, "layer": 0.74, "line_width": 1.116}
        | {"leaf_length": 63.5, "leaf_thickness": 1.665, "leaf_corner": 2.25, "foot": 1}
        | {"stop_at": 140, "length": 127.5, "knuckles": 1, "cone": 29, "tip": 9.1, "wall": 4.9}
        | {"hold": 2.18},
    ),
    # a layer of the rod's flat lay on the floor of the bore
    (
        "rod_loops",
        {"swing": 95, "length": 181.5, "knuckles": 10, "wall": 6, "clearance": 0.25, "bridge": 18}
        | {"gap": 0.754264, "leaf_length": 25.5, "facets": 52, "layer": 0.316634},
    ),
    # its arms' roots pass the stop, here by no more than the rule asks
    (
        "rod_loops",
        {
            "rod": 10.5,
            "wall": 7,
            "clearance": 0.4,
            "facets": 32,
            "swing": 95,
            "stop_at": 155,
            "detent_at": 28,
            "detent_to": 72,
            "detent_height": 3,
            "detent_thickness": 1.6,
            "detent_arm": 24,
            "leaf_length": 46,
            "leaf_thickness": 2.4,
            "length": 34,
            "knuckles": 2,
        },
    ),
]


@pytest.mark.parametrize(("family", "values"), TIGHT)
def test_a_hinge_where_a_rule_or_a_measure_fell_short_is_proven(
    family: str, values: dict[str, float]
) -> None:
    hinge = mended(all_families()[family], values)
    assert_proven(hinge, check(hinge, [min(0.3, hinge.layer)], population=None))


@each_pivot
@pytest.mark.parametrize("head", [0, 1, 2])
def test_screw_holes_print_in_thick_layers(cls: type[Pivot], head: int) -> None:
    """Where a countersink meets its hole, specks hang that no printer lays down."""
    values = (1, 2, 3), (16, 28, 64), (0.4, 0.6, 0.8)
    for places in product(range(3), repeat=3):
        if (sum(places) + head) % 3 and not thorough():  # of any two of the four all values meet
            continue
        screw, facets, layer = (of[place] for of, place in zip(values, places, strict=True))
        drawn = {"screw": screw, "head": head, "facets": facets, "layer": layer, "line_width": 1.1}
        roomy = {"leaf_length": 30, "leaf_thickness": 6, "height": 45}
        fields = {name: roomy[name] for name in roomy if name in bounds(cls)}
        hinge = mended(cls, {**drawn, **fields})
        bodies = [mesh(hinge, name, angle=0) for name in ("fixed", "moving")]
        assert vars(hinge)["screw"] == screw
        assert bool(hinge.hangs) or layers(bodies, hinge.layer).droop == 0, hinge


def assert_proven(hinge: Hinge, verdict: Verdict) -> None:
    """All is well, but for what the family itself says hangs: that must be found, with its area.

    No rule forbids to draw a tall hinge on a small foot: it may grow out of a larger part.
    """
    failed = {finding.name: finding.words for finding in verdict.findings if not finding.passed}
    if hinge.hangs:
        hanging = [name for name in failed if name.startswith("layers of")]
        assert hanging
        failed.pop("rough fleet", None)  # what hangs sags, and closes the gap below
        assert all(float(failed.pop(name).split(" mm2 droop")[0]) > 1 for name in hanging)
    assert {name for name in failed if not name.startswith("footing of ")} == set(), hinge


@each_pivot
def test_the_pose_is_a_turn_about_the_axis(cls: type[Pivot]) -> None:
    hinge = cls()
    turned = Axis(*hinge.axis()).turn(mesh(hinge, "moving", angle=0), 33)
    posed = mesh(hinge, "moving", angle=33)
    assert (turned - posed).volume() == pytest.approx(0, abs=1e-3)
    assert (posed - turned).volume() == pytest.approx(0, abs=1e-3)


def around(solid: Manifold, side: int, upright: bool) -> Manifold:
    """A block that goes 5 mm beyond the hinge all around, on one side (-1 or 1) of the axis."""
    box = solid.bounding_box()
    low, high = [v - 5 for v in box[:3]], [v + 5 for v in box[3:]]
    (low if side > 0 else high)[0 if upright else 1] = 0
    size = [b - a for a, b in zip(low, high, strict=True)]
    return Manifold.cube(size).translate(low)


@each_pivot
def test_a_body_cut_by_its_relief_leaves_the_swing_free(cls: type[Pivot]) -> None:
    """A block all around the hinge, on either side, less that side's relief."""
    angles = 9 if thorough() else 5
    for hinge in some_hinges(cls, 6 if thorough() else 4, facets=FEW):
        assert isinstance(hinge, Pivot)
        both = mesh(hinge, "both", angle=0)
        axis = Axis(*hinge.axis())
        fixed, moving = mesh(hinge, "fixed", angle=0), mesh(hinge, "moving", angle=0)
        upright = axis.direction == (0, 0, 1)
        fixed_body = around(both, -1, upright) - mesh(hinge, "fixed_relief", angle=0) + fixed
        moving_body = around(both, 1, upright) - mesh(hinge, "moving_relief", angle=0) + moving
        assert fixed_body.volume() > fixed.volume() * 1.2
        whole = hinge.mechanism()
        (turn,) = whole.joints
        assert isinstance(turn, Turn)
        fixed_body, fixed = turn.stiff(fixed_body, whole), turn.stiff(fixed, whole)
        start, apart = hinge.as_printed(), 0.05  # at a stop they touch
        low, high = hinge.lowest() - start + apart, hinge.swing - start - apart
        for k in range(angles):
            angle = low + (high - low) * k / (angles - 1)
            assert not meet(fixed_body, axis.turn(moving, angle)), (hinge, angle)
            assert not meet(fixed, axis.turn(moving_body, angle)), (hinge, angle)


@each_flexure
def test_a_body_cut_by_its_relief_leaves_the_bend_free(cls: type[Flexure]) -> None:
    for hinge in some_hinges(cls, 4 if thorough() else 2, facets=FEW):
        fixed, whole = mesh(hinge, "fixed"), mesh(hinge, "both", angle=0)
        body = around(whole, -1, upright=False) - mesh(hinge, "fixed_relief") - fixed
        for k in range(5):
            angle = hinge.lowest() + (hinge.swing - hinge.lowest()) * k / 4
            shared = overlap(body, mesh(hinge, "both", angle=angle) - fixed)
            assert shared < 1e-4, (hinge, angle)  # faces that coincide leave slivers


@each_family
def test_a_bend_or_turn_keeps_the_volume_and_the_moving_part(cls: type[Hinge]) -> None:
    """Drawn at an angle nothing is lost, and the moving part alone is where the whole has it."""
    for hinge in some_hinges(cls, 4 if thorough() else 2, facets=FEW):
        angle = hinge.swing - hinge.as_printed()
        straight, turned = mesh(hinge, "both", angle=0), mesh(hinge, "both", angle=angle)
        assert turned.volume() == pytest.approx(straight.volume(), rel=1e-2)  # folds overlap
        moving = mesh(hinge, "moving", angle=angle)
        assert (moving - turned).volume() == pytest.approx(0, abs=1e-2)


def test_play_of_a_cone_pair_is_that_of_the_closed_forms() -> None:
    """Axial c / sin a for 45-degree cones; side play in the straight bore is the clearance.

    Source: closed form derived from the flanks' geometry, checked by swept polygons elsewhere;
    for a = 45 deg and c = 0.30 mm the axial play is 0.42426 mm.
    """
    from scadgen import WaistedSpindle

    hinge = WaistedSpindle(clearance=0.3, facets=128)
    axis = Axis(*hinge.axis())
    grip = hold(mesh(hinge, "fixed"), mesh(hinge, "moving"), axis, tolerance=0.001)
    travel = {pull.direction: pull.travel for pull in grip.pulls}
    assert travel[0, 0, 1] == pytest.approx(0.42426, abs=0.004)
    assert travel[0, 0, -1] == pytest.approx(0.42426, abs=0.004)
    assert travel[1, 0, 0] == pytest.approx(0.30, abs=0.004)
    assert hinge.play == pytest.approx(0.42426, abs=1e-5)
