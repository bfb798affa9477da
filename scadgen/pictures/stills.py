"""Stills: shaded pictures of a hinge with clean lines, drawn without a display."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.pictures.light import FEW, MANY, into_picture, lighting
from scadgen.pictures.lines import lines
from scadgen.pictures.palette import LIGHT, rgb
from scadgen.pictures.raster import NOTHING, raster
from scadgen.pictures.scene import Scene, in_the_dark, scene

if TYPE_CHECKING:
    import numpy as np

    from scadgen.hinge.family import Hinge

    Array = np.ndarray[Any, Any]

#: Samples across a pixel.
FINE = 3
#: Share of the picture that the bodies leave free at each side.
MARGIN = 0.09
#: Where the lamp is: to the right, down and away as the eye sees it, and above the bed.
LAMP = (-0.55, -0.1, -0.55, 0.75)
#: Light that reaches even the deepest corner, and how dark the deepest shade on the ground is.
AMBIENT, GROUND_SHADE = 0.62, 0.35
#: Pictures of fewer pixels show no more than few directions of light.
SMALL = 200_000
#: Ground is lit at every so many pixels, and its shade blurred over so many to each side.
SPARSE, BLUR = 2, 14


#: Pixels of a still, and of one for dark surroundings.
SIZE, SIZE_IN_THE_DARK = (800, 600), (480, 360)


def still(hinge: Hinge, view: str, size: tuple[int, int] = SIZE) -> bytes:
    """PNG of the hinge as ``printed``, ``opened`` or ``cut``, ``size`` pixels wide and high.

    Raises ValueError for another view.
    """
    return drawn(scene(hinge, view), size)


def still_in_the_dark(hinge: Hinge, view: str, size: tuple[int, int] = SIZE_IN_THE_DARK) -> bytes:
    """The same in the colours for dark surroundings."""
    return drawn(in_the_dark(scene(hinge, view)), size)


def drawn(shown: Scene, size: tuple[int, int]) -> bytes:
    """PNG of a scene, ``size`` pixels wide and high."""
    from PIL import Image

    pixels = _Picture(shown, *size).pixels()
    return _png(Image.fromarray((pixels * 255 + 0.5).astype("uint8")))


def thumbnail(png: bytes, width: int = 240) -> bytes:
    """The PNG again, ``width`` pixels wide."""
    from PIL import Image

    picture = Image.open(io.BytesIO(png))
    height = round(picture.height * width / picture.width)
    return _png(picture.resize((width, height), Image.Resampling.LANCZOS))


def _png(picture: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, "PNG", compress_level=6)
    return out.getvalue()


@dataclass(frozen=True, eq=False)
class _Picture:
    """A scene on its way to pixels; depths and places are in samples, FINE to a pixel."""

    scene: Scene
    width: int
    height: int

    def pixels(self) -> Array:
        """The picture as (height, width, 3), 0 to 1."""
        import numpy as np

        axes = into_picture(np.array(self.scene.eye))
        flat = self.scene.corners @ axes.T
        low, high = flat.min((0, 1)), flat.max((0, 1))
        size = np.array([self.width, self.height]) * FINE
        scale = ((1 - 2 * MARGIN) * size / (high - low)[:2]).min()
        shift = np.append(size / 2, 0) - (low + high) / 2 * scale
        flat = flat * scale + shift
        depth, index = raster(flat, *size)
        middle = slice(FINE // 2, None, FINE)
        rows, columns = np.indices((self.height, self.width)) * FINE + FINE // 2 + 0.5
        seen = np.stack([columns, rows, depth[middle, middle]], -1)
        light = self._light(axes, flat, index[middle, middle], seen, scale, shift)
        return self._inked(index, depth, light)

    def _inked(self, index: Array, depth: Array, light: Array) -> Array:
        """Colours under the light, with lines on them, brought together from the samples."""
        import numpy as np

        colours = np.vstack([self.scene.colour, rgb(self.scene.background)]).astype("f4")
        ink = lines(np.append(self.scene.patch, NOTHING)[index], depth, FINE)[..., None].astype(
            "f4"
        )
        fine_light = light.astype("f4").repeat(FINE, 0).repeat(FINE, 1)
        fine_light[np.append(self.scene.unshaded, False)[index]] = 1
        colour = colours[index] * fine_light[..., None]
        colour += ink * (np.array(rgb(LIGHT["ink"]), "f4") - colour)
        blocks = colour.reshape(self.height, FINE, self.width, FINE, 3)
        pixels: Array = np.clip(blocks.mean((1, 3)), 0, 1)
        return pixels

    def _light(
        self, axes: Array, flat: Array, index: Array, seen: Array, scale: float, shift: Array
    ) -> Array:
        """Light at the middle of each pixel: on the bodies, or what shade leaves of the ground."""
        import numpy as np

        ground = index == NOTHING
        places = (np.where(np.isfinite(seen), seen, 0) - shift) / scale
        bed = self.scene.corners[:, :, 2].min()
        over_bed = bed - places[..., :2] @ axes[:2, 2]
        places[ground, 2] = over_bed[ground] / axes[2, 2]
        rows, columns = np.indices(index.shape)
        lit = ~ground | ((rows % SPARSE == 0) & (columns % SPARSE == 0))
        normals = np.where(
            ground[..., None], (0.0, 0.0, 1.0), _normals(self.scene, flat, index, seen)
        )
        right, down, away, above = LAMP
        lamp = np.array([right, down, away]) @ axes + np.array([0, 0, above])
        light = np.zeros(index.shape)
        counts = FEW if self.width * self.height < SMALL else MANY
        light[lit] = lighting(self.scene.corners, places[lit] @ axes, normals[lit], lamp, counts)
        share = np.minimum(_blurred(light * (ground & lit)) / _blurred(1.0 * (ground & lit)), 1)
        shade = GROUND_SHADE * _fading(*index.shape) * (1 - share)
        return np.where(ground, 1 - shade, AMBIENT + (1 - AMBIENT) * light)


def _normals(shown: Scene, flat: Array, index: Array, seen: Array) -> Array:
    """Normal at the middle of each pixel, smooth across the facets of a patch."""
    import numpy as np

    corners = flat[index][..., :2]
    a, b, p = (corners[..., 1, :], corners[..., 2, :], seen[..., :2]) - corners[None, ..., 0, :]
    area = _cross(a, b)
    area[area == 0] = np.inf
    u, v = _cross(p, b) / area, _cross(a, p) / area
    shares = np.clip(np.stack([1 - u - v, u, v], -1), 0, 1)
    normals = np.einsum("hwk,hwkc->hwc", shares, shown.normals[index])
    unit: Array = normals / np.maximum(np.linalg.norm(normals, axis=-1, keepdims=True), 1e-9)
    return unit


def _cross(a: Array, b: Array) -> Array:
    product: Array = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return product


def _fading(height: int, width: int) -> Array:
    """1 in the middle of the picture, falling to 0 towards its edges."""
    import numpy as np

    down, right = (np.arange(n) + 0.5 for n in (height, width))
    to_edge = np.minimum(np.minimum(down, height - down)[:, None], np.minimum(right, width - right))
    share: Array = np.minimum(to_edge / (2 * MARGIN * min(height, width)), 1)
    smooth: Array = share * share * (3 - 2 * share)
    return smooth


def _blurred(values: Array) -> Array:
    """Means over BLUR pixels to each side, taken twice so that they fade out; never quite 0."""
    import numpy as np

    for axis in (0, 1, 0, 1):
        padded = np.pad(values, [(BLUR + 1, BLUR) if k == axis else (0, 0) for k in (0, 1)], "edge")
        total = np.cumsum(padded, axis)
        ends = np.split(total, [2 * BLUR + 1], axis)[1], np.split(total, [-2 * BLUR - 1], axis)[0]
        values = (ends[0] - ends[1]) / (2 * BLUR + 1)
    return values + 1e-9
