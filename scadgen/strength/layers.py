"""Layers: which loads cross them, and the posture that a flexure must not print in.

Layers lie flat, Z up. Strength across layers is 0.5 to 0.7 of that in them; the strain to break can
be 0.03 of it (one matte PLA, looked up). So a flexure that bends across its layers is refused.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

#: Tilt of a stretch against the layers (degrees) up to which it counts as within them. Assumed.
ALONG = 10.0


class AcrossLayers(ValueError):  # noqa: N818 - says what is wrong
    """A flexure that would bend across its layers.

    Attributes: ``tilt`` of its stretch against the layers (degrees), ``most`` that is allowed.
    """

    def __init__(self, tilt: float, most: float, words: str) -> None:
        self.tilt, self.most = tilt, most
        super().__init__(words)


def tilt_of_stretch(bend_axis: Sequence[float], face: Sequence[float]) -> float:
    """Angle (degrees, 0 to 90) between the layers and the way that a bent sheet stretches.

    ``bend_axis``: along the fold; ``face``: square to the sheet; any length but 0, not parallel.
    Raises ValueError for two that are.
    """
    (ax, ay, az), (fx, fy, fz) = bend_axis, face
    stretch = (ay * fz - az * fy, az * fx - ax * fz, ax * fy - ay * fx)
    size = math.hypot(*stretch)
    if size <= 1e-9 * math.hypot(*bend_axis) * math.hypot(*face):
        raise ValueError(
            f"bend axis {tuple(bend_axis)} and face {tuple(face)} are parallel or nothing; "
            "the face is square to the sheet, the bend axis lies in it."
        )
    return math.degrees(math.asin(min(abs(stretch[2]) / size, 1.0)))


def refuse_across(
    bend_axis: Sequence[float],
    face: Sequence[float],
    plastic: Plastic | None = None,
    most: float = ALONG,
) -> None:
    """Raise AcrossLayers if a flexure in this posture bends across its layers.

    See :func:`tilt_of_stretch` for the directions. ``plastic`` adds its figures to the words.
    """
    tilt = tilt_of_stretch(bend_axis, face)
    if tilt <= most:
        return
    share = ""
    if plastic is not None:
        low = plastic.break_strain_across.low
        share = f" {plastic.name} breaks across layers from {low:g} % of strain on."
    raise AcrossLayers(
        tilt,
        most,
        f"the flexure stretches {tilt:.0f} deg out of its layers; it must be at most {most:g} deg, "
        f"or it parts between two of them.{share} This works: print the sheet flat, or on edge "
        "with the line it folds about upright.",
    )
