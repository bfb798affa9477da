"""What a printer meets layer by layer: plastic over air, and bodies that fuse."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.beads import tips
from scadgen.printing.cuts import SLIVER, SLIVER_SHARE, TOLERANCE, Cuts, cuts
from scadgen.printing.nearness import may_come
from scadgen.printing.outlines import moved
from scadgen.printing.remnants import remnants_met
from scadgen.printing.spans import patch
from scadgen.printing.threads import landings

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from manifold3d import CrossSection, Manifold

    from scadgen.printing.nearness import Nearness

#: Slicers close gaps below about so much, mm: PrusaSlicer 2.5.0's usual gap closing radius is 0.049
#: mm, and it closes gaps up to twice as wide.
TOUCH = 0.1
#: Facets per turn of a line's round end.
ROUND = 32


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
    islands_at: the centre (x, y) of each, mm.
    """

    body: int
    z: float
    unsupported: float
    bridge: float
    droop: float
    span: float
    islands: int
    islands_at: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Layers:
    """Bodies cut into printed layers; the layer on the bed hangs nowhere.

    height: of a layer, mm. reach_angle: from the vertical, degrees. over: growth of a line, mm.
    count: layers of the tallest body.
    bed: each body's area on the bed, mm2; 0 for a body that starts above it.
    hanging: the layers that hang, body by body, from the bed up; sound layers are left out.
    worst: the hanging layer with the most droop, then the most bridge; None when nothing hangs.
    unsupported, bridge, droop: sums over `hanging`, mm2. span: longest bridge, mm. islands: number.
    fused: area at which two bodies would print into one, mm2. fused_at: z of the lowest layer where
        they do, mm; None when they don't. landed: what of it threads of bridges do, mm2; tipped:
        what lines do that are laid along tips and narrow ends.
    """

    height: float
    reach_angle: float
    over: float
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
    landed: float = 0.0
    tipped: float = 0.0


def layers(
    bodies: Sequence[Manifold] | Cuts,
    height: float,
    *,
    reach_angle: float = 45.0,
    touch: float = TOUCH,
    over: float = 0.0,
    line: float = 0.0,
) -> Layers:
    """Cut bodies that stand on z = 0 into layers and find what hangs and what fuses.

    A layer is the body's cross section at mid height. It may lean out over the body's own layer
    below by the reach, height x tan(reach_angle), measured square to the outline; at a corner both
    sides lean out, as two slopes meet in a hip. Another body's layer below carries nothing: it
    would fuse. Patches that are less than a printer lays down are not counted: up to 0.005 mm2, or
    an eighth of the height squared.

    bodies: or their cuts, where the same bodies are cut at several heights.
    height: of a layer, mm, above 0.
    reach_angle: steepest overhang that prints, degrees from the vertical, 0 to below 90.
    touch: bodies nearer than this in one layer fuse, mm. Plastic laid right on another body's layer
        always fuses.
    over: how far over-extrusion pushes the side of every line out, mm, 0 or more. It brings bodies
        together; it carries nothing.
    line: width of a line, mm. What bridges is a thread as thick, and hangs below thinner layers;
        the tip of a body comes out as wide. With 0 neither is looked at.

    Raises ValueError when a body reaches below the bed.
    """
    made = cuts(bodies)
    count = made.count(height)
    reach = height * math.tan(math.radians(reach_angle)) + TOLERANCE
    hanging = tuple(
        layer for body in range(len(made.bodies)) for layer in _hanging(made, body, height, reach)
    )
    fused: dict[int, float] = defaultdict(float)
    for k, area in run_together(made, height, touch, over):
        fused[k] += area
    threads = list(landings(made, hanging, height, reach, line))
    ends = [*tips(made, height, line, touch), *remnants_met(made, height, line)]
    for k, area in (*threads, *ends):
        fused[k] += area
    return Layers(
        height=height,
        reach_angle=reach_angle,
        over=over,
        count=count,
        bed=tuple(made.section(body, 0, height).area() for body in range(len(made.bodies))),
        hanging=hanging,
        worst=max(hanging, key=lambda layer: (layer.droop, layer.bridge), default=None),
        unsupported=math.fsum(layer.unsupported for layer in hanging),
        bridge=math.fsum(layer.bridge for layer in hanging),
        droop=math.fsum(layer.droop for layer in hanging),
        span=max((layer.span for layer in hanging), default=0.0),
        islands=sum(layer.islands for layer in hanging),
        fused=math.fsum(fused.values()),
        fused_at=min(fused) * height if fused else None,
        landed=math.fsum(area for _, area in threads),
        tipped=math.fsum(area for _, area in ends),
    )


def _hanging(made: Cuts, body: int, height: float, reach: float) -> Iterator[Layer]:
    for k in made.undersides[body].layers(height, reach, made.count(height)):
        layer = hanging_layer(made, body, k, height, reach)
        if layer is not None:
            yield layer


def hanging_layer(made: Cuts, body: int, k: int, height: float, reach: float) -> Layer | None:
    """What hangs in layer ``k``, counted from 0 at the bed; None where all of it is carried."""
    below, here = made.section(body, k - 1, height), made.section(body, k, height)
    over_air = here - moved(below, reach)
    least = max(SLIVER, SLIVER_SHARE * height * height)
    parts = over_air.decompose() if over_air.area() > least else []
    patches = [patch(part, here) for part in parts if part.area() > least]
    if not patches:
        return None
    area = math.fsum(part.area for part in patches)
    bridge = math.fsum(part.area for part in patches if part.span is not None)
    return Layer(
        body=body,
        z=k * height,
        unsupported=area,
        bridge=bridge,
        droop=area - bridge,
        span=max((p.span + 2 * reach for p in patches if p.span is not None), default=0.0),
        islands=sum(part.island for part in patches),
        islands_at=tuple((part.x, part.y) for part in patches if part.island),
    )


def run_together(
    made: Cuts, height: float, touch: float, over: float
) -> Iterator[tuple[int, float]]:
    """The layers in which two bodies fuse by how near their outlines come, and the area, mm2.

    height, touch, over: mm, as for `layers`.
    """
    for one, other, near in made.pairs:
        yield from _fused(made, (one, other), near, height, (touch, over))


def _fused(
    made: Cuts,
    pair: tuple[int, int],
    near: Nearness,
    height: float,
    growth: tuple[float, float],
) -> Iterator[tuple[int, float]]:
    """The layers in which two bodies meet side by side or one upon the other, and the area."""
    touch, over = growth
    beside, landing = touch + 2 * over, 2 * over
    side_by_side = may_come(near.beside, beside)
    one_on_other = near.may_land(height, landing)
    if not side_by_side and not one_on_other:
        return
    known: dict[tuple[int, int, float], float] = {}

    def shared(one: CrossSection, other: CrossSection, distance: float) -> float:
        key = id(one), id(other), distance
        if key not in known:
            known[key] = (_fattened(one, distance) ^ other).area()
        return known[key]

    for k in range(made.count(height)):
        a, b = (made.section(body, k, height) for body in pair)
        area = shared(a, b, beside) if side_by_side else 0.0
        if k and one_on_other:
            under_a, under_b = (made.section(body, k - 1, height) for body in reversed(pair))
            area += shared(a, under_a, landing)
            area += shared(b, under_b, landing)
        if area > SLIVER:
            yield k, area


def _fattened(section: CrossSection, distance: float) -> CrossSection:
    """A section with the round ends that printed lines have, farther out by a distance."""
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Round, 2.0, ROUND) if distance else section
