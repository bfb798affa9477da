"""What reliefs leave: on hand-made solids, in every family, and where one is too small."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen import mesh
from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.families.waisted_spindle import WaistedSpindle
from scadgen.findings.finding import Finding
from scadgen.findings.on_reliefs import relieved
from scadgen.hinge.family import Hinge, Piece, all_families, definition
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.mechanism.fold import Fold
from scadgen.motion.relief import SKIN, Left, Past, left_by, rooted
from scadgen.motion.stack import made
from scadgen.proof import reliefs as proof
from scadgen.proof.reliefs import reliefs
from tests.shapes import UP, box, rod
from tests.support import changed, each_family, mended, some_hinges, sound

CLEARANCE = 0.3
PIVOTS = [cls for cls in all_families().values() if issubclass(cls, Pivot)]
each_pivot = pytest.mark.parametrize("cls", PIVOTS, ids=[cls.family for cls in PIVOTS])
slowly = settings(
    max_examples=max(settings().max_examples // 12, 5),
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)


def disc_on_an_arm(arm: float, radius: float, facets: int = 360) -> Manifold:
    """A disc on an arm about the upright axis; a corner of it points outwards."""
    return rod(radius, 0, 4, facets).translate((arm, 0, 0))


def going_round(solid: Manifold) -> Past:
    return lambda angles: [[UP.turn(solid, angle)] for angle in angles]


def room(block: float) -> Manifold:
    """A relief that ends where a block stands: its face square to x."""
    return box((-40, -40, -9), (block, 40, 9))


@given(st.floats(3, 15), st.floats(0.5, 2.5), st.floats(0.05, 0.5))
def test_a_disc_that_sweeps_past_a_block(arm: float, radius: float, gap: float) -> None:
    """It is nearest where the arm points at the block: by block - arm - radius."""
    past = going_round(disc_on_an_arm(arm, radius))
    left = left_by(room(arm + radius + gap), past, (-30, 30), 4, CLEARANCE)
    assert left.gap == pytest.approx(gap, abs=1e-4)
    assert abs(left.angle) < 1


@pytest.mark.parametrize(("low", "high"), [(-7, 13), (-11, 9), (-18.3, 1.7), (2, 42), (-60, -3)])
def test_the_nearest_pose_is_found_wherever_it_lies_in_the_turn(low: float, high: float) -> None:
    """Closed form: block - arm * cos(angle) - radius, at the angle of the turn next to none."""
    arm, radius, block = 10, 2, 12.25
    past = going_round(disc_on_an_arm(arm, radius))
    left = left_by(room(block), past, (low, high), 20, CLEARANCE)
    nearest = min(max(0, low), high)
    gap = block - arm * math.cos(math.radians(nearest)) - radius
    assert left.gap == pytest.approx(gap, abs=4e-3)  # of a disc's facets, and of halvings
    assert left.angle == pytest.approx(nearest, abs=1.3)


def test_hulls_between_steps_take_what_their_closed_form_says() -> None:
    """A relief of the disc's own poses, hulls between: short by arm * (1 - cos(step / 2))."""
    arm, radius, step, steps = 20.0, 1.0, 10.0, 6
    past = going_round(disc_on_an_arm(arm, radius))
    roomy = disc_on_an_arm(arm, radius + CLEARANCE).translate((0, 0, -2)).scale((1, 1, 4))
    poses = [UP.turn(roomy, k * step) for k in range(steps + 1)]
    relief = sum((Manifold.batch_hull(list(pair)) for pair in pairwise(poses)), Manifold())
    left = left_by(relief, past, (0, steps * step), step, CLEARANCE)
    short = arm * (1 - math.cos(math.radians(step / 2)))
    assert left.gap == pytest.approx(CLEARANCE - short, abs=1e-3)
    assert left.angle % step == pytest.approx(step / 2, abs=1.3)


def test_a_polygon_in_a_polygon_is_looked_at_half_a_facet_turned() -> None:
    """A pin of so few sides in a bore of as many: closed form (R + c) cos(180 / N) - R."""
    facets, radius, bore = 16, 5, 5.3
    relief = rod(bore, -9, 9, facets)
    pin = rod(radius, 0, 4, facets)
    turn = (0.0, 3 * 360 / facets)
    left = left_by(relief, going_round(pin), turn, 360 / facets, CLEARANCE, facets)
    assert left.gap == pytest.approx(bore * math.cos(math.pi / facets) - radius, abs=1e-6)


def test_where_nothing_is_near_it_says_no_more_than_it_looked_at() -> None:
    left = left_by(room(19), going_round(disc_on_an_arm(10, 2)), (-30, 30), 4, CLEARANCE)
    assert left == Left(2 * CLEARANCE, left.angle, None)


