"""Solid trees drawn at random: every kind of node, sizes of a few millimetres, few corners."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from scadgen.trees.expr import Sym, cos, maximum, sin, where
from scadgen.trees.solid import (
    Shape,
    choose,
    circle,
    each,
    extrude,
    hull,
    part,
    polygon,
    rectangle,
    revolve,
)
from tests.samples import post

#: No coordinate of a tree is farther from the origin than this, mm.
REACH = 60.0
#: A part of a millimetre that hardly ever makes two faces coincide.
ODD = 97
#: The first corner of triangles. From the origin a triangle and its mirror image would touch in a
#: corner alone, and the older OpenSCAD leaves out what it cannot call a solid then.
CORNER = (0.31, -0.17)
#: Sides of a small rectangle.
SMALL = (0.29, 0.23)

names = st.fixed_dictionaries(
    {
        "a": st.integers(1, 4 * ODD).map(lambda k: k / ODD),
        "b": st.integers(-2 * ODD, 2 * ODD).map(lambda k: k / ODD),
        "n": st.sampled_from([1.0, 2.0, 3.0]),
        "facets": st.sampled_from([6.0, 8.0, 12.0]),
    }
)
_a: Any = Sym("a")
_b: Any = Sym("b")
_n: Any = Sym("n")
_turns = st.integers(-12, 12).map(lambda k: 15 * k) | st.floats(-360, 360).map(
    lambda x: round(x, 2)
)


@part
def beside(outline: Shape, far: float) -> Shape:
    """An outline or a solid, moved beside itself"""
    return outline.at(far)


beside(rectangle(1, 1), 1)  # its module is that of an outline: one that moves a solid, too


@st.composite
def lengths(draw: st.DrawFn) -> Any:
    """A length above 0, as a number or a formula."""
    number = draw(st.integers(30, 4 * ODD)) / ODD
    forms = (number, _a, _a + number, maximum(_b, number), where(_b > 0, _a, number), number / _n)
    return draw(st.sampled_from(forms))


@st.composite
def shifts(draw: st.DrawFn) -> Any:
    number = draw(st.integers(-3 * ODD, 3 * ODD)) / ODD
    return draw(st.sampled_from((number, _b, number - _b, -_a, _b * 0.5 + number)))


@st.composite
def outlines(draw: st.DrawFn, depth: int = 2) -> Shape:
    """An outline, anywhere."""
    if not depth:
        return draw(_plain())
    one = outlines(depth=depth - 1)
    match draw(st.integers(0, 6)):
        case 0:
            return draw(_plain())
        case 1:
            return draw(one) + draw(one)
        case 2:
            return draw(one) - draw(one)
        case 3:
            return draw(one).at(draw(shifts()), draw(shifts())).turned(z=draw(_turns))
        case 4:
            # the older OpenSCAD turns a mirrored hull inside out; joined to more it does not
            whole: Shape = draw(one) + rectangle(*SMALL)
            return whole.mirrored(x=1, y=draw(st.integers(0, 2)))
        case 5:
            return beside(draw(one), draw(shifts()))
    return hull(draw(one), draw(_plain()))


@st.composite
def _plain(draw: st.DrawFn) -> Shape:
    match draw(st.integers(0, 3)):
        case 0:
            return rectangle(draw(lengths()), draw(lengths()))
        case 1:
            return circle(draw(lengths()))
        case 2:
            return polygon(
                CORNER, (draw(lengths()), draw(shifts())), (draw(shifts()), draw(lengths()) + 4)
            )
    r, step = draw(lengths()), 360 / (_n + 2)
    return polygon(each("k", _n + 2, lambda k: (r * cos(step * k), r * sin(step * k))))


@st.composite
def solids(draw: st.DrawFn, depth: int = 2) -> Shape:
    """A solid, anywhere within reach."""
    if not depth:
        return draw(_raised())
    one = solids(depth=depth - 1)
    match draw(st.integers(0, 8)):
        case 0:
            return draw(_raised())
        case 1:
            return draw(one) + draw(one)
        case 2:
            return draw(one) - draw(one)
        case 3:
            return draw(one) & draw(_raised())
        case 4:
            moved = draw(one).at(draw(shifts()), draw(shifts()), draw(shifts()))
            return moved.turned(draw(_turns), draw(_turns), draw(_turns))
        case 5:
            return draw(one).mirrored(z=1, y=draw(st.integers(0, 2)))
        case 6:
            body, step = draw(one), draw(lengths())
            return each("i", _n, lambda i: body.at(z=(step + 0.3) * i))
        case 7:
            other = draw(st.none() | _raised())
            return choose(_b > 0, draw(one), other)
    return beside(draw(one), draw(shifts()))


@st.composite
def _raised(draw: st.DrawFn) -> Shape:
    match draw(st.integers(0, 3)):
        case 0:
            return revolve(rectangle(draw(lengths()), draw(lengths())).at(draw(lengths())))
        case 1:
            return post(draw(lengths()), draw(lengths()))
    return extrude(draw(outlines()), draw(lengths()), centered=draw(st.booleans()))
