"""How a joint sits on its bodies: whether they carry it along its length, or it hangs past them,
and whether screws still go through its leaves.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from scadgen.findings.finding import Finding
from scadgen.hinge.family import numbers
from scadgen.hinge.meshing import mesh
from scadgen.motion.contact import overlap
from scadgen.product.building import bared, merged
from scadgen.proof.parts import ROUNDED
from scadgen.trees.to_mesh import to_mesh

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Vector
    from scadgen.product.fitting import Fitted
    from scadgen.product.model import Product

#: So much of its length must be carried (common practice, no source), as strength is reckoned with
#: all of it, and a knuckle past the end of a wall hangs on its neighbour. Some of what a hinge has
#: at its ends, like the bumps of a detent, is meant to hang.
SEATED = 0.8
#: And so much of what is neither hinge nor flexure, whose own length nobody knows.
SOMEWHERE = 0.1
#: So many sections across the length are looked at.
SECTIONS = 60
#: Turns about x, y and z, degrees, that bring what lies along x, along y, or stands, upright.
UPRIGHT = ((0.0, -90.0, 0.0), (90.0, 0.0, 0.0), (0.0, 0.0, 0.0))
#: Past an end by less, mm, is not told.
SEEN = 0.05


def seats(product: Product, fitted: Fitted) -> Iterator[Finding]:
    """A finding for each body of a joint."""
    for side, name in enumerate(fitted.joint.pair):
        yield _seat(product, fitted, side, name.replace("_", " "))


def screws(product: Product, fitted: Fitted) -> Iterator[Finding]:
    """Whether pins still go through the holes for screws where bodies swallow the leaves."""
    drilled = fitted.hinge.drilled_holes()
    if drilled is None:
        return
    pins = to_mesh(drilled.pins, numbers(fitted.hinge))
    bodies = (
        fitted.frame(side).back.carry(merged(product, name))
        for side, name in enumerate(fitted.joint.pair)
    )
    filled = sum(overlap(pins, body) for body in bodies)
    good = filled <= ROUNDED * pins.volume()
    words = f"pins of {drilled.width:g} mm meet {filled:.3f} mm3 of the bodies."
    change = "no screw: a hinge that is merged needs none; or drill the bodies there"
    yield Finding("screws through the bodies", good, words, change="" if good else change)


def _seat(product: Product, fitted: Fitted, side: int, title: str) -> Finding:
    part = mesh(fitted.hinge, fitted.part(side), 0.0)
    body = fitted.frame(side).back.carry(bared(product, fitted.joint.pair[side]))
    ways = fitted.own.lengthwise
    share, past = max(_along(way, part, body, product.line_width) for way in ways)
    hangs = f"; it reaches {past:.3g} mm past the end" if past >= SEEN else ""
    least = SEATED if len(ways) == 1 else SOMEWHERE
    good = share >= least
    asked = "" if good else f"; {100 * least:.0f} % are asked, by a line or more"
    words = f"{100 * share:.0f} % of the length of its side is carried{hangs}{asked}."
    change = "" if good else _change(past)
    limits = 100 * share, 100 * least, "%"
    return Finding(f"seat on the {title}", good, words, *limits, change=change)


def _along(way: Vector, own: Manifold, body: Manifold, line: float) -> tuple[float, float]:
    """The share of its length that is carried, and how far it hangs past the end, mm."""
    turn = UPRIGHT[int(np.argmax(np.abs(way)))]
    own, body = own.rotate(turn), body.rotate(turn)
    return _carried(own, own ^ body, line), _past(own.bounding_box(), body.bounding_box())


def _past(own: tuple[float, ...], body: tuple[float, ...]) -> float:
    return max(body[2] - own[2], own[5] - body[5])


def _change(past: float) -> str:
    if past >= SEEN:
        return f"move it by {past:.3g} mm (offset), or a shorter hinge, or a longer side"
    return "the axis nearer to the body, or a body that is whole where the hinge enters it"


def _carried(own: Manifold, shared: Manifold, line: float) -> float:
    """The share of a length, upright here, at which what is shared is a line wide both ways."""
    low, high = own.bounding_box()[2], own.bounding_box()[5]
    there = carried = 0
    for height in np.linspace(low, high, SECTIONS + 1)[1:] - (high - low) / (2 * SECTIONS):
        if own.slice(height).area() <= 0:
            continue
        there += 1
        section = shared.slice(height)
        if section.area() > 0:
            x, y, far_x, far_y = section.bounds()
            carried += min(far_x - x, far_y - y) >= line
    return carried / there if there else 0.0
