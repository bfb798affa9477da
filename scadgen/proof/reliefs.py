"""The reliefs of a hinge, held against what each makes room for."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from scadgen.findings.on_reliefs import relieved
from scadgen.hinge.family import definition
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.motion.relief import left_by, rooted

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.hinge.family import Hinge
    from scadgen.motion.axis import Vector

    Drawn = Callable[[float], Manifold]

#: The sides, and which way the other side turns, or lies, as seen from there.
SIDES = {"fixed": 1, "moving": -1}


def reliefs(hinge: Hinge) -> Iterator[Finding]:
    """A finding for each relief that the family draws; none for a family without."""
    turn, parts = (hinge.lowest(), hinge.highest()), definition(type(hinge)).parts
    facets = hinge.facets if isinstance(hinge, Pivot) else None
    for side, other in _others(hinge).items():
        if f"{side}_relief" in parts:
            relief = mesh(hinge, f"{side}_relief", angle=0)
            left = left_by(relief, other, turn, hinge.stride, hinge.clearance, facets)
            yield relieved(f"{side} relief", left, hinge.clearance)


def _others(hinge: Hinge) -> dict[str, Drawn]:
    """What moves past either side, at any angle, as seen from there."""
    if isinstance(hinge, Pivot):
        return {side: _turned(hinge, side, way) for side, way in SIDES.items()}
    if isinstance(hinge, Flexure):
        whole = functools.cache(functools.partial(mesh, hinge, "both"))
        return {side: _bent(hinge, whole, side, way) for side, way in SIDES.items()}
    return {}


def _turned(hinge: Pivot, side: str, way: int) -> Drawn:
    """The other link of a pivot, with its stop, as it turns."""
    (name,) = SIDES.keys() - {side}
    other, axis = mesh(hinge, name, angle=0), Axis(*hinge.axis())
    return lambda angle: axis.turn(other, way * angle)


def _bent(hinge: Flexure, whole: Drawn, side: str, way: int) -> Drawn:
    """All of a flexure that bends away from a border.

    The web is one piece with the border: what of it is within the clearance of the border counts
    as the border's own. That is no air for a relief to keep, and a root may lie in a maker's body.
    """
    border = mesh(hinge, side, angle=0)
    x, y, z = (way * value for value in _cross(hinge.face, hinge.fold_line))
    still = rooted(border, (x, y, z), hinge.clearance)

    def bent(angle: float) -> Manifold:
        there = whole(angle)
        if side == "moving":
            there = _carried(there, mesh(hinge, side, angle=angle), border, hinge, angle)
        return there - still

    return bent


def _carried(
    whole: Manifold, there: Manifold, here: Manifold, hinge: Flexure, angle: float
) -> Manifold:
    """A bent flexure, carried along with a border from ``there`` to where it is as it prints."""
    back = [-angle * value for value in hinge.fold_line]
    start, end = _centroid(there.rotate(back)), _centroid(here)
    way = [b - a for a, b in zip(start, end, strict=True)]
    return whole.rotate(back).translate(way)


def _centroid(solid: Manifold) -> Vector:
    """Centre of gravity, mm."""
    import numpy as np

    mesh = solid.to_mesh64()
    a, b, c = mesh.vert_properties[:, :3][mesh.tri_verts.astype(int)].transpose(1, 0, 2)
    volumes = np.einsum("nk,nk->n", a, np.cross(b, c))
    x, y, z = ((a + b + c) * volumes[:, None]).sum(0) / (4 * volumes.sum())
    return float(x), float(y), float(z)


def _cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )
