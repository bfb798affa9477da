"""How bodies stand on their first layer: hand-made ones with closed forms, and hinges."""

from __future__ import annotations

import math

import pytest
from manifold3d import Manifold

from scadgen import NestedCones, WaistedSpindle, mesh
from scadgen.findings.finding import Finding
from scadgen.findings.on_standing import feet
from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.printing.cuts import Cuts
from scadgen.printing.standing import DENSITY, GRAVITY, PUSH, SHAKE, Standing, standing
from tests.shapes import box, rod
from tests.support import each_family


def one(body: Manifold, height: float = 0.2) -> Standing:
    (found,) = standing([body], height)
    return found


def findings(*bodies: Manifold, heights: tuple[float, ...] = (0.2,)) -> list[Finding]:
    return list(feet(Cuts(bodies), heights, lambda body: f"body {body + 1}"))


def of_hinge(hinge: Hinge) -> list[Finding]:
    parts = ("fixed", "moving") if isinstance(hinge, Pivot) else ("both",)
    return findings(*(mesh(hinge, part, angle=0) for part in parts), heights=(0.1, 0.2, 0.3))


def test_a_post_is_measured_where_it_stands() -> None:
    found = one(box((10, -5, 0), (14, 1, 30)))
    assert (found.area, found.width, found.height) == pytest.approx((24, 4, 30))
    assert (found.centre, found.edge, found.ratio) == pytest.approx((15, 2, 7.5))
    assert found.tips == pytest.approx(GRAVITY * 2 / 15)


def test_the_pull_at_a_corner_is_that_of_unsymmetrical_bending() -> None:
    """A rectangle's corner, M sqrt((6 / a b^2)^2 + (6 / a^2 b)^2), less the weight on the area."""
    a, b, h = 4.0, 6.0, 30.0
    weight = DENSITY * a * b * h * GRAVITY
    moment = PUSH * h + weight / GRAVITY * SHAKE * h / 2
    corner = moment * math.hypot(6 / (a * b**2), 6 / (a**2 * b))
    assert one(box((0, 0, 0), (a, b, h))).pull == pytest.approx(corner - weight / (a * b))


def test_a_round_foot_is_pulled_alike_all_around() -> None:
    """Section modulus of a circle: pi r^3 / 4."""
    r, h = 3.0, 50.0
    mass = DENSITY * math.pi * r * r * h
    moment = PUSH * h + mass * SHAKE * h / 2
    wanted = moment / (math.pi * r**3 / 4) - mass * GRAVITY / (math.pi * r * r)
    found = one(rod(r, 0, h, 256))
    assert found.pull == pytest.approx(wanted, rel=1e-3)
    assert found.width == pytest.approx(2 * r, rel=1e-3)


def test_turning_and_moving_a_body_changes_nothing() -> None:
    still = box((0, 0, 0), (4, 6, 30)) + box((4, 0, 25), (12, 3, 30))
    moved = still.rotate((0, 0, 33)).translate((-40, 17, 0))
    for name in ("area", "width", "height", "centre", "edge", "pull"):
        assert getattr(one(moved), name) == pytest.approx(getattr(one(still), name), rel=1e-6)


def test_several_feet_count_together() -> None:
    """Two posts under a beam: the hull goes around both, and the narrow way is that of one."""
    beam = box((0, 0, 10), (40, 4, 14))
    table = beam + box((0, 0, 0), (4, 4, 10)) + box((36, 0, 0), (40, 4, 10))
    lone = beam + box((0, 0, 0), (4, 4, 10))
    both = one(table)
    assert (both.area, both.width, both.edge) == pytest.approx((32, 4, 2))
    assert both.pull < one(lone).pull / 2


def test_what_leans_out_over_its_foot_falls_when_it_is_loose() -> None:
    gallows = box((0, 0, 0), (5, 5, 30)) + box((5, 0, 25), (60, 5, 30))
    found = one(gallows)
    assert found.edge < 0
    assert found.tips == 0
    (finding,) = findings(gallows)
    assert "loose, it falls over by itself" in finding.words


