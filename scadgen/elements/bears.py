"""What a plastic bears at a place of a body, held against the stress there.

Layers lie flat. Three things are told: stress within the layers (von Mises, of the parts that lie
in them), tension across them, and shear between them. How they act together at one place is left
out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.brick import elasticity
from scadgen.elements.fill import Array
from scadgen.strength.materials import Use
from scadgen.strength.torsion import shear_modulus

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

#: The three ways in which a place may give way, as words that follow its name.
WAYS = ("within layers", "across layers", "between layers")


@dataclass(frozen=True)
class Bears:
    """What a printed plastic bears once, weak ends (MPa), in the order of ``WAYS``."""

    within: float
    across: float
    between: float

    def used(self, stresses: Array) -> Array:
        """Share of what is borne, (3, n), under stresses (n, 6) in MPa."""
        found: Array = acting(stresses) / np.array(self.each)[:, None]
        return found

    @property
    def each(self) -> tuple[float, float, float]:
        """All three, MPa."""
        return self.within, self.across, self.between


def acting(stresses: Array) -> Array:
    """What acts in each of the three ways, (3, n) in MPa, under stresses (n, 6)."""
    x, y, z, yz, zx, xy = np.asarray(stresses, float).T
    within = np.sqrt(x * x + y * y - x * y + 3 * xy * xy)
    return np.stack((within, np.maximum(z, 0), np.hypot(yz, zx)))


def borne(plastic: Plastic, share: float = 1.0) -> Bears:
    """What the plastic bears, of which a share is left by how often it is asked."""
    return Bears(
        share * plastic.weak_end("strength", Use.HOLD),
        share * plastic.weak_end("strength_across", Use.HOLD),
        share * plastic.shear_strength(True).low,
    )


def stiffness(plastic: Plastic) -> Array:
    """Stress per strain of a printed plastic, its soft ends (MPa): it gives way the most."""
    modulus = plastic.weak_end("modulus", Use.CARRY)
    across = min(modulus, (plastic.modulus_across or plastic.modulus).low)
    poisson = plastic.weak_end("poisson", Use.CARRY)
    shear = shear_modulus(modulus, poisson)
    between = shear_modulus(across, poisson)
    return elasticity(modulus, across, poisson, shear, between)
