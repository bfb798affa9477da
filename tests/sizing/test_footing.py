"""What sizing finds stands on enough: its foot grows by as much as it takes, and no more."""

from __future__ import annotations

from dataclasses import replace

from scadgen.families.waisted_spindle import WaistedSpindle
from scadgen.hinge.family import bounds
from scadgen.sizing.footing import falling
from scadgen.sizing.size import Refused, Sized, Wanted, size
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material

TALL = Wanted(
    Duty(load=1, lever=10, cycles=100, margin=1.5),
    material("petg"),
    fixed={"swing": 90, "height": 100, "leaf_length": 0},
)


def test_a_tall_hinge_without_leaves_gets_a_stub_that_it_stands_on() -> None:
    found = size(WaistedSpindle, TALL)
    assert isinstance(found, Sized)
    assert falling(found.hinge) is None
    assert isinstance(found.hinge, WaistedSpindle)
    thinner = found.hinge.leaf_thickness - bounds(WaistedSpindle)["leaf_thickness"].step
    least = replace(TALL, fixed={**TALL.fixed, "leaf_thickness": thinner})
    refused = size(WaistedSpindle, least)
    assert isinstance(refused, Refused)
    assert refused.why.startswith("footing of the ")
    assert "a longer or thicker leaf" in refused.help
