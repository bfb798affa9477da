"""What carries the load at each place that may give way: where to cut a solid, and what acts.

Data, not formulas: a family names the sections of its own solid and the forces on them, so that
each of its strengths can be held against nominal stresses measured there. mm, N, degrees; points
are those of the hinge drawn flat, x, y and z.

Source: statics; a section is that of the solid itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

Point = tuple[float, float, float]

#: What is compared. ``normal``: tension and bending; ``shear``: force in the section, over its
#: area; ``both``: normal stress, shear and torsion together. ``bend``: strain of a sheet bent by a
#: turn, and of a tension in it; ``twist``: of a bar twisted by one; ``wound``: of a second section,
#: bent by the torque of two such bars; ``held``: the torque that a turn takes; ``snap``: the force
#: that breaks a section.
Kind = Literal["normal", "shear", "both", "bend", "twist", "wound", "held", "snap"]


@dataclass(frozen=True)
class Cut:
    """A plane through a part of the hinge: through ``at``, square to ``normal`` ("x", "y", "z").

    Of the section only what lies in the window counts: its sides along x, y and z, around the
    point. Of several outlines that nearest to the point counts, or all if ``whole``.
    """

    part: str
    at: Point
    normal: str
    window: Point = (math.inf, math.inf, math.inf)
    whole: bool = False


@dataclass(frozen=True)
class Tube:
    """The wall of a cylinder in a part, along which a core shears out: ``at`` is its middle."""

    part: str
    at: Point
    axis: str
    diameter: float
    height: float


@dataclass(frozen=True)
class Lever:
    """A lever that leans on a fulcrum: so far from the axis, the place so far from the fulcrum.

    ``least``: the share of the load that the place bears where nothing pries.
    """

    fulcrum: float
    arm: float
    least: float = 0.0


@dataclass(frozen=True)
class Force:
    """A share of a quantity of the duty ("load", "pull" or "tilt"), acting at a point.

    along: "x", or "yz" for any direction in that plane. over: the lever by which the load pries.
    out: the way in which the lever of a load or a pull leads from the point to where it acts, or ""
    for none. beside: the same of the duty's offset. least: the least lever that counts (mm).
    times: a length of the duty by which the force counts, "offset" or "pull_lever"; the latter is
    told from the middle of what bends, whose half is ``least``.
    A tilt is a moment (N mm): its share is 1/mm.
    """

    by: str
    at: Point
    along: str
    share: float = 1.0
    over: Lever | None = None
    out: str = ""
    beside: str = ""
    least: float = 0.0
    times: str = ""


@dataclass(frozen=True)
class Turn:
    """A turn over a length, by ``count`` bars side by side; ``reach`` lengthens a load's lever."""

    degrees: float
    length: float
    count: float = 1
    reach: float = 0


@dataclass(frozen=True)
class Carrier:
    """What carries the load at a place, named as its strength is. The worst of the cuts counts.

    peak: how many times its nominal stress a strength may tell, for a corner that no section knows.
    """

    place: str
    kind: Kind
    cuts: tuple[Cut | Tube, ...]
    forces: tuple[Force, ...] = ()
    turn: Turn | None = None
    peak: float = 1.0


#: Cuts along a place whose worst section is not known.
ALONG = 13


def between(low: float, high: float) -> list[float]:
    """Places from one end of a length to the other, a little inside both."""
    inside = (high - low) / 1000
    step = (high - low - 2 * inside) / (ALONG - 1)
    return [low + inside + k * step for k in range(ALONG)]


def pried(heel: float, at: Point, along: str, share: float = 1.0) -> Force:
    """A share of the force on a bearing whose moving part leans on a heel, so far from the axis."""
    return Force("load", at, along, share, Lever(heel, heel, 1))


def tilting(at: Point, axis: str, along: str, share: float = 1.0) -> tuple[Force, Force]:
    """What tilts the moving part, as a pair of forces half a millimetre beside a point each."""
    k = "xyz".index(axis)
    (x, y, z), (dx, dy, dz) = at, (0.5 * (i == k) for i in range(3))
    upper, lower = (x + dx, y + dy, z + dz), (x - dx, y - dy, z - dz)
    return Force("tilt", upper, along, share), Force("tilt", lower, along, -share)


def ring_side(place: str, cut: Cut, radius: float, off: str, *forces: Force) -> Carrier:
    """A ring pulled across a diameter, cut at one side: half of each force, square to the cut.

    It acts 2/pi of the mean radius beside the section, along ``off``: so the section bears F/2 and
    the moment F R/pi, the greatest in a ring.
    """
    way = 2 / math.pi * radius
    moved = {"x": (way, 0.0, 0.0), "y": (0.0, way, 0.0), "z": (0.0, 0.0, way)}[off]
    x, y, z = (one + other for one, other in zip(cut.at, moved, strict=True))
    halves = (Force(one.by, (x, y, z), cut.normal, one.share / 2, one.over) for one in forces)
    return Carrier(place, "normal", (cut,), tuple(halves))


def split(place: str, cut: Cut, bore: float, off: str, *forces: Force) -> Carrier:
    """A socket that a cone of 45 degrees splits: a push along the axis over 2 pi is its tension.

    ``cut`` is through its wall, which starts at the radius of the bore and runs along ``off``; of a
    thick wall only so much counts as the bore is wide: what lies further out bears little.
    """
    k = "xyz".index(off)
    thick = min(cut.window[k], bore)
    inner = [cut.at[i] - (cut.window[k] - thick) / 2 * (i == k) for i in range(3)]
    window = [thick if i == k else cut.window[i] for i in range(3)]
    cut = replace(cut, at=(inner[0], inner[1], inner[2]), window=(window[0], window[1], window[2]))
    around = (
        Force(one.by, cut.at, cut.normal, one.share / (2 * math.pi), one.over) for one in forces
    )
    return Carrier(place, "normal", (cut,), tuple(around))
