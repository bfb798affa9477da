"""A picture of the spot where two bodies are closest: where it is, and what it looks like."""

from __future__ import annotations

import importlib.util
import io
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.inspection.result import FoundJoint, Inspection
from scadgen.motion.axis import Axis, Vector
from scadgen.pictures.palette import LIGHT
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.nearest import Closest
    from scadgen.pictures.sections import Plane

    Array = np.ndarray[Any, Any]

#: Pixels of each of the two panels, and height of the captions below.
PANEL, CAPTION = (640, 560), 84
#: Side of the block that is cut out around the spot: so many gaps, and at least so many mm.
GAPS, LEAST = 12.0, 3.0
#: Where both panels are looked at from: a little beside and above the plane of the cut.
EYE: Vector = (0.32, -0.85, 0.3)


def picture_path(path: Path) -> Path:
    """The path if a picture can be drawn there. Raises JobError if not."""
    if path.suffix.lower() != ".png":
        raise JobError(f"picture = {path}; its name must end in .png.")
    if importlib.util.find_spec("PIL") is None:
        extra = "install the extra 'pictures': pip install '.[pictures]' in a checkout"
        raise JobError(f"picture: Pillow draws it, and is not there; {extra}.")
    return path


def picture(found: Inspection) -> bytes:
    """PNG: on the left a joint cut through the spot, on the right the spot from near by.

    The spot is where bodies of a joint meet or come too near, or else where they are closest.
    Raises JobError where no joint was found.
    """
    if not found.joints:
        raise JobError("picture: no spot to draw: no body turns in another. Ask without.")
    from scadgen.pictures.scene import scene_of
    from scadgen.pictures.stills import drawn

    joint = _telling(found.joints)
    by_number = {body.number: body.solid for body in found.bodies}
    fixed, moving = (by_number[number] for number in joint.pair)
    near = _spot(joint, fixed, moving)
    moving = joint.axis.axis.turn(moving, near.angle)
    view, plane = _view(near, joint.axis.axis)
    solids = {"fixed": fixed.transform(view), "moving": moving.transform(view)}
    ends = [view @ (*end, 1.0) for end in (near.fixed, near.moving)]
    side = max(GAPS * near.gap, LEAST)
    block = _block((ends[0] + ends[1]) / 2, side)
    whole = scene_of(solids, EYE, plane, _ball(ends, solids))
    shared = solids["fixed"] ^ solids["moving"] ^ block
    mark = _arrows(ends, side) if shared.is_empty() else shared
    spot = scene_of({name: solid ^ block for name, solid in solids.items()}, EYE, plane, mark)
    panels = [drawn(one, PANEL) for one in (whole, spot)]
    met = near.gap == 0
    captions = (
        f"turned by {near.angle:.1f} deg, cut through "
        f"{'where they meet' if met else 'the closest spot'}",
        f"{'they meet' if met else f'closest: {near.gap:.3f} mm'} (a block of {side:.1f} mm)",
    )
    return _composed(panels, captions)


def _telling(joints: Sequence[FoundJoint]) -> FoundJoint:
    """The joint to be drawn: the first with a fault, or else the one with the smallest gap."""
    faulty = [joint for joint in joints if joint.fault]
    return faulty[0] if faulty else min(joints, key=lambda joint: _gap(joint))


def _gap(joint: FoundJoint) -> float:
    return joint.closest.gap if joint.closest else 0.0


def _spot(joint: FoundJoint, fixed: Manifold, moving: Manifold) -> Closest:
    """Where a joint's bodies meet at its fault, or else where they are closest there.

    Without a fault it is where they are closest of all.
    """
    from scadgen.motion.contact import meet
    from scadgen.motion.nearest import Closest, closest

    if joint.fault is None and joint.closest is not None:
        return joint.closest
    point, angle = joint.axis.axis.origin, 0.0
    if joint.fault is not None:
        point, angle = joint.fault.point, joint.fault.angle
    turned = joint.axis.axis.turn(moving, angle)
    if meet(fixed, turned):
        return Closest(point, point, 0.0, angle)
    return closest(fixed, turned, angle)


