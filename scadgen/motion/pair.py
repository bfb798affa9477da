"""Two bodies in the frame of their axis, and where many poses leave them, all at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from scadgen.motion.contact import GRAZE
from scadgen.motion.field import BAND, Field
from scadgen.motion.rows import cross
from scadgen.motion.skin import skin_of

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

#: Room around where the boxes of the bodies overlap in which they are watched, mm.
AROUND = 2.0
#: Rounder than this, mm, the facets of a bend need not be for a search.
COARSE = 0.02
#: How hard a correction is held back, against the pull of one contact.
DAMPING = 0.05
#: The longest correction, mm.
LONGEST = 0.4


class Distances(Protocol):
    """What tells signed distances of points from a body, mm, negative inside."""

    def at(self, points: Array) -> Array:
        """Distances of points (3, n)."""

    def gradient(self, points: Array) -> Array:
        """Directions (3, n) in which the distances grow fastest; length 1, or 0 where unknown."""


class Couple:
    """A body that stays and one that goes, in the frame of the axis; poses are about the centre.

    A pose is a turn R and a shift t: a point goes from x to R x + t, both from the centre, which
    lies on the axis in the middle of where the bodies' boxes overlap. Approximate: faces bent in
    facets are made coarser by 0.02 mm, and skins are tested at their corners and sharp edges only.

    whole: watch the bodies everywhere, not only around where their boxes overlap.
    """

    def __init__(
        self, fixed: Manifold, moving: Manifold, axis: Axis, *, whole: bool = False
    ) -> None:
        frame = np.array(axis.frame)
        place = np.column_stack([frame, -frame @ np.array(axis.origin)])
        bodies = [body.transform(place) for body in (fixed, moving)]
        boxes = np.array([body.bounding_box() for body in bodies]).reshape(2, 2, 3)
        ends = np.sort([boxes[:, 0].max(0), boxes[:, 1].min(0)], axis=0)
        middle = np.array([0.0, 0.0, ends[:, 2].mean()])
        self.frame, self.origin = frame, np.array(axis.origin) + middle @ frame
        self.low, self.high = ends - middle
        lift = (0.0, 0.0, -float(middle[2]))
        skins = [skin_of(body.translate(lift).simplify(COARSE)) for body in bodies]
        boxes -= middle
        self.stay_box, self.hull = boxes[0], skins[1].points.T
        inner = np.array([self.low - AROUND, self.high + AROUND])
        around = np.array([[-AROUND], [AROUND]])
        watched = [box + around if whole else inner for box in boxes]
        self.fields: list[Distances] = [
            Field(skin, *box) for skin, box in zip(skins, watched, strict=True)
        ]
        near = inner + np.array([[-BAND], [BAND]])
        self.points = [
            skin.points[whole | ((skin.points > near[0]) & (skin.points < near[1])).all(1)].T
            for skin in skins
        ]
        #: How far from the centre a tilt acts, mm: what turns radians into millimetres.
        self.lever = max(1.0, float((self.high - self.low).max()) / 2)

    def depth(self, turns: Array, shifts: Array) -> Array:
        """The least distance between the bodies for poses (n, 3, 3) and (n, 3); below 0 inside."""
        return least(self.distances(turns, shifts))

    def free(self, turns: Array, shifts: Array) -> Array:
        """Which poses leave no more in the way than gives way."""
        clear: Array = self.depth(turns, shifts) > -GRAZE
        return clear

    def parted(self, turns: Array, shifts: Array) -> Array:
        """Which poses have set the bodies so far apart that their boxes are clear."""
        moved = turns @ self.hull + shifts[:, :, None]
        low, high = self.stay_box
        clear: Array = ((moved.min(2) >= high) | (moved.max(2) <= low)).any(1)
        return clear

    def push(
        self,
        turns: Array,
        shifts: Array,
        distances: tuple[Array, Array] | None = None,
        *,
        room: float = 0.0,
        tilting: bool = True,
    ) -> tuple[Array, Array]:
        """The small turns (n, 3), radians, and shifts (n, 3) that lift out what digs in.

        distances: those in these poses, where they are known. room: how far apart, mm, the faces
        should then be. tilting: whether to turn at all.
        """
        size = 6 if tilting else 3
        matrix = np.tile(np.eye(size) * DAMPING, (len(turns), 1, 1))
        wanted = np.zeros((len(turns), size))
        known = distances or self.distances(turns, shifts)
        found = zip(self.fields, known, range(2), strict=True)
        for field, distance, other in found:
            pose, which = np.nonzero(distance < room)
            points = self.points[1 - other].T[which]
            turn, shift = turns[pose], shifts[pose]
            if other:  # points of the body that stays, as the one that goes sees them
                place = points
                normal = -_each(turn, field.gradient(_each(turn, points - shift, back=True).T).T)
            else:
                place = _each(turn, points) + shift
                normal = field.gradient(place.T).T
            row = normal
            if tilting:
                row = np.hstack([cross(place, normal) / self.lever, normal])
            np.add.at(matrix, pose, row[:, :, None] * row[:, None, :])
            np.add.at(wanted, pose, row * (room - distance[pose, which])[:, None])
        move = np.linalg.solve(matrix, wanted[:, :, None])[:, :, 0]
        length = np.linalg.norm(move, axis=1, keepdims=True)
        move *= np.minimum(1, LONGEST / np.maximum(length, 1e-12))
        return (move[:, :3] if tilting else np.zeros_like(move)) / self.lever, move[:, -3:]

    def watch(self, places: Array, turn: Array, shift: Array) -> None:
        """Test these places (n, 3), that both bodies share in a pose, from now on too."""
        self.points[0] = np.hstack([self.points[0], places.T])
        self.points[1] = np.hstack([self.points[1], turn.T @ (places - shift).T])

    def world(self, turn: Array, shift: Array) -> Array:
        """The 3 x 4 matrix that poses the body that goes where it was given."""
        rotation = self.frame.T @ turn @ self.frame
        return np.column_stack(
            [rotation, self.origin + shift @ self.frame - rotation @ self.origin]
        )

    def local(self, places: Array) -> Array:
        """Places (n, 3) in the world, from the centre in the frame of the axis."""
        seen: Array = (places - self.origin) @ self.frame.T
        return seen

    def distances(self, turns: Array, shifts: Array) -> tuple[Array, Array]:
        """How far the points of either body are from the other's skin, for each pose."""
        back = turns.transpose(0, 2, 1)
        there = _posed(turns, shifts, self.points[1])
        here = _posed(back, -_each(back, shifts), self.points[0])
        first, last = (
            field.at(points).reshape(len(turns), -1)
            for field, points in zip(self.fields, (there, here), strict=True)
        )
        return first, last


