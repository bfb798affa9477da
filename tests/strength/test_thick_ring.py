"""A ring pulled across a diameter strains at most as its formula says, by finite elements."""

from __future__ import annotations

import pytest

from scadgen.strength import loop
from tests.strength.ring import greatest_tension


@pytest.mark.parametrize(("outer", "bore"), [(9.0, 8.2), (9.0, 6.0), (9.0, 4.4)])
def test_it_bounds_what_a_rod_does_that_presses_over_an_arc(outer: float, bore: float) -> None:
    formula = float(loop.thick_ring_stress(1.0, outer, bore, 1.0))
    narrow, wide = greatest_tension(outer, bore, 12), greatest_tension(outer, bore, 45)
    assert wide < narrow == pytest.approx(formula, rel=0.16)
    assert 0.5 * formula < wide < formula