def test_its_own_lean_adds_to_the_pull() -> None:
    """A weight beside the foot pulls at the other edge by M / W = 6 M / a^3."""
    a, out = 6.0, 1000.0
    straight, leaning = (
        Manifold.cube((a, a, 10), center=True).translate((0, 0, 5))
        + Manifold.cube((a, a, 1), center=True).translate((x, 0, 9.5))
        for x in (0, out)
    )
    weight = DENSITY * a * a * GRAVITY
    more = one(leaning).pull - one(straight).pull
    assert more == pytest.approx(6 * weight * out / a**3, rel=0.02)


def test_a_body_that_starts_in_the_air_has_no_footing() -> None:
    found = one(box((0, 0, 1), (4, 4, 9)))
    assert (found.area, found.pull, found.tips, found.ratio) == (0, 0, 0, 0)
    (finding,) = findings(box((0, 0, 1), (4, 4, 9)))
    assert not finding.passed
    assert finding.measured is None
    assert finding.change


def test_the_worst_first_layer_counts() -> None:
    """A foot that widens upwards: the thinnest first layer is the smallest."""
    foot = Manifold.hull_points(
        [(x, y, 0) for x in (1, 3) for y in (1, 3)] + [(x, y, 1) for x in (0, 4) for y in (0, 4)]
    )
    post = foot + box((0, 0, 1), (4, 4, 20))
    (thin,), (thick,) = findings(post, heights=(0.1,)), findings(post, heights=(0.4,))
    (both,) = findings(post, heights=(0.4, 0.1))
    assert both == thin
    assert thin.words.startswith("4.4 mm2")
    assert thick.words.startswith("5.8 mm2")


@pytest.mark.parametrize(
    ("width", "height", "passed", "marginal"),
    [(4, 10, True, False), (4, 40, True, True), (4, 400, False, False), (1, 90, False, False)],
)
def test_a_post_passes_wants_a_brim_or_fails(
    width: float, height: float, passed: bool, marginal: bool
) -> None:
    """The last would stay on the bed with a brim, but part from its own first layer."""
    (found,) = findings(box((0, 0, 0), (width, 15 * width / 4, height)))
    assert (found.passed, found.marginal) == (passed, marginal)
    assert found.change.startswith("print it with a brim") is marginal
    assert found.change.startswith("a larger foot") is not passed
    assert f"{width:.1f} mm wide at the narrowest, under {height:g} mm" in found.words


@pytest.mark.parametrize("height", [40.0, 120.0, 400.0])
def test_the_height_that_is_advised_works(height: float) -> None:
    (found,) = findings(box((0, 0, 0), (4, 15, height)))
    advised = float(found.change.partition("at most ")[2].partition(" mm")[0])
    (lower,) = findings(box((0, 0, 0), (4, 15, advised)))
    (higher,) = findings(box((0, 0, 0), (4, 15, 1.1 * advised)))
    assert lower.passed
    assert lower.marginal is not found.passed
    assert (higher.passed, higher.marginal) == (found.passed, found.passed)


def test_a_brim_is_laid_around_all_of_the_foot() -> None:
    """Without shaking and weight: the moment on the foot, 5 mm larger on each side."""
    (wide,) = standing([box((-5, -5, 0), (9, 20, 60))], 0.2, shake=0, density=0)
    (post,) = standing([box((0, 0, 0), (4, 15, 60))], 0.2, shake=0, density=0)
    assert post.braced == pytest.approx(wide.pull, rel=0.1)  # its corners are round
    assert post.quick == 0
    assert post.tallest(3) == pytest.approx(180)


def test_a_low_plate_says_nothing_of_a_ratio() -> None:
    (found,) = findings(box((0, 0, 0), (60, 60, 2)))
    assert found.passed
    assert " to 1" not in found.words
    assert "against its weight" in found.words


@each_family
def test_defaults_stand(cls: type[Hinge]) -> None:
    assert all(finding.passed for finding in of_hinge(cls()))


@pytest.mark.parametrize("tall", [WaistedSpindle, NestedCones], ids=lambda cls: cls.family)
def test_a_tall_link_on_next_to_nothing_fails(tall: type[WaistedSpindle | NestedCones]) -> None:
    height = 200 if tall is WaistedSpindle else 300
    fixed, moving = of_hinge(tall(height=height, leaf_length=0, leaf_thickness=1.2))
    assert not moving.passed
    assert moving.words.startswith("1.0 mm2, 0.9 mm wide at the narrowest")
    assert fixed.passed
    assert fixed.marginal
