"""Checks a stored certificate on its own: ``python -m scadgen.caging.checker FILE``.

It shares nothing with what found the certificate, and needs only Python. It reads two half
sections (distance from the axis, place along it; mm), turned about the axis into two bodies, and a
region of poses of the second: its centre shifted by up to ``aside`` square to the axis and from
``-below`` to ``above`` along it, its axis tilted by up to ``tilt`` (rad). The region's boundary has
four faces, each cut into cells; a number of a cell's list that is 0 or more is the place of the
second body that answers for the cell, and -1 to -4 says that the cell is halved in its aside,
along, tilt or way of the tilt, and that both halves follow, the lower one first.

A place answers when in every pose of its cell a ball of half the certificate's depth around it lies
in both bodies. Then no pose on the boundary is free of overlap, even after each body has lost less
than that much all around, and no motion leads out of the region.
"""

from __future__ import annotations

import hashlib
import json
import math
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

#: What rounding may have done to a stored depth, mm.
ROUNDING = 1e-7

Pose = tuple[float, ...]
Outline = list[list[float]]


class RefusedError(ValueError):
    """Why a certificate does not hold."""


def depth(outlines: list[Outline], off: float, along: float) -> float:
    """How far a place lies inside a turned body; 0 outside."""
    inside, nearest = False, math.inf
    for outline in outlines:
        for (a, b), (c, d) in zip(outline, outline[1:] + outline[:1], strict=True):
            if (b > along) != (d > along) and a + (along - b) / (d - b) * (c - a) > off:
                inside = not inside
            if a > 0 or c > 0:  # an edge on the axis is none of the surface
                long = (c - a) ** 2 + (d - b) ** 2
                share = ((off - a) * (c - a) + (along - b) * (d - b)) / long if long else 0.0
                share = min(1.0, max(0.0, share))
                far = math.hypot(off - a - share * (c - a), along - b - share * (d - b))
                nearest = min(nearest, far)
    return nearest if inside else 0.0


def moved(place: list[float], pose: Pose, centre: float) -> tuple[float, float]:
    """Where a place of the second body comes, seen in the half section of the first."""
    aside, along, tilt, way = pose
    x, y, z = place[0], place[1], place[2] - centre
    towards = x * math.cos(way) + y * math.sin(way)
    beside = y * math.cos(way) - x * math.sin(way)
    towards, z = (
        towards * math.cos(tilt) + z * math.sin(tilt),
        z * math.cos(tilt) - towards * math.sin(tilt),
    )
    east = aside + towards * math.cos(way) - beside * math.sin(way)
    north = towards * math.sin(way) + beside * math.cos(way)
    return math.hypot(east, north), centre + along + z


def boundary(region: dict[str, float]) -> dict[str, tuple[Pose, Pose]]:
    """The least and the largest pose of each face."""
    aside, below, above, tilt = (float(region[key]) for key in ("aside", "below", "above", "tilt"))
    if not (aside > 0 and below > 0 and above > 0 and 0 < tilt < math.pi):
        raise RefusedError("its region does not surround rest")
    low, high = (0.0, -below, 0.0, 0.0), (aside, above, tilt, math.pi)
    return {
        "aside": ((aside, *low[1:]), high),
        "below": (low, (aside, -below, tilt, math.pi)),
        "above": ((0.0, above, 0.0, 0.0), high),
        "tilt": ((0.0, -below, tilt, 0.0), high),
    }


def cells(face: tuple[Pose, Pose], told: list[int]) -> Iterator[tuple[Pose, Pose, int]]:
    """Each cell of a face, its least and largest pose, and the place that answers for it."""
    waiting = [face]
    for number in told:
        if not waiting:
            raise RefusedError("a face has more cells than it was cut into")
        low, high = waiting.pop()
        if number >= 0:
            yield low, high, number
            continue
        cut = -1 - number
        if cut > 3:
            raise RefusedError(f"a cell has no dimension {cut}")
        middle = (low[cut] + high[cut]) / 2
        waiting.append(((*low[:cut], middle, *low[cut + 1 :]), high))
        waiting.append((low, (*high[:cut], middle, *high[cut + 1 :])))
    if waiting:
        raise RefusedError("a part of a face has no cell")


def motion(low: Pose, high: Pose, lever: float) -> float:
    """How far a place at a lever from the centre may move from the middle of a cell."""
    aside, along, tilt, way = ((top - bottom) / 2 for bottom, top in zip(low, high, strict=True))
    return math.hypot(aside, along) + lever * (tilt + 2 * math.sin(high[2] / 2) * way)


def check(certificate: dict[str, Any]) -> int:
    """The number of cells that hold. Raises RefusedError, KeyError, TypeError or IndexError."""
    told = {key: value for key, value in certificate.items() if key != "seal"}
    if certificate["seal"] != hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest():
        raise RefusedError("it was changed after it was written")
    fixed, moving, places = certificate["fixed"], certificate["moving"], certificate["places"]
    radius, centre, count = certificate["depth"] / 2, certificate["centre"], 0
    if not radius > 0:
        raise RefusedError("it claims nothing")
    for name, face in boundary(certificate["region"]).items():
        for low, high, number in cells(face, certificate["faces"][name]):
            place = places[number]
            middle = tuple((a + b) / 2 for a, b in zip(low, high, strict=True))
            lever = math.hypot(place[0], place[1], place[2] - centre)
            there = depth(fixed, *moved(place, middle, centre)) - motion(low, high, lever)
            own = depth(moving, math.hypot(place[0], place[1]), place[2])
            if not min(there, own) > radius - ROUNDING:
                raise RefusedError(
                    f"a cell of face '{name}' is blocked by {min(there, own):.6g} mm only"
                )
            count += 1
    return count


def main() -> int:
    if len(sys.argv) != 2:
        print("usage: python -m scadgen.caging.checker FILE", file=sys.stderr)
        return 2
    try:
        count = check(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8")))
    except (OSError, ValueError, KeyError, TypeError, IndexError) as error:
        print(f"refused: {error}", file=sys.stderr)
        return 1
    print(f"holds: {count} cells")
    return 0


if __name__ == "__main__":
    sys.exit(main())
