"""Shape trees as text and as meshes: small solids against closed forms, and the text's form."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen import mesh
from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.meshing import mesh as meshed
from scadgen.trees.expr import where
from scadgen.trees.solid import Shape, circle, each, extrude, polygon, rectangle, revolve
from scadgen.trees.to_mesh import to_mesh
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_scad import WIDTH, lines
from tests.samples import FACETS, SAMPLES, box, post, right_prism, symbol
from tests.support import changed, each_family, some_hinges

NUMBERS = Numbers({"facets": FACETS})
angles = st.floats(-720, 720)
shifts = st.floats(-100, 100)


def solid(shape: Shape) -> Manifold:
    found: Manifold = to_mesh(shape, NUMBERS)
    return found


@pytest.mark.parametrize(("shape", "volume"), SAMPLES.values(), ids=SAMPLES)
def test_a_mesh_has_the_volume_of_the_closed_form(shape: Shape, volume: float) -> None:
    assert solid(shape).volume() == pytest.approx(volume, rel=1e-6)


@pytest.mark.parametrize("shape", [s for s, _ in SAMPLES.values()], ids=SAMPLES)
def test_text_is_balanced_narrow_and_free_of_stray_blanks(shape: Shape) -> None:
    printed = lines(shape)
    for opening, closing in ("()", "[]", "{}"):
        assert "".join(printed).count(opening) == "".join(printed).count(closing)
    assert all(line == line.rstrip() and len(line) <= WIDTH for line in printed)


@given(angles, angles, angles, shifts, shifts, shifts)
def test_rigid_motions_keep_the_volume(
    x: float, y: float, z: float, dx: float, dy: float, dz: float
) -> None:
    placed = solid(right_prism().turned(x, y, z).at(dx, dy, dz).mirrored(y=1))
    assert placed.volume() == pytest.approx(12, rel=1e-4)


@given(angles, angles, angles)
def test_turning_goes_about_x_then_y_then_z(x: float, y: float, z: float) -> None:
    at_once = solid(right_prism().turned(x, y, z))
    in_turn = solid(right_prism().turned(x=x).turned(y=y).turned(z=z))
    assert at_once.bounding_box() == pytest.approx(in_turn.bounding_box(), abs=1e-4)


def test_a_quarter_turn_takes_x_to_y_y_to_z_and_z_to_x() -> None:
    bar = box(5, 1, 1)
    for turned, axis in ((bar.turned(z=90), 1), (bar.turned(z=90).turned(x=90), 2)):
        low_high = np.reshape(solid(turned).bounding_box(), (2, 3))
        assert (low_high[1] - low_high[0]).argmax() == axis


def test_a_circle_has_its_first_corner_on_x_and_as_many_as_facets_says() -> None:
    outline = to_mesh(circle(2), NUMBERS)
    corners = outline.to_polygons()[0]
    assert len(corners) == FACETS
    assert np.hypot(*corners.T) == pytest.approx(2)
    assert min(np.hypot(*(corners - (2, 0)).T)) == pytest.approx(0, abs=1e-6)


def test_a_turned_outline_has_its_corners_where_a_circle_has_them() -> None:
    turned, raised = revolve(rectangle(3, 2)), extrude(circle(3), 2)
    assert (solid(turned) ^ solid(raised)).volume() == pytest.approx(solid(raised).volume())
    assert solid(turned).volume() == pytest.approx(solid(raised).volume(), rel=1e-5)


@pytest.mark.parametrize("solid_of", [lambda outline: extrude(outline, 2), revolve])
def test_a_solid_of_an_empty_outline_is_nothing_and_takes_nothing_along(solid_of: Any) -> None:
    """As OpenSCAD has it."""
    empty = solid_of(rectangle(2, 2) - circle(9))
    assert solid(empty).is_empty()
    assert solid(box(1, 2, 3) + empty).volume() == pytest.approx(6)
    assert solid(box(1, 2, 3) - empty).volume() == pytest.approx(6)


@pytest.mark.parametrize(
    "measure",
    [1 / (symbol("facets") - FACETS), where(symbol("facets") > 0, symbol("facets") / 0, 1)],
)
def test_a_measure_that_is_not_finite_has_no_mesh(measure: float) -> None:
    for shape in (extrude(circle(1), measure), box(measure, 1, 1), box(1, 1, 1).at(x=measure)):
        with pytest.raises(ValueError, match="not a finite number"):
            solid(shape)


def test_statements_are_nested_as_a_careful_maker_would() -> None:
    plate = box(4, 3, 2) - each("i", symbol("n"), lambda i: box(1, 1, 2).at(x=2 * i))
    assert lines(plate.because("holes for pins")) == [
        "// holes for pins",
        "difference() {",
        "  linear_extrude(height = 2, convexity = 10) square([4, 3]);",
        "  for (i = [0 : n - 1])",
        "    translate([2 * i, 0, 0]) linear_extrude(height = 2, convexity = 10) square([1, 1]);",
        "}",
    ]


def test_a_long_outline_has_as_many_corners_in_a_line_as_fit() -> None:
    corners = [(symbol(f"corner_{k}") * 2, symbol(f"height_{k}") * 2) for k in range(5)]
    printed = lines(polygon(*corners))
    assert [line.count("corner_") for line in printed] == [3, 2]
    assert (printed[0][:10], printed[-1][-4:]) == ("polygon([[", "]]);")
    assert max(map(len, printed)) <= WIDTH < len(printed[0] + " [corner_3 * 2, height_3 * 2],")


def test_a_used_part_is_called_by_name_with_named_arguments() -> None:
    assert lines(post(symbol("w") + 1, 3)) == ["post(width = w + 1, rise = 3);"]


@each_family
def test_every_part_of_a_hinge_is_a_sound_solid(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 1):
        for name in definition(cls).parts:
            body = mesh(hinge, name)
            assert body.status().name == "NoError"
            assert body.volume() > 1


@each_family
def test_a_part_that_the_family_has_not_is_refused(cls: type[Hinge]) -> None:
    with pytest.raises(ValueError, match=f"{cls.family}.*part = 'lid'; it must be one of"):
        mesh(cls(), "lid")


@each_family
def test_an_angle_given_to_the_mesh_is_that_of_the_hinge(cls: type[Hinge]) -> None:
    angle = cls().swing / 2
    turned = changed(cls(), {"angle": angle})
    asked = meshed(cls(), angle=angle)
    assert asked.bounding_box() == pytest.approx(mesh(turned).bounding_box(), abs=1e-9)
    assert asked.bounding_box() != pytest.approx(mesh(cls()).bounding_box(), abs=1)
    assert math.isclose(asked.volume(), mesh(turned).volume(), rel_tol=1e-9)
