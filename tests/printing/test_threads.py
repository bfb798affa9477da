"""Threads of bridges: round, as thick as wide, hanging below thin layers."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen import RodLoops
from scadgen.findings.on_printing import printing
from scadgen.printing.layers import layers
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import gap_margin
from tests.shapes import box
from tests.toolpaths.made import table

THREAD = 0.45


def landed(gap: float, height: float, thread: float = THREAD) -> float:
    return layers([piece.solid for piece in table(gap).pieces], height, line=thread).landed


@pytest.mark.parametrize("height", [0.1, 0.2])
def test_a_thread_lands_on_what_is_nearer_than_it_is_thick(height: float) -> None:
    assert landed(0.2, height) > 0
    assert landed(0.2, height, thread=height) == 0  # no thicker than its layer
    assert landed(0.6, height) == 0


@given(st.floats(0.1, 0.4), st.floats(0.05, 1.2))
def test_air_as_high_as_the_thread_is_enough_wherever_layers_fall(
    height: float, gap: float
) -> None:
    found = landed(gap, height)
    assert found == 0 or gap < THREAD
    empty = math.floor(gap / height - 1e-9)
    assert found > 0 or (empty + 2) * height > THREAD - 0.01


def test_a_thread_over_its_own_body_is_none() -> None:
    arch = box((0, 0, 0), (20, 4, 2)) + box((0, 0, 0), (4, 4, 5)) + box((16, 0, 0), (20, 4, 5))
    arch += box((0, 0, 2.2), (20, 4, 4.2))
    assert layers([arch, box((40, 0, 0), (45, 5, 5))], 0.2, line=THREAD).landed == 0


def test_the_finding_tells_what_to_change() -> None:
    solids = [piece.solid for piece in table(0.2).pieces]
    found = {one.name: one for one in printing(solids, (0.2,), 10, lambda words: None)}
    layer = found["layers of 0.2 mm"]
    assert not layer.passed
    assert layer.change == "more air below what bridges: its threads reach down to a body"
    assert found["over-extrusion"].passed


def _printed(hinge: RodLoops) -> list[Manifold]:
    return [piece.solid for piece in hinge.mechanism().pieces]


@pytest.mark.parametrize("height", [0.1, 0.2, 0.3])
def test_the_loops_leave_room_below_the_rod(height: float) -> None:
    """A bore that is round below would touch the threads at the edges of the rod's flat."""
    hinge = RodLoops()
    solids = _printed(hinge)
    assert layers(solids, height, line=hinge.line_width).fused == 0
    block = Manifold.cylinder(hinge.length, hinge.bore + 0.5, -1, 96, center=True)
    lower = block.rotate((0, 90, 0)).translate((0, 0, float(hinge.axis_at)))
    round_bore = Manifold.cylinder(hinge.length, hinge.bore, -1, 96, center=True)
    lower -= round_bore.rotate((0, 90, 0)).translate((0, 0, float(hinge.axis_at)))
    lower = lower.trim_by_plane((0, 0, -1), -float(hinge.axis_at - hinge.rod / 4))
    left = float(hinge.first - hinge.knuckle / 2)
    middle = box((left, -10, 0), (left + float(hinge.knuckle), 10, 40))
    filled = [solids[0], solids[1] + (lower ^ middle)]
    assert (layers(filled, height, line=hinge.line_width).landed > 0) == (height < 0.3)


def test_the_fleet_reckons_with_threads() -> None:
    """Under the rod there is room for a thread on each printer's layers; with less there is not."""
    from scadgen.hinge.family import definition, numbers

    hinge = RodLoops()
    family, values = definition(type(hinge)), numbers(hinge)
    (under,) = (gap for gap in family.gaps if gap.name == "under the rod")
    heights = (0.12, 0.16, 0.2, 0.24, 0.28)
    assert all(gap_margin(under, values, Printer(layer=layer)) >= 0 for layer in heights)
    wide = values.replaced(line_width=0.8)
    assert gap_margin(under, wide, Printer(layer=0.12)) >= 0
