"""Shapes that several families share. Each is drawn here and nowhere else."""

from __future__ import annotations

from scadgen.hinge.rules import GRAIN
from scadgen.trees.expr import as_expr, cos, let, maximum, sin, sqrt, tan, where
from scadgen.trees.solid import (
    Shape,
    circle,
    each,
    extrude,
    hull,
    part,
    polygon,
    rectangle,
    revolve,
)

OCTANT: float = as_expr(45) / 2  # type: ignore[assignment]  # degrees: half the corner angle of an octagon


@part
def standing(outline: Shape, thickness: float) -> Shape:
    """An outline in x and z, as thick in y as said, half to each side."""
    return extrude(outline, thickness, centered=True).turned(x=90)


@part
def along_x(outline: Shape, length: float) -> Shape:
    """An outline in y and z, as long in x as said, half to each side of 0."""
    return extrude(outline, length, centered=True).turned(x=90, z=90)


@part
def tooth(width: float, height: float, foot: float) -> Shape:
    """Window in x and z for one loop, narrower at the bed."""
    return polygon(
        (foot, 0), (width - foot, 0), (width, foot), (width, height), (0, height), (0, foot)
    )


@part
def knuckle_outline(radius: float, top: float) -> Shape:
    """Knuckle: octagonal below, round above, flat on top."""
    flat = let("flat", radius * tan(OCTANT))
    stand = polygon(
        (-flat, -radius),
        (flat, -radius),
        (radius, -flat),
        (radius, 0),
        (-radius, 0),
        (-radius, -flat),
    )
    below_top = rectangle(2 * radius, radius + top).at(-radius, -radius)
    return (circle(radius) & below_top) + stand


@part
def bore_outline(radius: float, rim: float) -> Shape:
    """Bore under a 45-degree roof, so that nothing in it hangs."""
    corner = let("corner", radius * rim)
    return circle(corner) + rectangle(corner, corner).turned(z=45)


@part
def cone_pair(root: float, tip: float, apart: float, join: float) -> Shape:
    """Half section of two cones, their roots so far apart."""
    cone = polygon((0, -join), (root, -join), (root, 0), (root - tip, tip), (0, tip))
    return cone + cone.mirrored(y=1).at(y=apart)


@part
def at_both_ends(end: Shape) -> Shape:
    """What stands at the end of the hinge towards +x, at the other end, too."""
    return end + end.mirrored(x=1)


@part
def about_x(outline: Shape) -> Shape:
    """A half section revolved about the x axis; its y becomes x."""
    return revolve(outline).turned(y=90)


def rod_depth(radius: float) -> float:
    """From the axis of a rod down to the narrow flat on which it bridges."""
    return radius * cos(OCTANT)


@part
def rod_outline(radius: float) -> Shape:
    """Rod, octagonal below: only its narrow flat has to bridge."""
    flat = let("flat", radius * sin(OCTANT), "half the width that bridges")
    low = let("low", rod_depth(radius))
    side = let("side", flat + radius)
    clip = polygon(
        (-flat, -low),
        (flat, -low),
        (side, radius - low),
        (side, radius),
        (-side, radius),
        (-side, radius - low),
    )
    return circle(radius) & clip


@part
def trough_below(radius: float, thread: float, beside: float) -> Shape:
    """Room in a bore for threads below a rod's flat."""
    wide = let("wide", 2 * (radius * sin(OCTANT) + beside), "of the flat, and beside it")
    deep = let("deep", rod_depth(radius) + thread, "from the axis down to its floor")
    return rectangle(wide, deep).at(-wide / 2, -deep)


@part
def corbel_below(radius: float, bore: float, arm: float, aside: float) -> Shape:
    """All below a corbel from an arm at +x to -x.

    The middle of the arm is so far ``aside`` of the bore's, towards -y.

    Each layer must lie within 45 degrees of the one below: so the corbel also spreads sideways
    from the arm, and behind the bore, where nothing carries it, it closes in from both sides.
    """
    far = let("far", 2 * radius, "beyond the whole ring")
    climb = maximum(bore - arm / 2 + aside, 0)
    side = let("side", climb, "climb from the arm to the side of the bore")
    below = polygon(
        (-far, -far),
        (far, -far),
        (far, (far - arm / 2) / sqrt(2)),
        (arm / 2, 0),
        (-arm / 2, 0),
        (-far, (far - arm / 2) / sqrt(2)),
    )
    closing = polygon(
        (-bore, -far),
        (bore, -far),
        (bore, side / sqrt(2)),
        (0, (side + bore) / sqrt(2)),
        (-bore, side / sqrt(2)),
    )
    through = let("through", 2 * far, "through everything")
    behind = extrude(rectangle(through, through).at(-through, -far), 2 * through, centered=True)
    closed = climbing(closing, 2 * through) & behind
    spread = climbing(below.at(x=aside), 2 * through)
    return (spread + closed).at(z=radius)


@part
def climbing(outline: Shape, length: float) -> Shape:
    """An outline in y and across a 45-degree climb to -x, drawn out along it."""
    return extrude(outline, length, centered=True).turned(x=45, z=-90)


@part
def along_chords(outline: Shape, chords: float, chord: float, start: float, turn: float) -> Shape:
    """An outline moved along chords that turn."""
    count = where(abs(turn) < GRAIN, chords, sin(chords * turn / 2) / sin(turn / 2))
    way = let("way", chord * count)
    bearing = let("bearing", start + (chords - 1) * turn / 2)
    return outline.at(way * cos(bearing), way * sin(bearing))


@part
def swept(outline: Shape, start: float, step: float, steps: float) -> Shape:
    """Convex outline on its way.

    Hulls bridge the steps, so the arcs of its corners come out short by 1 - cos(step / 2) of
    their radius: give the outline that much room.
    """

    def turned(k: float) -> Shape:
        return outline.turned(z=start + k * step)

    return each("k", steps, lambda k: hull(turned(k), turned(k + 1)))
