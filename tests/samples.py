"""Small solids with known volumes: each feature of the shape trees once."""

from __future__ import annotations

import math
from typing import Any

from scadgen.trees.expr import Sym, cos, let, sin, where
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
    union,
)

FACETS = 24
# Area of a regular polygon with FACETS corners on the unit circle (elementary geometry).
DISC = FACETS / 2 * math.sin(math.tau / FACETS)


def box(x: float, y: float, z: float) -> Shape:
    return extrude(rectangle(x, y), z)


def right_prism() -> Shape:
    """A right-angled triangle with legs 3 and 4, extruded by 2: no two of its turns coincide."""
    return extrude(polygon((0, 0), (3, 0), (0, 4)), 2)


def symbol(name: str) -> Any:
    """A free symbol, typed as what it stands for."""
    return Sym(name)


facets = symbol("facets")
many_sided, few_sided = facets >= FACETS, facets < FACETS


@part
def post(width: float, rise: float) -> Shape:
    """Square post with a plate of half its width on top."""
    half = let("half", width / 2)
    return box(width, width, rise) + box(half, half, 1).at(z=rise)


@part
def pair_of_posts(width: float) -> Shape:
    """Two posts of different widths, each with its own half."""
    half = let("half", width / 4)
    return post(width, 3) + post(2 * width, half).at(x=10)


@part
def doubled(shape: Shape, gap: float) -> Shape:
    """The shape twice, a gap apart."""
    return shape + shape.at(x=gap)


SAMPLES: dict[str, tuple[Shape, float]] = {
    "box": (box(2, 3, 4), 24),
    "box at": (box(2, 3, 4).at(1, 2, 3).at(-5), 24),
    "centered": (extrude(rectangle(2, 3), 4, centered=True), 24),
    "disc": (extrude(circle(3), 2), 9 * DISC * 2),
    "ring": (revolve(rectangle(2, 5).at(x=3)), (25 - 9) * DISC * 5),
    "cone": (revolve(polygon((0, 0), (3, 0), (0, 6))), 9 * DISC * 6 / 3),
    "union": (box(2, 2, 2) + box(2, 2, 2).at(1, 1, 1), 15),
    "difference": (box(4, 4, 4) - box(2, 2, 6).at(1, 1, -1), 48),
    "difference of a union": (box(4, 4, 4) - (box(1, 1, 4) + box(1, 1, 4).at(2, 2)), 56),
    "intersection": (box(2, 2, 2) & box(2, 2, 2).at(1, 1, 1), 1),
    "intersection of a union": (box(9, 1, 1) & (box(1, 1, 1) + box(1, 1, 1).at(4)), 2),
    "hull": (hull(box(1, 1, 1), box(1, 1, 1).at(z=4)), 5),
    "outline difference": (extrude(rectangle(4, 4) - rectangle(2, 2).at(1, 1), 3), 36),
    "outline hull": (extrude(hull(rectangle(1, 1), rectangle(1, 1).at(3)), 2), 8),
    "turned": (right_prism().turned(x=90, y=90, z=30), 12),
    "turned outline": (extrude(rectangle(2, 3).turned(z=30), 4), 24),
    "mirrored": (right_prism().mirrored(x=1), 12),
    "mirrored outline": (extrude(polygon((0, 0), (3, 0), (0, 4)).mirrored(y=1), 2), 12),
    "each": (each("i", 3, lambda i: box(1, 1, i + 1).at(x=2 * i)), 6),
    "each in each": (
        each("i", 3, lambda i: each("k", 2, lambda k: box(1, 1, 1 + k).at(2 * i, 2 * k))),
        9,
    ),
    "each point": (
        extrude(
            polygon(each("i", 6, lambda i: (2 * cos(60 * i), 2 * sin(60 * i)))),
            2,
        ),
        2 * 6 * math.sqrt(3),
    ),
    "each point between others": (
        extrude(polygon((0, 0), each("i", 3, lambda i: (4 - i, i)), (0, 2)), 1),
        6,
    ),
    "each minus each": (
        each("i", 2, lambda i: box(4, 4, 2).at(x=6 * i))
        - each("i", 2, lambda i: box(2, 2, 4).at(x=6 * i + 1, y=1, z=-1)),
        48,
    ),
    "chosen": (choose(many_sided, box(2, 2, 2), box(1, 1, 1)), 8),
    "otherwise": (choose(few_sided, box(2, 2, 2), box(1, 1, 1)), 1),
    "nothing": (box(1, 1, 1) + choose(few_sided, box(9, 9, 9)), 1),
    "where": (box(where(few_sided, 5, 3), 1, 1), 3),
    "noted": (box(4, 4, 4) - box(2, 2, 6).at(1, 1, -1).because("room for a pin"), 48),
    "several": (union(*(box(1, 1, 1).at(x=3 * k) for k in range(4))), 4),
    "part": (post(2, 3), 13),
    "part in a part": (pair_of_posts(2), 13 + 12),
    "part around a shape": (doubled(box(1, 2, 3), 4), 12),
    "part around a part": (doubled(post(2, 3), 4) + doubled(box(1, 1, 1), 2).at(z=9), 28),
    "part in each": (each("i", 3, lambda i: post(i + 1, 3).at(x=9 * i)), 42 + 3.5),
}
