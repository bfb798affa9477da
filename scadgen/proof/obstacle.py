"""Whether what two bodies share is too thin, everywhere, to be in the way."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from .contact import GRAZE, TOUCHING, thickness

if TYPE_CHECKING:
    from manifold3d import Manifold

    from .axis import Vector

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
