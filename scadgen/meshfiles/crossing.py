"""Whether a surface crosses itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from scadgen.motion.boxes import boxes, near_pairs

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: How far both ends of an edge must lie on either side of a face that it crosses, and how far from
#: the face's corners it must do so, mm: coarser than the rounding of files, finer than any printer.
DEEP = 1e-3


def crossing(corners: Array, triangles: Array) -> tuple[int, Array] | None:
    """How many pairs of triangles cross, and where one pair does (mm); None when none do.

    Triangles that share a corner are not looked at: where a surface crosses itself, others cross
    with them.
    """
    import numpy as np

    solid = corners[triangles]
    count, where = 0, None
    for i, j in near_pairs(boxes(solid), None, 0.0):
        apart = (triangles[i][:, :, None] != triangles[j][:, None, :]).all((1, 2))
        i, j = i[apart], j[apart]
        pierced, places = _pierced(solid[i], solid[j])
        back, others = _pierced(solid[j], solid[i])
        both = pierced | back
        count += int(both.sum())
        if where is None and both.any():
            first = int(both.argmax())
            where = places[first] if pierced[first] else others[first]
    return None if where is None else (count, np.asarray(where))


def _pierced(edged: Array, faces: Array) -> tuple[Array, Array]:
    """Whether an edge of each triangle goes through its partner's face, and where."""
    import numpy as np

    origin = faces[:, 0]
    u, v = faces[:, 1] - origin, faces[:, 2] - origin
    normal = np.cross(u, v)
    square = np.maximum((normal * normal).sum(1), 1e-30)
    height = ((edged - origin[:, None]) * normal[:, None]).sum(2) / np.sqrt(square)[:, None]
    found, places = np.zeros(len(edged), bool), np.zeros((len(edged), 3))
    for k in range(3):
        low, high = height[:, k], height[:, (k + 1) % 3]
        through = (low * high < 0) & (np.minimum(abs(low), abs(high)) > DEEP)
        share = low / np.where(through, low - high, 1.0)
        place = edged[:, k] + share[:, None] * (edged[:, (k + 1) % 3] - edged[:, k])
        r = place - origin
        s = (np.cross(r, v) * normal).sum(1) / square
        t = (np.cross(u, r) * normal).sum(1) / square
        through &= np.minimum(np.minimum(s, t), 1 - s - t) > -1e-9
        through &= (np.linalg.norm(faces - place[:, None], axis=2) > DEEP).all(1)
        found |= through
        places[through] = place[through]
    return found, places
