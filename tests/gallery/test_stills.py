"""Stills: what is in the picture, that all of it is, and that it comes out the same again."""

from __future__ import annotations

import functools
import io
from typing import Any

import numpy as np
import pytest
from PIL import Image

from scadgen.hinge.family import Hinge, all_families
from scadgen.pictures.palette import DARK, LIGHT, rgb
from scadgen.pictures.raster import NOTHING, raster
from scadgen.pictures.scene import VIEWS
from scadgen.pictures.sides import Sides
from scadgen.pictures.stills import MARGIN, still, thumbnail
from tests.support import each_family

Array = np.ndarray[Any, Any]

SIZE = (240, 180)
FEW = 24
LARGE = (2 * SIZE[0], 2 * SIZE[1])
each_view = pytest.mark.parametrize("view", VIEWS)

# What readers see who lack one kind of cone: Machado, Oliveira and Fernandes, "A Physiologically-
# based Model for Simulation of Color Vision Deficiency", 2009, severity 1 (from memory).
SEEN_BY = {
    "all": np.eye(3),
    "protanopia": np.array(
        [[0.152, 1.053, -0.205], [0.115, 0.786, 0.099], [-0.004, -0.048, 1.052]]
    ),
    "deuteranopia": np.array(
        [[0.367, 0.861, -0.228], [0.280, 0.673, 0.047], [-0.012, 0.043, 0.969]]
    ),
    "tritanopia": np.array(
        [[1.256, -0.077, -0.179], [-0.078, 0.931, 0.148], [0.005, 0.691, 0.304]]
    ),
}


def picture(cls: type[Hinge], view: str, size: tuple[int, int] = SIZE) -> Array:
    """Pixels of a still, 0 to 1, drawn once for all tests."""
    return _picture(cls.family, view, size)


@functools.cache
def _picture(family: str, view: str, size: tuple[int, int]) -> Array:
    return pixels(png(family, view, size))


@functools.cache
def png(family: str, view: str, size: tuple[int, int]) -> bytes:
    """A still of few facets, which is drawn sooner."""
    return still(all_families()[family](facets=FEW), view, size)


def pixels(png: bytes) -> Array:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB")) / 255


def near(shown: Array, name: str, within: float = 0.06) -> Array:
    """Which pixels have a colour of the palette."""
    return np.asarray(abs(shown - rgb(LIGHT[name])).max(-1) < within)


def hue_like(shown: Array, name: str) -> Array:
    """Which pixels have a colour of the palette in any light."""
    colour = np.array(rgb(LIGHT[name]))
    light = (shown @ colour) / (colour @ colour)
    return np.asarray((abs(shown - light[..., None] * colour).max(-1) < 0.05) & (light > 0.3))


@each_family
@each_view
def test_a_still_shows_all_bodies_and_leaves_its_margins_free(cls: type[Hinge], view: str) -> None:
    shown = picture(cls, view)
    assert shown.shape == (SIZE[1], SIZE[0], 3)
    for name in Sides(cls().mechanism()).printed:
        seen = hue_like(shown, name) | (near(shown, f"{name}_cut") if view == "cut" else False)
        assert seen.mean() > 0.01, name
    body = shown.min(-1) < 0.55  # darker than the deepest shade on the ground
    rows, columns = np.flatnonzero(body.any(1)), np.flatnonzero(body.any(0))
    free = [rows[0], SIZE[1] - 1 - rows[-1], columns[0], SIZE[0] - 1 - columns[-1]]
    least = [MARGIN * SIZE[1] - 2] * 2 + [MARGIN * SIZE[0] - 2] * 2
    assert (np.array(free) >= least).all(), free
    assert min(free[0] / SIZE[1], free[2] / SIZE[0]) < MARGIN + 0.02, "it fills the picture"


@each_family
@each_view
def test_the_rim_of_a_still_is_plain_background(cls: type[Hinge], view: str) -> None:
    shown = picture(cls, view)
    rim = np.concatenate([shown[0], shown[-1], shown[:, 0], shown[:, -1]])
    assert abs(rim - rgb(LIGHT["background"])).max() < 0.01


@each_family
def test_a_cut_shows_the_gap_between_the_bodies(cls: type[Hinge]) -> None:
    shown = picture(cls, "cut", LARGE)
    fixed = near(shown, "fixed_cut", 0.02)
    assert fixed.mean() > 0.005
    if "moving" not in Sides(cls().mechanism()).printed:
        return
    moving = near(shown, "moving_cut", 0.02)
    assert moving.mean() > 0.005
    touching = (fixed[:, :-1] & moving[:, 1:]) | (moving[:, :-1] & fixed[:, 1:])
    assert not touching.any()
    assert gaps_across(fixed, moving) > 40


def gaps_across(fixed: Array, moving: Array) -> int:
    """How many rows and columns cross from one cut face to the other over a narrow dark gap."""
    found = 0
    for one, other in ((fixed, moving), (moving, fixed), (fixed.T, moving.T), (moving.T, fixed.T)):
        for width in range(3, 12):
            found += int((one[:, :-width] & other[:, width:]).any(1).sum())
    return found


