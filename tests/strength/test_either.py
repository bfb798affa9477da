"""A formula is one and the same on symbols, on numbers and on arrays."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from scadgen.strength import (
    arm,
    bent_web,
    break_away,
    cones,
    fold,
    giving,
    lattice,
    leaf,
    loop,
    prying,
    rod,
    twisted_web,
)
from scadgen.trees import expr
from scadgen.trees.expr import Expr, Sym
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_scad import text

#: Formulas that a family's rule may use, and values for their parameters.
GENERIC: dict[str, tuple[Callable[..., Any], tuple[float, ...]]] = {
    "arm.bending": (arm.bending, (90.0, 70.0, 20.0, 8.0, 4.0)),
    "arm.tilted": (arm.tilted, (9.0, 2.0, 40.0, 8.0, 4.0, 1.6)),
    "bent_web.web_strain": (bent_web.web_strain, (0.6, 10.0, 90.0)),
    "bent_web.torque": (bent_web.torque, (2000.0, 0.6, 20.0, 10.0)),
    "bent_web.uneven": (bent_web.uneven, (3.0, 20.0)),
    "break_away.snap_push": (break_away.snap_push, (50.0, 3.0, 1.6, 0.4, 15.0)),
    "cones.neck_bending": (cones.neck_bending, (20.0, 4.0, 45.0, 1.0, 2.0)),
    "cones.thrust": (cones.thrust, (20.0, 45.0, 0.2)),
    "cones.tip_bending": (cones.tip_bending, (20.0, 4.0, 25.0, 3.0)),
    "fold.folded_strain": (fold.folded_strain, (0.4, 8.4)),
    "giving.bar_twist": (giving.bar_twist, (90.0, 12.0, 4.0, 2.0, 2000.0)),
    "lattice.bridge_stress": (lattice.bridge_stress, (5.0, 4.0, 2.0)),
    "lattice.bridge_compliance": (lattice.bridge_compliance, (2.0, 2.0, 4.0, 0.5, 2000.0)),
    "leaf.root_stress": (leaf.root_stress, (90.0, 30.0, 3.0)),
    "loop.hoop_at_bore": (loop.hoop_at_bore, (2.0, 9.0, 6.0)),
    "prying.bearing_force": (prying.bearing_force, (20.0, 40.0, 6.0)),
    "rod.bending_stress": (rod.bending_stress, (90.0, 5.0)),
    "twisted_web.share_bent": (twisted_web.share_bent, (40.0, 10.0, 0.4)),
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
    found = leaf.root_stress(90, 30, 3)
    assert np.ndim(found) == 0
    assert f"{found:.3f}" == "2.000"


def test_a_rule_of_a_family_can_be_made_of_a_formula() -> None:
    """The tree prints pi by its own name, as a family's own formula does."""
    tree = bent_web.web_strain(Sym("web"), Sym("length"), Sym("swing"))
    own = Sym("swing") * expr.PI / 180 * Sym("web") / (2 * Sym("length"))
    assert text(tree) == text(own)
