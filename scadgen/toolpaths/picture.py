"""A picture of one layer of a file: its lines, whose they are, and where the fault is."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from scadgen.pictures.palette import LIGHT
from scadgen.tables.documents import JobError
from scadgen.toolpaths.areas import capsules
from scadgen.toolpaths.inside import inside
from scadgen.toolpaths.roles import NOT_PRINT

if TYPE_CHECKING:
    import numpy

    from scadgen.toolpaths.judged import Followed
    from scadgen.toolpaths.lines import Laid

    Array = numpy.ndarray[Any, Any]

#: Pixels of each of the two panels, and of the caption below.
PANEL, CAPTION = 720, 56
#: Width of what is seen around the fault, mm. Pixels left free at the edges.
NEAR, EDGE = 8.0, 24


def picture(found: Followed) -> bytes:
    """PNG: on the left the worst layer, on the right what is around its fault.

    Raises JobError where nothing is at fault.
    """
    from PIL import Image, ImageDraw, ImageFont

    if found.worst is None or found.fault is None:
        raise JobError("picture: no layer to draw: nothing is at fault in any. Ask without.")
    laid, fault = found.worst, found.fault
    colours = _colours(found, laid)
    whole = Image.new("RGB", (2 * PANEL, PANEL + CAPTION), LIGHT["background"])
    low, high = laid.start.min(axis=0), laid.start.max(axis=0)
    side = max(float((high - low).max()), NEAR)
    middle = (low + high) / 2
    views = (((float(middle[0]), float(middle[1])), side), (fault, NEAR))
    for k, (centre, width) in enumerate(views):
        panel = _panel(laid, colours, centre, width, fault)
        whole.paste(panel, (k * PANEL, 0))
    words = f"z = {laid.z:.4g} mm; around x = {fault[0]:.1f}, y = {fault[1]:.1f} mm on the right"
    ImageDraw.Draw(whole).text((EDGE, PANEL + 14), words, LIGHT["ink"], ImageFont.load_default(20))
    out = io.BytesIO()
    whole.save(out, "PNG", compress_level=6)
    return out.getvalue()


def _colours(found: Followed, laid: Laid) -> list[str]:
    """A colour for each line: of the link whose place its middle lies in, or none of them."""
    import numpy as np

    colours = np.full(len(laid.width), LIGHT["muted"], object)
    colours[np.isin(laid.role, NOT_PRINT)] = LIGHT["line"]
    if found.links:
        middles = (laid.start + laid.end) / 2
        z = laid.z - laid.usual_height / 2
        for link, colour in zip(range(len(found.links.names)), ("fixed", "moving"), strict=False):
            colours[inside(middles, found.links.section(link, z))] = LIGHT[colour]
    return [str(colour) for colour in colours]


def _panel(
    laid: Laid,
    colours: list[str],
    centre: tuple[float, float],
    width: float,
    fault: tuple[float, float],
) -> Any:
    import numpy as np
    from PIL import Image, ImageDraw

    panel = Image.new("RGB", (PANEL, PANEL), LIGHT["background"])
    pen, scale = ImageDraw.Draw(panel), (PANEL - 2 * EDGE) / width

    def placed(points: Array) -> Array:
        flipped = (points - np.array(centre)) * (scale, -scale)
        moved: Array = flipped + PANEL / 2
        return moved

    order = np.argsort(np.isin(laid.role, NOT_PRINT), kind="stable")[::-1]
    shapes = placed(capsules(laid.start, laid.end, laid.width / 2))
    ends = placed(np.stack([laid.start, laid.end], axis=1))
    seen = (shapes.max(axis=1) > 0).all(axis=1) & (shapes.min(axis=1) < PANEL).all(axis=1)
    for k in order[seen[order]]:
        pen.polygon([tuple(point) for point in shapes[k].tolist()], colours[k])
    for k in order[seen[order]]:
        pen.line([tuple(point) for point in ends[k].tolist()], LIGHT["ink"], 1)
    x, y = placed(np.array([fault]))[0].tolist()
    pen.ellipse((x - 14, y - 14, x + 14, y + 14), outline=LIGHT["accent"], width=4)
    return panel
