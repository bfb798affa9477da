"""Where two bodies meet, and what of them touches where one comes to rest on the other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.axis import Vector
from scadgen.motion.boxes import boxes, near_pairs
from scadgen.motion.contact import TOUCHING
from scadgen.motion.nearest import corners, to_triangles
from scadgen.motion.rows import cross, dot, length

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Faces this near to each other, mm, are in contact: less than any printer leaves between them.
CONTACT = 0.05
#: Faces farther apart than this, mm, are not meant to meet.
FACING = 3.0
#: Stands for no distance at all, mm.
FARTHEST = 1e9
#: Two faces look at each other if the cosine between their normals is below this.
OPPOSED = -0.9
#: How much farther than exactly two ways of length 1 may be apart: rounding.
ROUNDING = 1e-6
#: A face is seen square to another if the way to it is, as a cosine.
SQUARE = 0.98
#: Faces that close in come nearer by more than this, mm, over the last of the motion.
CLOSES = 0.3
#: Side of the pieces into which faces are cut to be looked at, mm, and the most of them.
SIDE, MOST = 1.0, 100_000


def meeting(one: Manifold, other: Manifold) -> Vector | None:
    """The middle of the largest piece that two bodies share, mm; None where they share none."""
    parts = [part for part in (one ^ other).decompose() if part.volume() > TOUCHING]
    if not parts:
        return None
    box = max(parts, key=lambda part: part.volume()).bounding_box()
    return (box[0] + box[3]) / 2, (box[1] + box[4]) / 2, (box[2] + box[5]) / 2


@dataclass(frozen=True)
class Closing:
    """How two bodies lie on each other where one of them ends its motion.

    contact: area of faces that touch, mm2. facing: area of faces that look at each other from
    further apart, mm2; gap: their middle distance, mm, weighted by area, and the widest; 0 without
    any. middle: of the contact, or of the facing faces if nothing touches, mm.
    """

    contact: float
    facing: float
    gap: float
    widest: float
    middle: Vector


def closing(fixed: Manifold, moving: Manifold, back: Array, far: float = FACING) -> Closing | None:
    """How ``moving``, drawn where it ends its motion, lies on ``fixed``; None if nowhere near.

    ``back``: the 3 x 4 matrix of its motion to a good way before that end. Faces that look at each
    other there too, no farther apart, are those of a bearing, and do not count. ``far`` is in mm.
    """
    import numpy as np

    there = corners(fixed)
    coarse = _fine(_within(corners(moving), there, far), far)
    here = _fine(_within(coarse, there, far), SIDE)
    nearest = _ahead(here, there, far)
    here, nearest = here[nearest <= far], nearest[nearest <= far]
    opened = _ahead(here @ back[:, :3].T + back[:, 3], there, far)
    closes = opened - nearest > CLOSES
    area, middle = _areas(here), here.mean(1)
    touch = closes & (nearest <= CONTACT)
    near = closes & (nearest > CONTACT) & (nearest <= far)
    if not (touch.any() or near.any()):
        return None
    chosen = touch if touch.any() else near
    place = np.average(middle[chosen], axis=0, weights=area[chosen])
    return Closing(
        contact=float(area[touch].sum()),
        facing=float(area[near].sum()),
        gap=_median(nearest[near], area[near]) if near.any() else 0.0,
        widest=float(nearest[near].max()) if near.any() else 0.0,
        middle=(float(place[0]), float(place[1]), float(place[2])),
    )


def _within(faces: Array, there: Array, far: float) -> Array:
    """The triangles whose boxes come within ``far`` (mm) of another body's."""
    import numpy as np

    near = np.zeros(len(faces), bool)
    for i, _ in near_pairs(boxes(faces), boxes(there), far):
        near[i] = True
    return np.asarray(faces[near])


def _ahead(faces: Array, there: Array, far: float) -> Array:
    """How far each small triangle is from one of another body's that it looks at, mm.

    FARTHEST where there is none.
    """
    import numpy as np

    middle, normal, opposite = faces.mean(1), _normals(faces), _normals(there)
    nearest = np.full(len(faces), FARTHEST)
    here, faced = _looking(middle, middle, normal, far), _looking(*_ends(there), -opposite, far)
    for i, j in near_pairs(here, faced, far):
        facing = dot(normal[i], opposite[j]) < OPPOSED
        i, j = i[facing], j[facing]
        distance, foot = to_triangles(middle[i], there[j])
        ahead = dot(foot - middle[i], normal[i])
        seen = (ahead >= SQUARE * distance) | (distance <= CONTACT)
        np.minimum.at(nearest, i[seen], distance[seen])
    return nearest


def _looking(low: Array, high: Array, normals: Array, far: float) -> Array:
    """Boxes of six axes: between two corners, and the way in which a face looks.

    The ways are so long that two which look at each other end no farther apart than ``far`` (mm):
    what is near along all axes is near, and may look at each other.
    """
    import numpy as np

    ways = normals * (far / (np.sqrt(2 + 2 * OPPOSED) + ROUNDING))
    return np.stack([np.hstack([low, ways]), np.hstack([high, ways])], 1)


def _ends(triangles: Array) -> tuple[Array, Array]:
    """The lowest and the highest corner of the box around each triangle."""
    return triangles.min(1), triangles.max(1)


def _fine(triangles: Array, longest_side: float) -> Array:
    """Triangles halved at their longest side until none is longer (mm), or they get many."""
    import numpy as np

    done: list[Array] = []
    while len(triangles):
        sides = length(np.roll(triangles, -1, 1) - triangles)
        longest = sides.max(1)
        large = longest > longest_side
        if sum(len(part) for part in done) + 2 * large.sum() > MOST:
            break
        done.append(triangles[~large])
        cut, k = triangles[large], sides[large].argmax(1)
        rows = np.arange(len(cut))
        a, b, c = cut[rows, k], cut[rows, (k + 1) % 3], cut[rows, (k + 2) % 3]
        half = (a + b) / 2
        triangles = np.concatenate([np.stack([a, half, c], 1), np.stack([half, b, c], 1)])
    return np.concatenate([*done, triangles])


def _cross(triangles: Array) -> Array:
    a, b, c = triangles.transpose(1, 0, 2)
    return cross(b - a, c - a)


def _areas(triangles: Array) -> Array:
    return length(_cross(triangles)) / 2


def _normals(triangles: Array) -> Array:
    import numpy as np

    crossed = _cross(triangles)
    normals: Array = crossed / np.maximum(length(crossed), 1e-300)[:, None]
    return normals


def _median(values: Array, weights: Array) -> float:
    import numpy as np

    order = np.argsort(values)
    share = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(share, share[-1] / 2)])
