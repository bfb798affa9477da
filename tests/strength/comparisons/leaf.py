"""A leaf held at one edge."""

from __future__ import annotations

from collections.abc import Iterator

from scadgen.strength import leaf
from tests.strength.compared import Comparison, Source, compares, share


@compares("A leaf held at one edge")
def snaps() -> Iterator[Comparison]:
    """A snap is such a leaf: the force that bends it so far, then its stress over the modulus."""
    source = Source("snap-fit manuals of plastics makers, public tool page", "looked up")
    modulus, height, way, length, width = 2000, 2, 1, 12, 5
    force = modulus * width * height**3 * way / (4 * length**3)
    ours = leaf.bending_stress(force, length, width, height) / modulus
    case = "h 2, y 1, L 12: 1.5 h y/L2"
    yield Comparison("6 F L/(b t2 E)", case, ours, 0.020833, share(1e-4), source)
