"""What the proof would refuse a rule refuses before, in terms of the fields, and hardly more."""

from __future__ import annotations

import pytest

from scadgen.hinge.family import Hinge, all_families, definition, numbers
from scadgen.hinge.rules import Rule, Serves
from scadgen.printing.cuts import Cuts
from scadgen.printing.layers import layers
from scadgen.printing.lines import LAID
from tests.printing.unruled import WELDED, unruled
from tests.support import refusal, remedied

#: A leaf that is no loop wide.
THIN = {"leaf_thickness": 1.4}
#: Values that one rule alone refuses, what it says, and in layers of what height (mm) it shows.
REFUSED = [
    ("rod_loops", {"clearance": 0.2}, "or a layer of one link lands", 0.3),
    ("rod_loops", {"clearance": 0.2, "rod": 10, "length": 60}, "or a layer of one link lands", 0.3),
    ("waisted_spindle", {"line_width": 0.75, "height": 40}, "or a line across", 0.1),
    (*WELDED, "or a line across", 0.25),
    (
        "captive_cone",
        {"line_width": 0.9, "leaf_thickness": 1.4, "wall": 2.8},
        "or a leaf with",
        0.1,
    ),
    ("facing_cones", {"line_width": 0.95, "leaf_thickness": 1.4, "wall": 3}, "or a leaf with", 0.1),
]
#: How much more clearance than such a hinge has the rule asks at the most, mm.
MORE = 0.1
each_refused = pytest.mark.parametrize(
    ("family", "values", "words", "height"), REFUSED, ids=[f"{f}: {w}" for f, _, w, _ in REFUSED]
)


def fused(hinge: Hinge, height: float) -> float:
    """Area at which its links print into one, with lines where slicers may lay them (mm2).

    What hangs by what the family says of itself is another matter.
    """
    made = Cuts(tuple(piece.solid for piece in hinge.mechanism().pieces))
    found = layers(made, height, line=hinge.line_width, over=LAID)
    return found.fused - found.landed


def broken(hinge: Hinge) -> list[Rule]:
    """The rules that its values break."""
    own = numbers(hinge)
    return [rule for rule in definition(type(hinge)).rules if not bool(own(rule.holds))]


@each_refused
def test_what_one_rule_refuses_prints_into_one_piece(
    family: str,
    values: dict[str, float],
    words: str,
    height: float,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    cls = all_families()[family]
    error = refusal(cls, values)
    assert error.param == "clearance"
    assert words in error.rule
    drawn = unruled(family, values, monkeypatch)
    (rule,) = broken(drawn)
    assert rule.serves is Serves.PRINTING
    assert fused(drawn, height) > 0
    assert numbers(drawn)(rule.limit) < drawn.clearance + MORE
    assert fused(remedied(cls, values, error), height) == 0
