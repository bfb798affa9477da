"""A leaf held at one edge."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from scadgen.strength import leaf
from tests.strength.compared import COMPUTED, Comparison, Source, compares, share


@compares("A leaf held at one edge")
def snaps() -> Iterator[Comparison]:
    """A snap is such a leaf: the force that bends it so far, then its stress over the modulus."""
    source = Source("snap-fit manuals of plastics makers, public tool page", "looked up")
    modulus, height, way, length, width = 2000, 2, 1, 12, 5
    force = modulus * width * height**3 * way / (4 * length**3)
    ours = leaf.bending_stress(force, length, width, height) / modulus
    case = "h 2, y 1, L 12: 1.5 h y/L2"
    yield Comparison("6 F L/(b t2 E)", case, ours, 0.020833, share(1e-4), source)


@compares("A leaf held at one edge")
def moments() -> Iterator[Comparison]:
    fibres = Source("stress summed over fibres (numpy)", COMPUTED)
    ours, theirs = leaf.root_stress(120, 30, 3), _outermost(120, 3, np.full(3000, 0.03))
    yield Comparison("root, MPa", "M 120, 30 x 3", ours, theirs, share(1e-4), fibres)
    ours, theirs = leaf.edgewise_stress(900, 30, 30, 3), _outermost(900, 30, np.full(3000, 0.03))
    yield Comparison("edgewise, MPa", "M 900, 30 x 3", ours, theirs, share(1e-4), fibres)
    place = (np.arange(3000) + 0.5) / 100  # three holes of 4 mm, in a row across the leaf
    solid = np.abs(place[:, None] - np.array([5.0, 15.0, 25.0])).min(axis=1) > 2
    ours, theirs = leaf.edgewise_stress(900, 30, 18, 3), _outermost(900, 30, 0.03 * solid)
    why = "a model: holes in a row take as much of the modulus as of the width"
    case = "M 900, 30 x 3, three holes of 4"
    yield Comparison("edgewise, MPa", case, ours, theirs, share(0.1), fibres, why)


def _outermost(moment: float, side: float, areas: Any) -> float:
    """Stress at the edge of a section, of fibres across its side whose areas hold the moment."""
    place = ((np.arange(len(areas)) + 0.5) / len(areas) - 0.5) * side
    return float(moment * side / 2 / (place * place * areas).sum())
