"""The largest body of revolution about an axis inside a solid, exactly, from its triangles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.motion.nearest import corners
from scadgen.trees.joined import joined

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

#: How far the trace of a face is drawn out, mm, so that it has an area.
OUTWARD = 1e-5
#: How much larger, in that unit, all traces are made: a corner drawn out both ways has moved by
#: 1.42 of it, and of traces that differ by a tenth of it one is kept.
WIDER = 2.0
#: Smaller parts of a core than this, mm2, are left out of it.
SPECK = 1e-3
#: So many traces are joined at once; what rounding moves, 1e-8 mm each time, is far below OUTWARD.
MANY = 32
#: A winding number above this is inside; rounding leaves it near a whole number.
INSIDE = 0.5


def core(solid: Manifold, axis: Axis) -> list[Array]:
    """Closed outlines (n, 2) of the half section of the core: distance from the axis and place
    along it, mm; the axis' origin is at 0. Holes run the other way round. Empty without a core.

    Turned all the way around the axis, a face sweeps a region of the half plane, its trace. Where
    no trace lies, whole circles are all inside or all outside; those inside are the core. Traces
    are drawn slightly too large, so that the core is never too large.
    """
    from manifold3d import CrossSection, FillRule, JoinType

    faces = (corners(solid) - np.array(axis.origin)) @ np.array(axis.frame).T
    traces = _traces(faces)
    (_, low), (far, high) = traces.min((0, 1)).tolist(), traces.max((0, 1)).tolist()
    everywhere = CrossSection([[(0.0, low), (far, low), (far, high), (0.0, high)]])
    some = (traces[k : k + MANY] for k in range(0, len(traces), MANY))
    whole = joined([CrossSection([*each], FillRule.NonZero) for each in some])
    swept = whole.offset(WIDER * OUTWARD, JoinType.Square)
    parts = [part for part in (everywhere - swept).decompose() if part.area() > SPECK]
    return [
        np.asarray(outline)
        for outlines in (part.to_polygons() for part in parts)
        if _winding(faces, _within(outlines)) > INSIDE
        for outline in outlines
    ]


def _traces(faces: Array) -> Array:
    """Hulls (n, 6, 2) around the traces of triangles, counterclockwise, each of them once.

    With any way n square to the axis, a point of a face with weights w of the corners is no farther
    from the axis than sum w |corner|, and no nearer than sum w (corner . n). The way square to the
    face is best for the sides of a prism, the one to its middle for most others.
    """
    far = np.hypot(faces[..., 0], faces[..., 1])
    square = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])[:, :2]
    nears = np.stack([_along(faces, way) for way in (square, faces[..., :2].mean(1))])
    better = nears.min(2).argmax(0)
    near = np.maximum(np.take_along_axis(nears, better[None, :, None], 0)[0], 0)
    near, far = np.minimum(near, far) - OUTWARD, far + OUTWARD
    order = np.argsort(faces[..., 2], axis=1, kind="stable")
    near, far, along = (np.take_along_axis(part, order, 1) for part in (near, far, faces[..., 2]))
    low, between, high = along.T
    share = np.where(high > low, (between - low) / np.maximum(high - low, 1e-300), 0.5)
    inner = np.minimum(near[:, 1], near[:, 0] + share * (near[:, 2] - near[:, 0]))
    outer = np.maximum(far[:, 1], far[:, 0] + share * (far[:, 2] - far[:, 0]))
    low, high = low - OUTWARD, high + OUTWARD
    corners = [
        *((near[:, 0], low), (far[:, 0], low), (outer, between)),
        *((far[:, 2], high), (near[:, 2], high), (inner, between)),
    ]
    hulls = np.stack([np.stack(corner, axis=-1) for corner in corners], axis=1)
    return hulls[_different(hulls)]


def _along(faces: Array, ways: Array) -> Array:
    """How far the corners of each face lie along its way, or against it, from the axis."""
    units = ways / np.maximum(np.linalg.norm(ways, axis=1), 1e-12)[:, None]
    found = np.einsum("nij,nj->ni", faces[..., :2], units)
    away: Array = found * np.where(found.sum(1) < 0, -1, 1)[:, None]
    return away


def _different(hulls: Array) -> Array:
    """Which hulls to keep, where those that rounding alone makes different count as one."""
    key = np.round(hulls.reshape(len(hulls), -1) / (OUTWARD / 10))
    return np.unique(key, axis=0, return_index=True)[1]


def _within(outlines: list[Array]) -> Array:
    """A point well inside a part: the middle of the largest triangle that it is made of."""
    from manifold3d import triangulate

    pieces = np.concatenate(outlines)[triangulate(outlines)]
    first, last = pieces[:, 1] - pieces[:, 0], pieces[:, 2] - pieces[:, 0]
    area = np.abs(first[:, 0] * last[:, 1] - first[:, 1] * last[:, 0])
    point: Array = pieces[area.argmax()].mean(0)
    return point


def _winding(faces: Array, point: Array) -> float:
    """How many times a closed surface goes around a point of the half plane."""
    first, second, third = (faces - np.array([point[0], 0.0, point[1]])).transpose(1, 0, 2)
    a, b, c = (np.linalg.norm(corner, axis=1) for corner in (first, second, third))
    volume = _dots(first, np.cross(second, third))
    spread = a * b * c + _dots(first, second) * c + _dots(second, third) * a
    return float(np.arctan2(volume, spread + _dots(third, first) * b).sum() / (2 * np.pi))


def _dots(left: Array, right: Array) -> Array:
    product: Array = np.einsum("ij,ij->i", left, right)
    return product


def edges(outlines: list[Array]) -> Array:
    """The edges (n, 2, 2) of a core's surface: the axis itself is none."""
    return np.concatenate([*_edges(outlines), np.empty((0, 2, 2))])


def _edges(outlines: list[Array]) -> Iterator[Array]:
    for outline in outlines:
        following = np.roll(outline, -1, axis=0)
        kept = (outline[:, 0] > 0) | (following[:, 0] > 0)
        yield np.stack([outline[kept], following[kept]], axis=1)