def _view(near: Closest, axis: Axis) -> tuple[Array, Plane]:
    """The matrix to a view whose y points away from the eye, and the cut through the spot in it.

    The cut holds both points and is as square as it can be to the way of the turn; where the bodies
    meet, it holds that way, so that it goes through both.
    """
    import numpy as np

    from scadgen.pictures.sections import Plane

    here, there = np.array(near.fixed), np.array(near.moving)
    along = np.array(axis.unit)
    out = here - np.array(axis.origin)
    way = np.cross(along, out - out @ along * along)
    between = _unit(there - here if near.gap else way)
    candidates = [way, along, np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])]
    square = [one - one @ between * between for one in candidates if np.linalg.norm(one) > 1e-9]
    normal = _unit(next(s for s in square if np.linalg.norm(s) > 0.3 * np.linalg.norm(square[0])))
    normal *= 1 if normal @ (0.5, -0.75, 0.6) >= 0 else -1
    ups = [up - up @ normal * normal for up in (np.array([0.0, 0.0, 1.0]), along, between)]
    up = _unit(next(up for up in ups if np.linalg.norm(up) > 0.3))
    rows = np.array([np.cross(-normal, up), -normal, up])
    return np.column_stack([rows, np.zeros(3)]), Plane((0, -1, 0), float(normal @ here), (1, 0, 0))


def _unit(vector: Array) -> Array:
    import numpy as np

    length = np.linalg.norm(vector)
    unit: Array = vector / length if length > 0 else np.array([1.0, 0.0, 0.0])
    return unit


def _block(middle: Array, side: float) -> Manifold:
    from manifold3d import Manifold

    return Manifold.cube((side, side, side), True).translate(tuple(middle))


def _ball(ends: list[Array], solids: dict[str, Manifold]) -> Manifold:
    """A mark that is seen in the whole."""
    import numpy as np
    from manifold3d import Manifold

    boxes = np.array([solid.bounding_box() for solid in solids.values()])
    size = float((boxes[:, 3:].max(0) - boxes[:, :3].min(0)).max())
    return Manifold.sphere(size / 60, 32).translate(tuple((ends[0] + ends[1]) / 2))


def _arrows(ends: list[Array], side: float) -> Manifold:
    """Two arrows that point at the two points from within the bodies, and the line between."""
    import numpy as np
    from manifold3d import Manifold

    way = ends[1] - ends[0]
    parts = [_pin(ends[0], way, float(np.linalg.norm(way)), side / 160, side / 160)]
    for tip, back in ((ends[0], -way), (ends[1], way)):
        parts.append(_pin(tip, back, 0.09 * side, 0.0, 0.028 * side))
        parts.append(
            _pin(tip + _unit(back) * 0.09 * side, back, 0.14 * side, side / 110, side / 110)
        )
    return Manifold.compose(parts)


def _pin(start: Array, way: Array, length: float, low: float, high: float) -> Manifold:
    """A round pin or cone from a point on."""
    import numpy as np
    from manifold3d import Manifold

    if np.linalg.norm(way) == 0:
        way = np.array([1.0, 0.0, 0.0])
    frame = Axis((0, 0, 0), (float(way[0]), float(way[1]), float(way[2]))).frame
    upright = Manifold.cylinder(max(length, 1e-3), low, high, 24)
    return upright.transform(np.column_stack([*frame, start]))


def _composed(panels: list[bytes], captions: tuple[str, str]) -> bytes:
    """The panels side by side, what they show below them."""
    from PIL import Image, ImageDraw, ImageFont

    width, height = PANEL
    whole = Image.new("RGB", (2 * width, height + CAPTION), LIGHT["background"])
    pen, font = ImageDraw.Draw(whole), ImageFont.load_default(20)
    for k, (panel, caption) in enumerate(zip(panels, captions, strict=True)):
        whole.paste(Image.open(io.BytesIO(panel)), (k * width, 0))
        pen.text((k * width + 24, height + 8), caption, LIGHT["ink"], font)
    for k, (name, colour) in enumerate((("fixed", "fixed"), ("moving", "moving"))):
        left, top = 24 + 130 * k, height + 44
        pen.rectangle((left, top, left + 20, top + 20), LIGHT[colour], LIGHT["ink"])
        pen.text((left + 30, top - 2), name, LIGHT["ink"], font)
    out = io.BytesIO()
    whole.save(out, "PNG", compress_level=6)
    return out.getvalue()
