"""A line that is laid across the blunt, narrow end of an arm reaches into the gap beside it."""

from __future__ import annotations

import numpy as np
import pytest
from manifold3d import CrossSection, Manifold

from scadgen.findings.on_printing import printing
from scadgen.printing.cuts import Cuts
from scadgen.printing.layers import layers
from scadgen.printing.remnants import LONG, LOOP, remnants
from tests.printing.unruled import WELDED, unruled
from tests.shapes import box

LINE, HEIGHT = 0.85, 0.25
#: Ends, in discs that loops need: what loops leave is long across, about square, or nothing.
ACROSS, SQUARE, NONE = 0.65, 0.5, 0.9


def arm(end: float) -> CrossSection:
    """An arm along x whose sides come together towards its blunt end at 0, so many discs wide."""
    narrow, far = end * LOOP * LINE / 2, 6.0
    wide = narrow + far / 4
    return CrossSection([[(-far, -wide), (0, -narrow), (0, narrow), (-far, wide)]])


def lengths(section: CrossSection) -> list[float]:
    return [float(np.hypot(*np.diff(one.ends, axis=0)[0])) for one in remnants(section, LINE)]


def test_a_line_lies_across_a_blunt_end_that_no_loop_goes_to() -> None:
    (found,) = remnants(arm(ACROSS), LINE)
    (length,) = lengths(arm(ACROSS))
    ends = found.ends[np.argsort(found.ends[:, 1])]
    assert np.ptp(ends[:, 0]) == pytest.approx(0)  # square to the arm
    assert ends[:, 1] == pytest.approx(np.array([-length, length]) / 2)
    assert ACROSS * LOOP * LINE < length < LOOP * LINE
    assert found.width * LONG <= length
    assert found.area().area() == pytest.approx(
        found.width * length + np.pi * found.width**2 / 4, rel=0.01
    )


@pytest.mark.parametrize(
    ("what", "section"),
    [
        ("a loop goes all round", arm(NONE)),
        ("what is left is about square", arm(SQUARE)),
        ("a point", arm(0.001)),
        ("corners of 90 degrees", CrossSection.square((5, 5))),
        ("a bead", CrossSection.square((0.9, 0.9))),
        ("nothing", CrossSection()),
    ],
)
def test_no_line_lies_where_loops_go_or_nothing_long_is_left(
    what: str, section: CrossSection
) -> None:
    assert lengths(section) == [], what


def test_the_hole_of_a_sliver_around_a_leaf_is_no_remnant_as_large_as_the_leaf() -> None:
    """In and out again the leaf is smaller all around by rounding, and that hole was lost."""
    corners = (
        (2.50853402, -9.32719183),
        (-12.46892708, 12.70401851),
        (-14.26672164, 11.48182519),
        (0.71073947, -10.54938514),
    )
    assert not list(remnants(CrossSection([corners]), 0.5470188478286719))
    turned = CrossSection.square((27.0, 3.6))
    assert not [
        at for at in range(1, 360) for _ in remnants(turned.rotate(at / 2).translate((at, 1)), 0.6)
    ]


def beside(gap: float, end: float = ACROSS) -> list[Manifold]:
    """An arm, and a wall along a corner of its end (mm)."""
    low = arm(end).bounds()[3] - 6 / 4 + gap
    return [Manifold.extrude(arm(end), 2), box((-0.3, low, 0), (3, low + 4, 2))]


def test_the_line_s_end_meets_a_body_beside_the_arm() -> None:
    assert layers(beside(0.25), HEIGHT, line=LINE).tipped > 0
    assert layers(beside(0.25), HEIGHT).fused == 0  # as drawn, they are apart
    assert layers(beside(0.5), HEIGHT, line=LINE).fused == 0
    assert layers(beside(0.25, NONE), HEIGHT, line=LINE).fused == 0


def test_the_hinge_whose_sliced_layers_weld_so_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    hinge = unruled(*WELDED, monkeypatch)
    made = Cuts(tuple(piece.solid for piece in hinge.mechanism().pieces))
    bridge, line = hinge.longest_bridge(), hinge.line_width
    found = printing(made, (hinge.layer,), bridge, lambda words: None, line_width=line)
    (bad,) = (finding for finding in found if not finding.passed)
    assert bad.name == f"layers of {hinge.layer:g} mm"
    assert bad.change
    assert "a single line along a narrow tip or end" in bad.change
