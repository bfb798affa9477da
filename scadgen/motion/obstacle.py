"""What two bodies share: whether it is too thin to be in the way, and how fast it grows."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np

from scadgen.motion.contact import GRAZE, TOUCHING, thickness

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Vector

#: Sheets thinner than this, mm, are trimmed off before the rest is measured.
TRIM = 0.02


def gives_way(shared: Manifold, frame: Iterable[Vector]) -> bool:
    """True when no part of `shared` is as thick as a graze.

    Where faces touch all along the way, the sheet that they share is wide and thin: it makes the
    mean thickness small, whatever else is in the way. So sheets are trimmed off first, along the
    three directions of `frame`.
    """
    if thickness(shared) >= GRAZE:
        return False
    rest = shared
    for x, y, z in frame:
        if rest.volume() <= TOUCHING:
            return True
        rest ^= rest.translate((x * TRIM, y * TRIM, z * TRIM))
    if rest.volume() <= TOUCHING:
        return True
    return all(thickness(part) + TRIM < GRAZE for part in rest.decompose() if thickness(part))


def growth(shared: Manifold, moving: Manifold, direction: Vector) -> float:
    """By how much `shared` grows, mm3 for a mm, as `moving` goes on along a unit vector.

    It is what the faces of `moving` in it sweep, known by its mark wherever it has been shifted to.
    Raises ValueError when `moving` has none: it must be an original of the kernel's.
    """
    if moving.original_id() < 0:
        raise ValueError("growth: the moving body is not an original of the kernel.")
    mesh = shared.to_mesh64()
    owner = np.repeat(mesh.run_original_id, np.diff(mesh.run_index) // 3)
    faces = mesh.tri_verts[owner == moving.original_id()]
    a, b, c = mesh.vert_properties[:, :3][faces].transpose(1, 0, 2)
    return float(np.cross(b - a, c - a).sum(0) @ np.array(direction)) / 2
