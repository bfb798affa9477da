"""Stills for dark surroundings: the same scene, all of it in the dark palette."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from scadgen import RodLoops
from scadgen.pictures.palette import DARK, LIGHT, rgb
from scadgen.pictures.scene import in_the_dark, scene
from scadgen.pictures.stills import still_in_the_dark


@pytest.mark.parametrize("view", ["printed", "cut"])
def test_colours_are_those_of_the_dark_palette(view: str) -> None:
    light = scene(RodLoops(), view)
    dark = in_the_dark(light)
    names = ["fixed", "moving", *(["fixed_cut", "moving_cut"] if view == "cut" else [])]
    assert {tuple(row) for row in light.colour} == {rgb(LIGHT[name]) for name in names}
    assert {tuple(row) for row in dark.colour} == {rgb(DARK[name]) for name in names}
    assert dark.background == DARK["background"]
    assert np.array_equal(dark.corners, light.corners)


def test_its_rim_is_the_background_of_the_page() -> None:
    png = still_in_the_dark(RodLoops(), "printed", (120, 90))
    pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")) / 255
    assert np.abs(pixels[0] - rgb(DARK["background"])).max() < 0.02