@pytest.mark.parametrize("block", [9.5, 11.7, 3.0])
def test_a_relief_that_is_run_into_leaves_nothing_and_says_where(block: float) -> None:
    left = left_by(room(block), going_round(disc_on_an_arm(10, 2)), (-30, 30), 4, CLEARANCE)
    assert left.gap == 0
    assert left.place is not None
    x, y, _ = left.place
    assert x > block - 1
    assert math.hypot(x, y) == pytest.approx(10, abs=2)


def test_the_place_is_where_they_are_nearest() -> None:
    left = left_by(room(12.1), going_round(disc_on_an_arm(10, 2)), (-30, 30), 4, CLEARANCE)
    assert left.place is not None
    assert left.place[0] == pytest.approx(12, abs=0.5)
    assert left.place[1] == pytest.approx(0, abs=0.5)
    assert 0 <= left.place[2] <= 4


def test_a_part_that_counts_has_a_skin_all_around() -> None:
    round_and_hollow = rod(6, 0, 9, 64) - box((-1, -2, -1), (20, 1, 4))
    for own in (round_and_hollow, mesh(SheetFlexure(), "moving", 0)):
        grown = rooted(own, (0, 1, 0), 0)
        assert (own - grown).is_empty()
        skin = (grown.volume() - own.volume()) / own.surface_area()
        assert skin == pytest.approx(SKIN, rel=1e-3)


def test_what_is_rooted_counts_as_the_parts_own() -> None:
    plate, tongue = box((0, -10, 0), (20, 0, 3)), box((8, -2, 0), (12, 30, 1))
    slot = box((7.7, -2, -1), (12.3, 1, 4))
    own = plate - slot
    rest = (own + tongue) - rooted(own, (0, 1, 0), 0.3)
    low, high = rest.bounding_box()[:3], rest.bounding_box()[3:]
    assert low == pytest.approx((8, -2 + 0.3, 0), abs=0.002)
    assert high == pytest.approx((12, 30, 1), abs=0.002)
    assert rest.volume() == pytest.approx(4 * (32 - 0.3), rel=1e-3)


@pytest.mark.parametrize("clearance", [0.15, 0.8])
def test_behind_the_thinnest_wall_the_root_is_found_too(clearance: float) -> None:
    """Nothing is left of what is nearer to a wall of 0.4 mm than the clearance."""
    wall, tongue = box((0, -0.4, 0), (20, 0, 3)), box((8, 0, 0), (12, 30, 1))
    rest = (wall + tongue) - rooted(wall, (0, 1, 0), clearance)
    assert rest.bounding_box()[1] == pytest.approx(clearance, abs=0.002)


def test_the_finding_fails_below_the_clearance_only() -> None:
    enough = relieved("fixed relief", Left(0.3 - 5e-5, 12), 0.3)
    short = relieved("fixed relief", Left(0.25, 12, (1.04, -0.01, 3)), 0.3)
    assert enough.passed
    assert not short.passed
    assert short.margin == pytest.approx(-0.05)
    assert short.change
    words = "0.250 mm left at 12.0 deg, near x = 1, y = 0, z = 3 mm; the clearance is 0.3 mm."
    assert short.words == words


def found(hinge: Hinge) -> list[Finding]:
    return list(reliefs(hinge, hinge.mechanism()))


def failed(hinge: Hinge) -> dict[str, str]:
    return {finding.name: finding.words for finding in found(hinge) if not finding.passed}


@each_pivot
@pytest.mark.parametrize("swing", [90, 60])
@pytest.mark.parametrize("stop_at", [90, 135])
def test_a_relief_makes_room_for_the_stop_too(
    cls: type[Pivot], stop_at: float, swing: float
) -> None:
    hinge = cls(swing=swing, stop_at=stop_at)
    assert [finding.name for finding in found(hinge)] == ["fixed relief", "moving relief"]
    assert failed(hinge) == {}


