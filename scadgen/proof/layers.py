"""What a printer meets layer by layer: plastic over air, and bodies that fuse."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from .spans import patch

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from manifold3d import CrossSection, Manifold

#: Allowance on the reach, mm: rounding of the outlines, and far below what a printer can place.
TOLERANCE = 0.005
#: Patches smaller than this, mm2, are less than any printer lays down: 0.07 mm square.
SLIVER = 0.005


@dataclass(frozen=True)
class Layer:
    """What hangs in one layer of one body.

    body: its place in the list of bodies.
    z: bottom of the layer, mm.
    unsupported: area farther than the reach from the body's own layer below, mm2.
    bridge: the part of it that spans from carried plastic to carried plastic, mm2.
    droop: the rest, mm2.
    span: longest bridge, mm, from the layer below at one end to the layer below at the other.
    islands: patches that start in the air, joined to nothing; they droop.
    """

    body: int
    z: float
    unsupported: float
    bridge: float
    droop: float
    span: float
    islands: int


@dataclass(frozen=True)
class Layers:
    """Bodies cut into printed layers; the layer on the bed hangs nowhere.

    height: of a layer, mm. reach_angle: from the vertical, degrees.
    count: layers of the tallest body.
    bed: each body's area on the bed, mm2; 0 for a body that starts above it.
    hanging: the layers that hang, body by body, from the bed up; sound layers are left out.
    worst: the hanging layer with the most droop, then the most bridge; None when nothing hangs.
    unsupported, bridge, droop: sums over `hanging`, mm2. span: longest bridge, mm. islands: number.
    fused: area at which two bodies would print into one, mm2. fused_at: z of the lowest layer where
        they do, mm; None when they don't.
    """

    height: float
    reach_angle: float
    count: int
    bed: tuple[float, ...]
    hanging: tuple[Layer, ...]
    worst: Layer | None
    unsupported: float
    bridge: float
    droop: float
    span: float
    islands: int
    fused: float
    fused_at: float | None


def layers(
    bodies: Sequence[Manifold],
    height: float,
    *,
    reach_angle: float = 45.0,
    touch: float = 0.1,
) -> Layers:
    """Cut bodies that stand on z = 0 into layers and find what hangs and what fuses.

    A layer is the body's cross section at mid height. It may lean out over the body's own layer
    below by the reach, height x tan(reach_angle), measured square to the outline; at a corner both
    sides lean out, as two slopes meet in a hip. Another body's layer below carries nothing: it
    would fuse.

    height: of a layer, mm, above 0.
    reach_angle: steepest overhang that prints, degrees from the vertical, 0 to below 90.
    touch: bodies nearer than this in one layer fuse, mm; slicers close gaps below about 0.1 mm
        (common practice, no source). Plastic laid right on another body's layer always fuses.

    Raises ValueError when a body reaches below the bed.
    """
    boxes = [body.bounding_box() for body in bodies]
    lowest = min(box[2] for box in boxes)
    if lowest < -TOLERANCE:
        raise ValueError(
            f"layers: a body reaches down to z = {lowest:.4g} mm; the bed is at z = 0."
        )
    count = max(1, math.ceil(max(box[5] for box in boxes) / height - 0.5))
    stacks = [[body.slice((k + 0.5) * height) for k in range(count)] for body in bodies]
    reach = height * math.tan(math.radians(reach_angle)) + TOLERANCE
    hanging = tuple(
        layer for body, stack in enumerate(stacks) for layer in _hanging(body, stack, height, reach)
    )
    fused = [area for pair in combinations(stacks, 2) for area in _fused(*pair, touch)]
    return Layers(
        height=height,
        reach_angle=reach_angle,
        count=count,
        bed=tuple(stack[0].area() for stack in stacks),
        hanging=hanging,
        worst=max(hanging, key=lambda layer: (layer.droop, layer.bridge), default=None),
        unsupported=math.fsum(layer.unsupported for layer in hanging),
        bridge=math.fsum(layer.bridge for layer in hanging),
        droop=math.fsum(layer.droop for layer in hanging),
        span=max((layer.span for layer in hanging), default=0.0),
        islands=sum(layer.islands for layer in hanging),
        fused=math.fsum(fused),
        fused_at=min((k % count * height for k, area in enumerate(fused) if area), default=None),
    )


def _hanging(body: int, stack: list[CrossSection], height: float, reach: float) -> Iterator[Layer]:
    for k, (below, here) in enumerate(pairwise(stack), start=1):
        over_air = here - _grown(below, reach)
        patches = [patch(part, here) for part in over_air.decompose() if part.area() > SLIVER]
        if patches:
            area = math.fsum(part.area for part in patches)
            bridge = math.fsum(part.area for part in patches if part.span is not None)
            yield Layer(
                body=body,
                z=k * height,
                unsupported=area,
                bridge=bridge,
                droop=area - bridge,
                span=max((p.span + 2 * reach for p in patches if p.span is not None), default=0.0),
                islands=sum(part.island for part in patches),
            )


def _fused(one: list[CrossSection], other: list[CrossSection], touch: float) -> Iterator[float]:
    """Layer by layer, the area at which two bodies meet side by side or one upon the other."""
    for k, (a, b) in enumerate(zip(one, other, strict=True)):
        area = (_grown(a, touch) ^ b).area()
        if k:
            area += (a ^ other[k - 1]).area() + (b ^ one[k - 1]).area()
        yield area if area > SLIVER else 0.0


def _grown(section: CrossSection, distance: float) -> CrossSection:
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Miter, 2.0)
