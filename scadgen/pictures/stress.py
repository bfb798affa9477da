"""A picture of how much of what it bears each place of two links is asked for, with a scale."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from scadgen.pictures.palette import LIGHT, rgb

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Pixels of each of the two panels, height of what stands below, and of the scale.
PANEL, CAPTION, BAR = (640, 560), 96, (420, 18)
#: Colours from nothing to all that may be asked; what is beyond is drawn in ink.
SCALE = (LIGHT["fixed_cut"], LIGHT["moving_cut"], LIGHT["moving"], LIGHT["accent"])
#: Places farther (mm) than this from any at which stress is told have the colour of what is held.
FAR = 1.0
#: Edges of the triangles that are coloured, mm.
FINE = 0.5


def coloured(shares: Array) -> Array:
    """Colours (n, 3), 0 to 1, of shares of what may be asked; of none at all where not a number."""
    import numpy as np

    stops = np.array([rgb(colour) for colour in SCALE])
    at = np.linspace(0, 1, len(stops))
    known = np.nan_to_num(shares)
    found = np.stack([np.interp(known, at, stops[:, k]) for k in range(3)], axis=1)
    found[known > 1] = rgb(LIGHT["ink"])
    found[np.isnan(shares)] = rgb(LIGHT["line"])
    return found


def stress_picture(
    links: Sequence[tuple[str, Manifold, Array, Array]], eye: tuple[float, float, float], note: str
) -> bytes:
    """PNG of links beside each other. Each: its title, its solid, places (n, 3) in mm and the
    share of what may be asked that each of them is asked for; below them the scale and a note.
    """
    from PIL import Image, ImageDraw, ImageFont

    from scadgen.pictures.stills import drawn

    width, height = PANEL
    whole = Image.new("RGB", (len(links) * width, height + CAPTION), LIGHT["background"])
    pen, font = ImageDraw.Draw(whole), ImageFont.load_default(20)
    for k, (title, solid, places, shares) in enumerate(links):
        panel = drawn(_scene(solid, places, shares, eye), PANEL)
        whole.paste(Image.open(io.BytesIO(panel)), (k * width, 0))
        pen.text((k * width + 24, height - 30), title, LIGHT["ink"], font)
    _scale(pen, font, (24, height + 16))
    pen.text((24, height + 62), note, LIGHT["ink"], font)
    out = io.BytesIO()
    whole.save(out, "PNG", compress_level=6)
    return out.getvalue()


def _scale(pen: Any, font: Any, corner: tuple[int, int]) -> None:
    import numpy as np

    (left, top), (wide, high) = corner, BAR
    for k, colour in enumerate(coloured(np.linspace(0, 1, wide))):
        fill = tuple(int(255 * value + 0.5) for value in colour)
        pen.line((left + k, top, left + k, top + high), fill)
    pen.rectangle((left + wide + 150, top, left + wide + 170, top + high), LIGHT["ink"])
    pen.text((left + wide + 10, top - 3), "all it may", LIGHT["ink"], font)
    pen.text((left + wide + 180, top - 3), "more", LIGHT["ink"], font)
    pen.rectangle((left + wide + 250, top, left + wide + 270, top + high), LIGHT["line"])
    pen.text((left + wide + 280, top - 3), "held, not told", LIGHT["ink"], font)


def _scene(solid: Manifold, places: Array, shares: Array, eye: tuple[float, float, float]) -> Any:
    """The solid in small triangles, each of the colour of the place nearest to it."""
    import numpy as np
    from scipy.spatial import cKDTree  # type: ignore[import-untyped]

    from scadgen.pictures.scene import Scene

    mesh = solid.refine_to_length(FINE).to_mesh64()
    corners = mesh.vert_properties[:, :3][mesh.tri_verts.astype(int)]
    apart, nearest = cKDTree(places).query(corners.mean(axis=1))
    told = np.where(apart <= FAR, shares[nearest], np.nan)
    square = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    square /= np.maximum(np.linalg.norm(square, axis=1, keepdims=True), 1e-12)
    normals = np.repeat(square[:, None, :], 3, axis=1)
    one = np.zeros(len(corners), int)
    return Scene(eye, corners, normals, one, coloured(told), np.zeros(len(corners), bool))