def least(distances: tuple[Array, Array]) -> Array:
    """The least distance in each pose."""
    found: Array = np.minimum(*(each.min(1, initial=BAND) for each in distances))
    return found


def _posed(turns: Array, shifts: Array, points: Array) -> Array:
    """Points (3, m) in each of n poses, pose by pose: (3, n m)."""
    places: Array = turns.transpose(1, 0, 2).reshape(-1, 3) @ points
    places += shifts.T.reshape(-1, 1)
    return places.reshape(3, -1)


def turned(vectors: Array) -> Array:
    """Rotation matrices (n, 3, 3) of rotation vectors (n, 3), radians."""
    angle = np.linalg.norm(vectors, axis=1)
    x, y, z = (vectors / np.maximum(angle, 1e-300)[:, None]).T
    zero = np.zeros_like(x)
    skew = np.stack([zero, -z, y, z, zero, -x, -y, x, zero], axis=1).reshape(-1, 3, 3)
    sin, cos = np.sin(angle)[:, None, None], np.cos(angle)[:, None, None]
    matrices: Array = np.eye(3) + sin * skew + (1 - cos) * (skew @ skew)
    return matrices


def turns_of(matrices: Array) -> Array:
    """Rotation vectors (n, 3), radians, of rotation matrices (n, 3, 3) short of half a turn."""
    skew = (matrices - matrices.transpose(0, 2, 1)) / 2
    vector = np.stack([skew[:, 2, 1], skew[:, 0, 2], skew[:, 1, 0]], axis=1)
    sine = np.linalg.norm(vector, axis=1)
    angle = np.arctan2(sine, (np.trace(matrices, axis1=1, axis2=2) - 1) / 2)
    found: Array = vector * np.where(sine > 1e-12, angle / np.maximum(sine, 1e-12), 1)[:, None]
    return found


def _each(turns: Array, vectors: Array, *, back: bool = False) -> Array:
    """Each vector (n, 3) turned by its own matrix, or turned back."""
    turned_: Array = np.einsum("nji,nj->ni" if back else "nij,nj->ni", turns, vectors)
    return turned_
