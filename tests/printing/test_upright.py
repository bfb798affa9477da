"""Stretches in which nothing leans: one cut stands for all of their layers."""

from __future__ import annotations

import pytest
from manifold3d import Manifold

from scadgen.hinge.family import all_families
from scadgen.printing.cuts import STRAIGHT, cuts
from scadgen.printing.upright import upright


def tower() -> Manifold:
    """A post, a cone on it, and a thinner post on that."""
    cone = Manifold.cylinder(1, 2, 1, 32).translate((0, 0, 3))
    return (
        Manifold.cylinder(3, 2, 2, 32) + cone + Manifold.cylinder(2, 1, 1, 32).translate((0, 0, 4))
    )


def test_heights_in_which_nothing_leans() -> None:
    found = upright(tower())
    bands = [found.band(z) for z in (-1, 1, 2.9, 3, 3.5, 4.5, 5.9, 6, 7)]
    assert bands == [None, 0, 0, None, None, 2, 2, None, None]


@pytest.mark.parametrize("name", all_families())
def test_one_cut_stands_for_what_does_not_lean(name: str) -> None:
    made = cuts([piece.solid for piece in all_families()[name]().mechanism().pieces])
    height, shared = 0.7, 0
    for body, solid in enumerate(made.bodies):
        for k in range(made.count(height)):
            section, own = made.section(body, k, height), solid.slice((k + 0.5) * height)
            assert section.area() == pytest.approx(own.area(), abs=1e-4)
            assert ((section - own) + (own - section)).area() < 100 * STRAIGHT
            shared += made.upright[body].band((k + 0.5) * height) is not None
    assert shared or name in ("rod_loops", "side_cones")
