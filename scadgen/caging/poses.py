"""Poses of a core in another, and how far a pose may differ before a place has moved so much."""

from __future__ import annotations

from typing import Any

import numpy as np

Array = np.ndarray[Any, Any]

#: A pose: shift square to the axis, mm, 0 or more; shift along it, mm; tilt, rad, 0 or more; and
#: the way to which it tilts, rad, seen from the way of the shift. A core is the same after a turn
#: about its own axis, and mirrored, so that ways from 0 to pi are all there are.
ASIDE, ALONG, TILT, WAY = range(4)


def around(off: Array, along: Array, angles: Array) -> Array:
    """Places (n, 3) of a core, mm: those (m) of its section at each of the angles (rad)."""
    east, north = np.outer(off, np.cos(angles)), np.outer(off, np.sin(angles))
    up = np.repeat(along, len(angles))
    return np.stack([east.ravel(), north.ravel(), up], axis=1).astype(np.float32)


def posed(poses: Array, places: Array, centre: float) -> tuple[Array, Array]:
    """Where places (m, 3) of a core, or (n, m, 3), come in poses (n, 4).

    It tilts about ``centre`` on its axis (mm), then shifts. Distances from the other core's axis
    and places along it (n, m), mm; in the precision of the places.
    """
    exact = places.dtype.type  # of a kind: a product of float32 and float64 is slow
    tilt, way = poses[:, TILT], poses[:, WAY]
    cos, sin = np.cos(tilt), np.sin(tilt)
    towards, aside = np.cos(way), np.sin(way)
    bent = 1 - cos  # the turn about the line (-aside, towards, 0)
    rows = (
        (cos + aside * aside * bent, -aside * towards * bent, towards * sin),
        (-aside * towards * bent, cos + towards * towards * bent, aside * sin),
        (-towards * sin, -aside * sin, cos),
    )
    seen = np.empty((3, *places.shape[:-1]), exact)  # side by side: rows of three are slow
    for k, middle in enumerate((0, 0, centre)):
        np.subtract(places[..., k], exact(middle), out=seen[k])
    x, y, z = (_along(row, seen) for row in np.array(rows).astype(exact)[..., None])
    x += poses[:, ASIDE, None].astype(exact)
    z += (poses[:, ALONG, None] + centre).astype(exact)
    x *= x
    y *= y
    x += y
    return np.sqrt(x, out=x), z


def _along(row: Array, places: Array) -> Array:
    """Row by place: summed in one order, where a matrix product's differs between libraries."""
    east, north, up = places
    found: Array = row[0] * east
    part = row[1] * north
    found += part
    np.multiply(row[2], up, out=part)
    found += part
    return found


def motion(poses: Array, halves: Array, levers: Array) -> Array:
    """How far places (n, m) may move at most within cells of poses (n, 4), from their middles, mm.

    halves: half the size of each cell. levers: distances of the places from the centre, mm.

    A turn of the way by w, tilted by t, is a turn by w about the upright axis and one back about
    the tilted one: they are 2 sin(t/2) apart, so that together they turn by 2 sin(t/2) w at most.
    """
    steepest = poses[:, TILT] + halves[:, TILT]
    turned = halves[:, TILT] + 2 * np.sin(steepest / 2) * halves[:, WAY]
    shifted = np.hypot(halves[:, ASIDE], halves[:, ALONG])
    moved: Array = shifted[:, None] + turned[:, None] * levers
    return moved
