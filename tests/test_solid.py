"""Shape trees: dimensions, repetition, choice and named parts, whatever reads them."""

from __future__ import annotations

from typing import Any

import pytest

from scadgen.trees.expr import Sym
from scadgen.trees.solid import (
    Drawn,
    Shape,
    choose,
    circle,
    each,
    extrude,
    hull,
    inside,
    part,
    polygon,
    rectangle,
    revolve,
    union,
)
from scadgen.trees.to_scad import lines, module
from tests.samples import box, doubled, post, symbol

outline, solid = rectangle(2, 1), box(1, 1, 1)


def test_outlines_are_flat_and_what_is_made_of_them_is_solid() -> None:
    flat = [outline, circle(1), polygon((0, 0), (1, 0), (0, 1)), outline + circle(1)]
    flat += [outline.at(1), outline.turned(z=5), outline.mirrored(x=1), hull(outline, circle(1))]
    flat += [each("i", 2, lambda i: outline.at(i)), choose(symbol("a") > 0, outline)]
    assert {shape.dim for shape in flat} == {2}
    thick = [extrude(outline, 1), revolve(outline), solid - solid, solid.at(z=1), solid.turned(x=1)]
    thick += [each("i", 2, lambda i: solid.at(i)), post(1, 2), solid.because("it is")]
    assert {shape.dim for shape in thick} == {3}


@pytest.mark.parametrize(
    "mix",
    [
        lambda: outline + solid,
        lambda: solid - outline,
        lambda: solid & outline,
        lambda: hull(outline, solid),
        lambda: union(solid, solid, outline),
        lambda: extrude(solid, 1),
        lambda: revolve(solid),
    ],
)
def test_outlines_and_solids_do_not_mix(mix: Any) -> None:
    with pytest.raises(TypeError, match=r"needs a [23]D shape, got a [23]D one"):
        mix()


def test_an_outline_moves_in_its_plane_only() -> None:
    assert lines(outline.at(1, 2)) == ["translate([1, 2]) square([2, 1]);"]
    assert lines(outline.turned(z=30)) == ["rotate(30) square([2, 1]);"]


def test_moves_one_after_the_other_are_one_move() -> None:
    assert lines(outline.at(1).at(y=symbol("a"))) == lines(outline.at(1, symbol("a")))


def test_a_loop_is_one_statement_however_often_it_runs() -> None:
    assert lines(each("i", symbol("n"), lambda i: outline.at(x=3 * i))) == [
        "for (i = [0 : n - 1]) translate([3 * i, 0]) square([2, 1]);"
    ]


def test_a_choice_is_an_if_and_has_an_else_only_where_one_is_given() -> None:
    wide = symbol("a") > 1
    assert lines(choose(wide, outline)) == ["if (a > 1) square([2, 1]);"]
    assert lines(choose(wide, outline, circle(1))) == [
        "if (a > 1) square([2, 1]);",
        "else circle(r = 1, $fn = facets);",
    ]


def test_an_else_stands_below_its_own_if() -> None:
    wide = symbol("a") > 1
    drawn = choose(symbol("b") > 1, choose(wide, outline, circle(1)).at(x=3))
    assert lines(drawn) == [
        "if (b > 1) translate([3, 0])",
        "  if (a > 1) square([2, 1]);",
        "  else circle(r = 1, $fn = facets);",
    ]


def test_what_is_taken_off_is_taken_off_at_once() -> None:
    taken = (outline - circle(1)) - (circle(2) + outline.at(x=3))
    assert lines(taken) == [
        "difference() {",
        "  square([2, 1]);",
        "  circle(r = 1, $fn = facets);",
        "  circle(r = 2, $fn = facets);",
        "  translate([3, 0]) square([2, 1]);",
        "}",
    ]


def test_a_part_is_drawn_once_and_used_often() -> None:
    drawings = []

    @part
    def plate(width: float) -> Shape:
        """A plate."""
        drawings.append(width)
        return rectangle(width, 1)

    first, second = plate(2), plate(symbol("w"))
    assert isinstance(first, Drawn)
    assert isinstance(second, Drawn)
    assert first.module is second.module
    assert [isinstance(width, Sym) for width in drawings] == [True]
    drawn = "module plate(width) square([width, 1]);"
    assert module(first.module) == [f"{drawn}  // a plate"]
    assert module(first.module, len(drawn)) == ["// A plate.", drawn]
    assert lines(first + second.at(x=3)) == [
        "plate(width = 2);",
        "translate([3, 0]) plate(width = w);",
    ]


def test_a_part_that_takes_a_shape_draws_its_children() -> None:
    used = doubled(solid, 4)
    assert isinstance(used, Drawn)
    assert "children();" in "".join(module(used.module))
    assert lines(used)[0].startswith("doubled(gap = 4)")


def test_a_part_of_a_hinge_belongs_to_that_hinge_alone() -> None:
    class Holder:
        def __init__(self, size: float) -> None:
            self.size = size

        @part
        def plate(self) -> Shape:
            """A plate of its holder's size."""
            return rectangle(self.size, 1)

    small, large = Holder(1), Holder(2)
    plates = [small.plate(), large.plate(), small.plate()]
    bodies = [plate.module.body for plate in plates if isinstance(plate, Drawn)]
    assert [lines(body) for body in bodies] == [
        ["square([1, 1]);"],
        ["square([2, 1]);"],
        ["square([1, 1]);"],
    ]
    assert bodies[0] is bodies[2]


def test_inside_finds_every_node_once_and_bodies_only_on_request() -> None:
    tree = doubled(post(1, 2), 3) + post(2, 2)
    found = list(inside(tree, bodies=True))
    assert len({id(node) for node in found}) == len(found)
    names = [node.module.name for node in found if isinstance(node, Drawn)]
    assert sorted(names) == ["doubled", "post", "post"]
    assert len(list(inside(tree))) < len(found)


def test_a_shape_is_refused_where_a_number_should_be() -> None:
    with pytest.raises(TypeError, match="neither a number nor an expression"):
        circle(solid)  # type: ignore[arg-type]
