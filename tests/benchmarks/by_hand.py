"""The waisted spindle as somebody would build it by hand, straight from its numbers.

It gives the readings something to be measured against, and is built either of manifold3d's solids
or of solidpython2's objects: whichever kit is passed in.
"""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import manifold3d as m3

from scadgen.family import Hinge, definition

Points = list[tuple[float, float]]


class Solids:
    """Building with manifold3d."""

    def __init__(self, facets: int) -> None:
        self.facets = facets

    def outline(self, points: Points) -> Any:
        return m3.CrossSection([points], m3.FillRule.EvenOdd)

    def revolve(self, outline: Any) -> Any:
        return outline.revolve(self.facets)

    def extrude(self, outline: Any, height: float) -> Any:
        return outline.extrude(height)

    def turn(self, shape: Any, x: float, y: float, z: float) -> Any:
        return shape.rotate((x, y, z))

    def move(self, shape: Any, *by: float) -> Any:
        return shape.translate(by)


class Texts:
    """Building with solidpython2, which prints what was built as OpenSCAD source."""

    def __init__(self, facets: int) -> None:
        self.facets = facets

    def outline(self, points: Points) -> Any:
        from solid2 import polygon

        return polygon(points)

    def revolve(self, outline: Any) -> Any:
        from solid2 import rotate_extrude

        return rotate_extrude(convexity=10, _fn=self.facets)(outline)

    def extrude(self, outline: Any, height: float) -> Any:
        from solid2 import linear_extrude

        return linear_extrude(height=height, convexity=10)(outline)

    def turn(self, shape: Any, x: float, y: float, z: float) -> Any:
        from solid2 import rotate

        return rotate([x, y, z])(shape)

    def move(self, shape: Any, *by: float) -> Any:
        from solid2 import translate

        return translate(list(by))(shape)


def numbers_of(hinge: Hinge) -> SimpleNamespace:
    """All fields and derived values of the hinge."""
    family = definition(type(hinge))
    return SimpleNamespace(**{n: getattr(hinge, n) for n in (*family.bounds, *family.derived)})


def spindle_by_hand(n: Any, kit: Any) -> tuple[Any, Any]:
    """Fixed and moving part from the numbers ``n`` (mm), as printed."""
    storeys = [n.knuckle + i * n.storey for i in range(n.rings)]
    return _fixed(n, kit, storeys), _moving(n, kit, storeys)


def _fixed(n: Any, kit: Any, storeys: list[float]) -> Any:
    corners = [(0, 0), (n.radius - n.foot, 0), (n.radius, n.foot)]
    half = n.shaft / 2
    for z in storeys:
        corners += [
            (n.radius, z),
            (half, z + n.radius - half),
            (half, z + n.pinch - n.waist),
            (n.neck, z + n.pinch),
            (n.neck, z + n.pinch + n.throat),
            (n.radius, z + n.storey - n.knuckle),
        ]
    top = storeys[-1] + n.storey
    spindle = kit.revolve(kit.outline([*corners, (n.radius, top), (0, top)]))
    inner, outer = n.bite - n.radius, -n.reach - n.join
    leaf = kit.outline(
        [(-n.leaf_end, 0), (-n.reach, 0), (-n.reach, n.height), (-n.leaf_end, n.height)]
    )
    leaf += kit.outline([(outer, 0), (inner, 0), (inner, n.knuckle), (outer, n.knuckle)])
    for i in range(n.rings):
        z = (i + 1) * n.storey
        low = z + n.radius - n.reach
        arm = [(outer, low), (-n.reach, low), (inner, z + n.bite)]
        leaf += kit.outline([*arm, (inner, z + n.knuckle), (outer, z + n.knuckle)])
    return spindle + _standing(leaf, n, kit)


def _moving(n: Any, kit: Any, storeys: list[float]) -> Any:
    bore, throat = n.bore * n.rim, (n.neck + n.clearance) * n.rim
    outline = [
        (bore, n.corbel),
        (n.radius, n.corbel),
        (n.radius, n.ring_top),
        ((n.radius - n.lip) * n.rim, n.ring_top),
        (throat, n.pinch + n.throat - n.lead),
        (throat, n.pinch + n.lead),
        (bore, n.pinch - n.waist + n.lead),
    ]
    ring = kit.revolve(kit.outline(outline)) - _below(n, kit, bore)
    leaf = kit.outline(
        [
            (n.reach + n.foot, 0),
            (n.leaf_end, 0),
            (n.leaf_end, n.height),
            (n.reach, n.height),
            (n.reach, n.foot),
        ]
    )
    inner, outer = n.radius - n.bite, n.reach + n.join
    for z in storeys:
        low, high = z + n.corbel, z + n.ring_top
        arm = [(outer, low + n.radius - n.reach), (n.reach, low + n.radius - n.reach)]
        leaf += kit.outline([*arm, (inner, low + n.bite), (inner, high), (outer, high)])
    moving = _standing(leaf, n, kit)
    for z in storeys:
        moving += kit.move(ring, 0, 0, z)
    return moving


def _below(n: Any, kit: Any, bore: float) -> Any:
    """What is cut off below the corbel of a ring."""
    far, half, slope = 2 * n.radius, n.leaf_thickness / 2, math.sqrt(2)
    side, wide = max(bore - half, 0), (far - half) / slope
    spread = [(-far, -far), (far, -far), (far, wide), (half, 0), (-half, 0), (-far, wide)]
    peak = [(bore, side / slope), (0, (side + bore) / slope), (-bore, side / slope)]
    closing = [(-bore, -far), (bore, -far), *peak]
    climbing = [
        kit.turn(kit.move(kit.extrude(kit.outline(points), 3 * far), 0, 0, -1.5 * far), 45, 0, -90)
        for points in (spread, closing)
    ]
    block = kit.outline([(-2 * far, -far), (0, -far), (0, far), (-2 * far, far)])
    behind = kit.move(kit.extrude(block, 4 * far), 0, 0, -2 * far)
    if isinstance(kit, Solids):
        cut = climbing[0] + (climbing[1] ^ behind)
    else:
        cut = climbing[0] + climbing[1] * behind
    return kit.move(cut, 0, 0, n.corbel + n.radius)


def _standing(outline: Any, n: Any, kit: Any) -> Any:
    upright = kit.turn(kit.extrude(outline, n.leaf_thickness), 90, 0, 0)
    return kit.move(upright, 0, n.leaf_thickness / 2, 0)