@each_pivot
def test_room_that_ends_before_the_stop_fails(
    cls: type[Pivot], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same hinge, with the reliefs of one that is never turned so far as its stop."""
    hinge, short = cls(swing=60, stop_at=120), cls(swing=60)
    swap_reliefs(monkeypatch, lambda part, _: mesh(short, part, angle=0))
    assert set(failed(hinge)) == {"fixed relief", "moving relief"}


@each_family
@slowly
@given(data=st.data())
def test_every_relief_of_a_sound_hinge_keeps_the_clearance(
    cls: type[Hinge], data: st.DataObject
) -> None:
    hinge = data.draw(sound(cls))
    assert failed(hinge) == {}, hinge


@each_pivot
@slowly
@given(data=st.data())
def test_so_does_every_relief_beside_a_stop(cls: type[Pivot], data: st.DataObject) -> None:
    stop, facets = data.draw(st.floats(60, 175)), data.draw(st.sampled_from((16, 20, 64, 256)))
    swing = data.draw(st.floats(10, 175))
    hinge = mended(cls, {"swing": swing, "stop_at": stop, "facets": facets})
    assert vars(hinge)["stop_at"]
    assert failed(hinge) == {}, hinge


# Values at which a relief once fell short, beside what fell short.
TIGHT: list[tuple[str, dict[str, float]]] = [
    # few facets took more than the room beside the knuckles
    ("facing_cones", {"cone": 30, "wall": 8, "height": 60, "facets": 16}),
    # the far end of a long leaf ran off the straight way between two steps
    ("side_cones", {"leaf_length": 100, "clearance": 0.25}),
    ("nested_cones", {"leaf_length": 100}),
    # steps that followed the fold upwards only
    ("sheet_flexure", {"swing": 10, "swing_down": 180, "web_length": 40, "border": 60}),
    # the near corners of the other part, and halves of webs as thick as the parts
    ("break_away_link", {}),
    ("break_away_link", {"thickness": 3.1, "web": 3.05, "left": 0.55, "gap": 7.5, "recess": 5.1}),
    # strips that twist, and bridges beside them
    ("slit_lattice", {}),
    ("slit_lattice", {"thickness": 8, "strip": 8, "rows": 8, "slit_length": 120, "bridge": 20}),
]


@pytest.mark.parametrize(("family", "values"), TIGHT)
def test_where_a_relief_once_fell_short(family: str, values: dict[str, float]) -> None:
    assert failed(mended(all_families()[family], values)) == {}


def swap_reliefs(
    monkeypatch: pytest.MonkeyPatch, drawn: Callable[[str, Manifold], Manifold]
) -> None:
    """Let the proof find other reliefs than the family draws."""

    def other(hinge: Hinge, parts: list[str], angle: float) -> list[Manifold]:
        return [drawn(part, mesh(hinge, part, angle)) for part in parts]

    monkeypatch.setattr(proof, "raised_alike", other)


@each_family
def test_a_relief_too_small_by_a_twentieth_of_a_millimetre_fails(
    cls: type[Hinge], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cut down all around: what is relief in every shifted place is smaller on each side."""
    hinge = changed(cls(), {"facets": 32})
    by = 0.05 + getattr(hinge, "bow", 0.0)

    def smaller(part: str, relief: Manifold) -> Manifold:
        for axis in range(3):
            way = [by * (k == axis) for k in range(3)]
            relief = relief.translate(way) ^ relief.translate([-v for v in way])
        return relief

    swap_reliefs(monkeypatch, smaller)
    assert set(failed(hinge)) == {"fixed relief", "moving relief"}
    for finding in found(hinge):
        assert finding.margin is not None
        assert -0.2 < finding.margin < -0.04


def test_a_family_without_reliefs_has_no_finding_on_them() -> None:
    class Bare(WaistedSpindle):
        family = "bare_spindle"

        def pieces(self) -> Iterator[Piece]:
            yield from (p for p in super().pieces() if "relief" not in p.parts[0])

    class OneSided(SheetFlexure):
        family = "one_sided_sheet"

        def pieces(self) -> Iterator[Piece]:
            yield from (p for p in super().pieces() if "moving_relief" not in p.parts)

    assert definition(Bare).parts == ("both", "fixed", "moving")
    assert found(Bare()) == []
    assert [finding.name for finding in found(OneSided())] == ["fixed relief"]


@each_family
def test_the_moving_relief_goes_with_its_side(cls: type[Hinge]) -> None:
    """It is proven as it prints: drawn at an angle it is the same solid, carried along."""
    for hinge in some_hinges(cls, 2):
        still, there = (mesh(hinge, "moving_relief", angle=a) for a in (0, hinge.swing))
        (joint,) = hinge.mechanism().joints
        if joint.axis:
            carried = joint.axis.turn(still, hinge.swing)
        else:
            assert isinstance(joint, Fold)
            here = mesh(hinge, "moving", angle=0)
            back = joint.carried_back([[there]], here, [hinge.swing])
            carried, ((there,),) = still, map(made, back)
        assert (carried - there).volume() == pytest.approx(0, abs=1e-3 * still.volume() ** 0.5)
        assert (there - carried).volume() == pytest.approx(0, abs=1e-3 * still.volume() ** 0.5)
