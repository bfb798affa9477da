"""Where two bodies of a turning joint bear on each other, and what each bears there. mm, N.

A push square to the axis, or along it, closes the gap first where the other body is nearest in its
way: those faces bear. Pressure square to the axis follows the cosine of the angle from the push;
it stands square to the faces, so that cones are spread as well.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from scadgen.elements.fill import Array
from scadgen.elements.skin import Skin

if TYPE_CHECKING:
    from scadgen.motion.axis import Axis

#: Faces whose gap closes by this share later than the first bear as well: facets and samples.
LATER = 0.25
#: An area (mm2) that is more than an edge; less of it, and what bears later still counts as well.
SMALL = 1.0
#: A face that looks less than this along the push (sine) is none that bears.
LEANS = 0.3
#: Gaps along the axis (mm) from which on two places bear for themselves; the longest stretch that
#: bears as one, if that makes no more than so many of them.
APART, LONG, PARTS = 0.8, 5.0, 4
#: How squarely (cosine) the nearest place of the other body must lie in front of a face.
FACING = 0.85
#: The other body may be so many times the least gap away.
NEAR = 4.0


@dataclass(frozen=True, eq=False)
class Zone:
    """A stretch of the axis in which a body bears: places, and forces there for a push of 1 N.

    middle: along the axis, mm.
    """

    points: Array
    forces: Array
    middle: float


@dataclass(frozen=True, eq=False)
class Facing:
    """The faces of a body that look at another one. gaps: to its nearest place, mm."""

    skin: Skin
    gaps: Array
    along: Array

    @property
    def least(self) -> float:
        """The least gap, mm."""
        return float(self.gaps.min())


def facing(one: Skin, other: Skin, axis: Axis) -> Facing:
    """The faces of ``one`` that have the other body in front of them.

    Raises ValueError where there are none.
    """
    from scipy.spatial import cKDTree  # type: ignore[import-untyped]

    apart, nearest = cKDTree(other.points).query(one.points)
    ways = other.points[nearest] - one.points
    ahead = np.einsum("ni,ni->n", ways, one.normals) / np.maximum(apart, 1e-9)
    looks = ahead > FACING
    if not looks.any():
        raise ValueError("elements: no face of the one body looks at the other.")
    near = looks & (apart <= NEAR * apart[looks].min())
    kept = one.kept(near)
    along = (kept.points - np.array(axis.origin)) @ np.array(axis.unit)
    return Facing(kept, apart[near], along)


def pressed(faces: Facing, axis: Axis, push: Array) -> tuple[Facing, Array]:
    """The faces that bear a push on their body, a unit vector, and the forces on them (not scaled).

    The push is square to the axis or along it.
    """
    line = np.array(axis.unit)
    normals = faces.skin.normals
    parts = normals @ line
    if abs(push @ line) > 0.5:
        size, weight = np.abs(parts), np.sign(parts) * -np.sign(push @ line)
    else:
        square = normals - parts[:, None] * line
        size = np.linalg.norm(square, axis=1)
        weight = -(square @ push) / np.maximum(size, 1e-9)
    looks = (size > LEANS) & (weight > 0.05)
    ways = np.where(looks, faces.gaps / np.maximum(size, 1e-9), np.inf)
    later, bears = LATER, looks
    while looks.any() and later < NEAR:
        bears = looks & (ways <= ways.min() * (1 + later))
        if faces.skin.areas[bears].sum() >= SMALL:
            break
        later *= 2
    kept = Facing(faces.skin.kept(bears), faces.gaps[bears], faces.along[bears])
    forces = -normals[bears] * (weight[bears] * faces.skin.areas[bears])[:, None]
    return kept, forces


def stretches(places: Array) -> list[tuple[float, float]]:
    """The stretches in which places along a line lie close together (mm)."""
    if not len(places):
        return []
    there = np.sort(places)
    cut = np.flatnonzero(np.diff(there) > APART)
    starts = np.concatenate(([0], cut + 1))
    ends = np.concatenate((cut, [len(there) - 1]))
    found = []
    for low, high in zip(there[starts], there[ends], strict=True):
        edges = np.linspace(low, high, min(max(round((high - low) / LONG), 1), PARTS) + 1)
        found += list(zip(map(float, edges[:-1]), map(float, edges[1:]), strict=True))
    return found


def zones(fixed: Facing, moving: Facing, axis: Axis, push: Array) -> tuple[list[Zone], list[Zone]]:
    """Where both bear a push of the fixed body on the moving one; the same stretches of both."""
    here, on_fixed = pressed(fixed, axis, -push)
    there, on_moving = pressed(moving, axis, push)
    both = stretches(np.concatenate((here.along, there.along)))
    pairs = []
    for low, high in both:
        one = _zone(here, on_fixed, (here.along >= low) & (here.along <= high), -push)
        other = _zone(there, on_moving, (there.along >= low) & (there.along <= high), push)
        if one and other:
            pairs.append((one, other))
    return [one for one, _ in pairs], [other for _, other in pairs]


def _zone(faces: Facing, forces: Array, which: NDArray[np.bool_], push: Array) -> Zone | None:
    total = float((forces[which] @ push).sum())
    if total <= 1e-6:
        return None
    places = faces.along[which]
    share = forces[which] @ push / total
    return Zone(faces.skin.points[which], forces[which] / total, float(share @ places))


def merged(group: list[Zone], shares: Array) -> Zone:
    """Zones that share a push of 1 N so, as one."""
    return Zone(
        np.concatenate([zone.points for zone in group]),
        np.concatenate([share * zone.forces for share, zone in zip(shares, group, strict=True)]),
        float(sum(share * zone.middle for share, zone in zip(shares, group, strict=True))),
    )


def shared(gives_way: Array) -> Array:
    """How zones share 1 N when each gives way (mm per N) by so much under its own and others'.

    All gaps close at once, no zone pulls: the shares of least work.
    """
    count = len(gives_way)
    bears = np.ones(count, bool)
    while True:
        inverse = np.linalg.solve(gives_way[np.ix_(bears, bears)], np.ones(int(bears.sum())))
        shares = np.zeros(count)
        shares[bears] = inverse / inverse.sum()
        if (shares >= 0).all():
            return shares
        bears &= shares > 0
