"""Numbers can be read off the printed layers: each stroke is plastic where it should be."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

import pytest

from scadgen.coupons.digits import digit
from scadgen.coupons.plan import Plan
from scadgen.coupons.shapes import parameters
from scadgen.coupons.solids import piece
from scadgen.trees.solid import extrude
from scadgen.trees.to_mesh import to_mesh
from scadgen.trees.to_numpy import Numbers
from tests.coupons.support import HEIGHTS, PLANS, each_of

if TYPE_CHECKING:
    from manifold3d import CrossSection

# The usual seven-segment patterns, by segment letter (common practice, no source).
SEGMENTS = ("abcdef", "bc", "abdeg", "abcdg", "bcfg", "acdfg", "acdefg", "abc", "abcdefg", "abcdfg")
# Middle of each segment of a digit 4 strokes wide and 7 high, in strokes.
MIDDLES = {
    "a": (2, 6.5),
    "b": (3.5, 5),
    "c": (3.5, 2),
    "d": (2, 0.5),
    "e": (0.5, 2),
    "f": (0.5, 5),
    "g": (2, 3.5),
}
HOLLOWS = ((2, 5), (2, 2))
LEAST_STROKE = 0.9
drawn = functools.cache(piece)


def is_plastic(section: CrossSection, x: float, y: float) -> bool:
    """Whether a spot 0.2 mm square is all plastic; it must be all plastic or all air."""
    from manifold3d import CrossSection

    spot = CrossSection.square((0.2, 0.2), True).translate((x, y))
    area = (section ^ spot).area()
    assert area == pytest.approx(0, abs=1e-6) or area == pytest.approx(0.04, abs=1e-6)
    return bool(area > 0.02)


def read(section: CrossSection, x: float, y: float, stroke: float) -> int:
    """The digit whose lower left corner is at (x, y)."""
    for across, up in HOLLOWS:
        assert not is_plastic(section, x + across * stroke, y + up * stroke)
    seen = "".join(
        name
        for name, (across, up) in MIDDLES.items()
        if is_plastic(section, x + across * stroke, y + up * stroke)
    )
    return SEGMENTS.index(seen)


def number_on(printed: Plan, value: float, height: float) -> int:
    """The number that the layer through ``height`` shows before the fixed side of a piece."""
    from manifold3d import CrossSection

    section = drawn(printed, value).slice(height)
    before = CrossSection.square((400, 200), True).translate((0, -100 - printed.room.back - 0.05))
    label = section ^ before
    left, low, right, high = label.bounds()
    stroke = (right - left) / 9
    assert stroke >= LEAST_STROKE - 1e-6
    assert high - low == pytest.approx(9 * stroke, abs=1e-5)
    assert is_plastic(label, (left + right) / 2, low + stroke / 2), "no bar at the foot"
    tens, ones = (read(label, left + k * 5 * stroke, low + 2 * stroke, stroke) for k in (0, 1))
    return 10 * tens + ones


@each_of(PLANS)
@pytest.mark.parametrize("layer", HEIGHTS)
def test_every_number_is_read_off_every_layer_above_the_plate(printed: Plan, layer: float) -> None:
    plate, raised = (parameters(printed)[name].default for name in ("plate", "raised"))
    first, count = round(plate / layer), round(raised / layer)
    assert count >= 2
    for value in printed.values:
        wanted = round(value * printed.steps.per_mm)
        for k in range(first, first + count):
            assert number_on(printed, value, (k + 0.5) * layer) == wanted


@pytest.mark.parametrize("value", range(10))
def test_every_digit_reads_as_itself_and_is_one_piece(value: int) -> None:
    solid = to_mesh(extrude(digit(value), 1), Numbers({"stroke": 1}))
    assert len(solid.decompose()) == 1
    assert read(solid.slice(0.5), 0, 0, 1) == value