@each_family
def test_views_differ(cls: type[Hinge]) -> None:
    printed, opened, cut = (picture(cls, view) for view in VIEWS)
    assert (abs(printed - opened).max(-1) > 0.1).mean() > 0.01
    assert (abs(printed - cut).max(-1) > 0.1).mean() > 0.01


@pytest.mark.parametrize("view", ["printed", "cut"])
def test_a_still_is_the_same_again(view: str) -> None:
    for cls in list(all_families().values())[:3]:
        assert still(cls(facets=FEW), view, SIZE) == png(cls.family, view, SIZE)


@each_family
def test_a_still_of_another_size_shows_the_same(cls: type[Hinge]) -> None:
    small = picture(cls, "cut")
    large = picture(cls, "cut", LARGE)
    halved = large.reshape(SIZE[1], 2, SIZE[0], 2, 3).mean((1, 3))
    assert abs(small - halved).mean() < 0.02
    assert (abs(small - halved).max(-1) > 0.25).mean() < 0.02


def test_another_view_is_refused() -> None:
    cls = next(iter(all_families().values()))
    with pytest.raises(ValueError, match="'sideways'; it must be one of"):
        still(cls(), "sideways")


def test_a_thumbnail_is_the_picture_made_small() -> None:
    cls = next(iter(all_families().values()))
    png = still(cls(), "printed", SIZE)
    small = pixels(thumbnail(png, 80))
    assert small.shape == (60, 80, 3)
    assert abs(small - pixels(png).reshape(60, 3, 80, 3, 3).mean((1, 3))).mean() < 0.02


def test_the_raster_finds_the_nearest_triangle_at_each_pixel() -> None:
    square = [[[1, 1, 5], [5, 1, 5], [5, 5, 5]], [[1, 1, 5], [5, 5, 5], [1, 5, 5]]]
    slope = [[0, 0, 0], [8, 0, 8], [0, 8, 0]]
    depth, index = raster(np.array([*square, slope], float), 8, 8)
    assert (index[6:, 3:] == NOTHING).all()
    assert np.isinf(depth[7, 7])
    assert (index[1:3, 1:3] == 2).all()  # the slope, depth x, is nearer than 5 here
    assert depth[2, 1] == pytest.approx(1.5)
    assert depth[4, 4] == 5
    assert index[4, 4] in (0, 1)


def test_triangles_that_share_an_edge_leave_no_pixel_between_them() -> None:
    rng = np.random.default_rng(1)
    for corner in rng.uniform(5, 35, (50, 2)):
        ends = [(0, 0, 1), (40, 0, 1), (40, 40, 1), (0, 40, 1)]
        fan = [[ends[k], ends[(k + 1) % 4], (*corner, 1)] for k in range(4)]
        _, index = raster(np.array(fan, float), 40, 40)
        assert (index != NOTHING).all()


@pytest.mark.parametrize("reader", SEEN_BY)
@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_the_two_bodies_differ_for_every_reader(reader: str, theme: dict[str, str]) -> None:
    for names in (("fixed", "moving"), ("fixed_cut", "moving_cut")):
        one, other = (lab(SEEN_BY[reader] @ linear(theme[name])) for name in names)
        assert np.linalg.norm(one - other) > 20, names


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_texts_stand_out_from_what_they_stand_on(theme: dict[str, str]) -> None:
    for paper in ("background", "surface"):
        for words in ("ink", "muted", "accent"):
            assert contrast(theme[words], theme[paper]) >= 4.5, (words, paper)


def linear(colour: str) -> Array:
    """Linear red, green and blue of an sRGB colour (IEC 61966-2-1)."""
    c = np.array(rgb(colour))
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def lab(colour: Array) -> Array:
    """CIE L*a*b* of a linear sRGB colour, white being D65."""
    to_xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    )
    x, y, z = np.cbrt(np.clip(to_xyz @ colour / [0.9505, 1, 1.089], 0.009, None))
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (W3C, Web Content Accessibility Guidelines 2.1)."""
    low, high = sorted(float(linear(c) @ [0.2126, 0.7152, 0.0722]) for c in (one, other))
    return (high + 0.05) / (low + 0.05)


@each_family
def test_what_is_opened_shows_both_its_sides(cls: type[Hinge]) -> None:
    """Neither leaf of a pivot stands behind a knuckle: each covers at least half as much."""
    if Sides(cls().mechanism()).axis is None:
        return
    shown = picture(cls, "opened")
    less, more = sorted(hue_like(shown, name).sum() for name in ("fixed", "moving"))
    assert less > more / 2


def test_shade_leaves_bodies_their_colours() -> None:
    """Also the side that looks away from the lamp has the colour that the page gives it."""
    shown = picture(all_families()["nested_cones"], "opened")
    for name in ("fixed", "moving"):
        colour = np.array(rgb(LIGHT[name]))
        light = shown[hue_like(shown, name)] @ colour / (colour @ colour)
        assert np.quantile(light, 0.1) > 0.55, name
