"""Soft light: how much of the sky, and of a lamp in it, each point of a picture sees."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from scadgen.pictures.raster import depths

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Directions that stand for the sky, and for the lamp; and the same for a small picture.
MANY, FEW = (36, 24), (14, 8)
#: How much of the light comes from the lamp.
LAMP_SHARE = 0.55
#: Half the angle under which the lamp is seen, degrees.
LAMP_SIZE = 13.0
#: Points that are lit together: as many as stay in the processor's cache.
TOGETHER = 20_000
#: Pixels of a shadow map along its longer side, and how many of them shadows start behind a face.
SHARPNESS, BEHIND = 400, 5


def lighting(
    corners: Array,
    points: Array,
    normals: Array,
    lamp: Array,
    counts: tuple[int, int] = MANY,
) -> Array:
    """Light at each point: 1 for a face that looks straight up and that nothing shades.

    ``corners`` are the triangles that cast shadows; ``lamp`` is the direction to the lamp.
    ``counts``: directions that stand for the sky and for the lamp.
    """
    import numpy as np

    up, (sky, few) = np.array([0.0, 0.0, 1.0]), counts
    directions = np.concatenate([_spread(sky, up, 90.0), _spread(few, lamp, LAMP_SIZE)])
    weights = np.repeat([(1 - LAMP_SHARE) / sky, LAMP_SHARE / few], [sky, few])
    total, points, normals = np.zeros(len(points), "f4"), points.astype("f4"), normals.astype("f4")
    shadows = [_shadows(corners, direction) for direction in directions]
    for start in range(0, len(points), TOGETHER):
        some = slice(start, start + TOGETHER)
        for direction, weight, shadow in zip(directions, weights, shadows, strict=True):
            facing = normals[some] @ direction
            lit = np.flatnonzero(facing > 0)
            seen = _seen(shadow, points[some][lit])
            total[some][lit] += weight * facing[lit] * seen
    level: float = (weights * np.maximum(directions[:, 2], 0)).sum()
    return total / level


def frame(towards: Array) -> tuple[Array, Array, Array]:
    """Unit vectors to the right, up and towards an eye that is in the given direction."""
    import numpy as np

    towards = towards / np.linalg.norm(towards)
    upright = abs(towards[2]) > 0.999
    right = np.cross([0.0, 1.0, 0.0] if upright else [0.0, 0.0, 1.0], towards)
    right /= np.linalg.norm(right)
    return right, np.cross(towards, right), towards


def into_picture(towards: Array) -> Array:
    """Rows of the matrix to pictures for an eye: x to the right, y down, depth away from it."""
    import numpy as np

    return np.array(frame(towards)) * [[1], [-1], [-1]]


def _spread(count: int, middle: Array, width: float) -> Array:
    """Unit vectors spread evenly over a cap of the sphere, ``width`` degrees from middle to rim."""
    import numpy as np

    k = np.arange(count) + 0.5
    rise = 1 - k / count * (1 - np.cos(np.radians(width)))
    flat, turn = np.sqrt(1 - rise**2), np.pi * (1 + np.sqrt(5)) * k
    around = np.stack([flat * np.cos(turn), flat * np.sin(turn), rise], 1)
    spread: Array = around @ np.array(frame(middle))
    return spread


class _Shadows(NamedTuple):
    """A map of what stands nearest to a light, and the way from a place into it."""

    depth: Array
    width: int
    height: int
    matrix: Array
    shift: Array


def _shadows(corners: Array, direction: Array) -> _Shadows:
    import numpy as np

    axes = into_picture(direction)
    flat = corners @ axes.T
    low, high = flat.min((0, 1)), flat.max((0, 1))
    scale = SHARPNESS / (high - low)[:2].max()
    width, height = np.ceil((high - low)[:2] * scale).astype(int) + 4
    depth = depths((flat - low) * scale + 2, width, height)
    matrix, shift = (axes.T * scale).astype("f4"), (1.5 - low * scale).astype("f4")
    return _Shadows(depth.astype("f4").ravel(), width, height, matrix, shift)


def _seen(shadow: _Shadows, points: Array) -> Array:
    """1 for points at which nothing stands before the light, 0 for others, soft in between."""
    import numpy as np

    depth, width, height, matrix, shift = shadow
    places: Array = np.ascontiguousarray((points @ matrix + shift).T)
    left, above = np.floor(places[:2])
    inside = (left >= 0) & (left < width - 1) & (above >= 0) & (above < height - 1)
    if whole := bool(inside.all()):  # nearly always
        x, y, z = places
    else:
        x, y, z, left, above = (each[inside] for each in (*places, left, above))
    pixel = above.astype(np.int32) * width + left.astype(np.int32)
    reach, along, down = z + 0.5 - BEHIND, x - left, y - above
    free = [(depth[pixel + step] >= reach).astype("f4") for step in (0, 1, width, width + 1)]
    top = free[0] + along * (free[1] - free[0])
    bottom = free[2] + along * (free[3] - free[2])
    found: Array = top + down * (bottom - top)
    if whole:
        return found
    seen = np.ones(len(points), "f4")
    seen[inside] = found
    return seen
