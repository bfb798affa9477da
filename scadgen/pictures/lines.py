"""Lines of a picture, found on its samples: creases between smooth faces, and outlines."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: How dark a crease and an outline are, 0 to 1.
CREASE, OUTLINE = 0.5, 0.92
#: Jump in depth that makes an outline, in pixels.
JUMP = 2.5


def lines(patch: Array, depth: Array, fine: int) -> Array:
    """Ink at each sample, 0 to 1; ``patch`` numbers the faces, ``fine`` samples are a pixel."""
    import numpy as np

    crease, outline = np.zeros(patch.shape, bool), np.zeros(patch.shape, bool)
    solid_depth = np.where(np.isinf(depth), 1e9, depth)
    for axis in (0, 1):
        here, there = _neighbours(patch, axis)
        near, far = _neighbours(solid_depth, axis)
        change = here != there
        for marked, where in (
            (crease, change),
            (outline, change & (abs(near - far) > JUMP * fine)),
        ):
            for side in _neighbours(marked, axis):
                side |= where
    for axis in (0, 1):
        before, after = _neighbours(outline.copy(), axis)
        for side, spread in zip(_neighbours(outline, axis), (after, before), strict=True):
            side |= spread
    return np.maximum(CREASE * crease, OUTLINE * outline)


def _neighbours(samples: Array, axis: int) -> tuple[Array, Array]:
    """Samples that have a next one along the axis, and those next ones, as views."""
    return (samples[:-1], samples[1:]) if axis == 0 else (samples[:, :-1], samples[:, 1:])
