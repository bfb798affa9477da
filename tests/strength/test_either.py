"""A formula is one and the same on symbols, on numbers and on arrays."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from scadgen.strength import bent_web, break_away, cones, fold, lattice, leaf, loop, rod, tilt
from scadgen.trees import expr
from scadgen.trees.expr import Expr, Sym
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_scad import text

#: Formulas that a family's rule may use, and values for their parameters.
GENERIC: dict[str, tuple[Callable[..., Any], tuple[float, ...]]] = {
    "bent_web.outer_strain": (bent_web.outer_strain, (0.6, 5.0)),
    "bent_web.least_length": (bent_web.least_length, (0.6, 90.0, 0.02)),
    "bent_web.web_strain": (bent_web.web_strain, (0.6, 10.0, 90.0)),
    "bent_web.torque": (bent_web.torque, (2000.0, 0.6, 20.0, 10.0)),
    "fold.folded_strain": (fold.folded_strain, (0.4, 8.4)),
    "lattice.least_slit": (lattice.least_slit, (2.0, 3.0, 6.0)),
    "lattice.closing_turn": (lattice.closing_turn, (2.0, 3.0, 0.4)),
    "lattice.fewest_strips": (lattice.fewest_strips, (90.0, 2.0, 3.0, 0.4)),
    "lattice.bridge_stress": (lattice.bridge_stress, (5.0, 4.0, 2.0)),
    "lattice.bridge_compliance": (lattice.bridge_compliance, (2.0, 2.0, 4.0, 0.5, 2000.0)),
    "lattice.middle_radius": (lattice.middle_radius, (2.5, 6.0)),
    "rod.loose_moment": (rod.loose_moment, (20.0, 5.0, 4.0, 0.4)),
    "rod.bending_stress": (rod.bending_stress, (90.0, 5.0)),
    "loop.edge_at_planes": (loop.edge_at_planes, (9.0, 4.4)),
    "loop.ring_stress": (loop.ring_stress, (20.0, 9.0, 6.0, 5.0)),
    "cones.tip_stress": (cones.tip_stress, (20.0, 4.0, 25.0, 3.0)),
    "cones.thrust": (cones.thrust, (20.0, 45.0, 0.2)),
    "cones.undercut": (cones.undercut, (5.0, 3.0, 0.3, 45.0)),
    "cones.ear_force": (cones.ear_force, (2000.0, 8.0, 3.0, 12.0, 0.5)),
    "tilt.tilt_of_long_pin": (tilt.tilt_of_long_pin, (5.6, 5.0, 10.0)),
    "break_away.thickest_that_snaps": (
        break_away.thickest_that_snaps,
        (50.0, 3.0, 1.6, 20.0, 15.0),
    ),
    "leaf.deflection": (leaf.deflection, (5.0, 20.0, 30.0, 3.0, 2000.0)),
}


@pytest.mark.parametrize("name", GENERIC)
def test_symbols_floats_and_arrays_agree(name: str) -> None:
    formula, values = GENERIC[name]
    names = [f"p{k}" for k in range(len(values))]
    tree = formula(*map(Sym, names))
    assert isinstance(tree, Expr)
    number = formula(*values)
    spread = [np.array([value, value * 1.1]) for value in values]
    both = formula(*spread)
    assert np.shape(both) == (2,)
    assert both[0] == pytest.approx(float(number))
    assert both[1] == pytest.approx(float(formula(*(value * 1.1 for value in values))))
    assert Numbers(dict(zip(names, spread, strict=True)))(tree) == pytest.approx(both)


def test_a_mere_number_gives_a_mere_number() -> None:
    found = lattice.least_slit(3, 3, 4)
    assert np.ndim(found) == 0
    assert f"{found:.3f}" == "0.202"


def test_a_rule_of_a_family_can_be_made_of_a_formula() -> None:
    """The tree prints pi by its own name, as a family's own formula does."""
    tree = bent_web.least_length(Sym("web"), Sym("swing"), Sym("strain"))
    own = Sym("swing") * expr.PI / 180 * Sym("web") / (2 * Sym("strain"))
    assert text(tree) == text(own)
