"""One way in which a hinge can give way, held against what its plastic bears.

What acts comes from a formula with a source of its own; what is borne, from the plastic's and from
:mod:`scadgen.strength.life`. The ratio of both is derived from its own meaning.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import ModuleType
from typing import TYPE_CHECKING, Any

from scadgen.strength.lasting import modulus_left, strength_left
from scadgen.strength.materials import Use

if TYPE_CHECKING:
    from scadgen.strength.duty import Duty
    from scadgen.strength.filling import Section, Solid
    from scadgen.strength.materials import Plastic


#: What stands for no stiffness at all, as a share of it: formulas divide by it.
NONE_LEFT = 1e-6


@dataclass(frozen=True)
class Strength:
    """What one place of a hinge bears under its duty, and what it may bear.

    name: what would give way and how, in words: "neck in bending". where the load crosses layers,
        the words say so.
    actual, permissible: in ``unit`` ("MPa", "%" or "N"), floats or arrays that broadcast.
    source: of the formula: a publication, or "common practice, no source".
    change: what to change when it is too little, in words: "a thicker shaft".
    limit: a limit that is met or not, on which no margin is asked.
    caution: a figure to look at, on which nothing is decided: too much of it is unknown.
    sized: whether sizing may change what is too little.
    """

    name: str
    actual: Any
    permissible: Any
    unit: str
    source: str
    change: str
    limit: bool = False
    caution: bool = False
    sized: bool = True

    @property
    def words(self) -> str:
        """What one hinge bears here, of what it may."""
        return f"{float(self.actual):.3g} of {float(self.permissible):.3g} {self.unit}"

    @property
    def acts(self) -> bool:
        """Whether anything acts on this place of one hinge."""
        return float(self.actual) > 0

    @property
    def factor(self) -> Any:
        """How many times the duty it bears; infinite where nothing is asked."""
        import numpy as np

        with np.errstate(divide="ignore", invalid="ignore"):
            ratio = np.divide(self.permissible, self.actual)
        return np.where(np.asarray(self.actual) <= 0, np.inf, ratio)


@dataclass(frozen=True)
class Told:
    """How a family tells its places: under a duty, printed in a plastic."""

    duty: Duty
    plastic: Plastic

    def stress(
        self,
        name: str,
        actual: Any,
        section: Section | Solid,
        formula: ModuleType,
        change: str,
        *,
        across: bool = False,
        shear: bool = False,
        caution: bool = False,
    ) -> Strength:
        """A stress (MPa) from a load, held against the weak end of the plastic's strength.

        ``section``: what bears it; with walls and infill it bears less than if it were solid.
        ``across``: it crosses layers, or shears them against each other. The strength is cut to
        the share that the plastic bears so often, and to what is left of it as long and as warm as
        that: see :func:`scadgen.strength.life.strength_share`, :mod:`scadgen.strength.lasting`.
        """
        if shear:
            strength = self.plastic.shear_strength(across).low
        else:
            strength = self.plastic.weak_end("strength_across" if across else "strength", Use.HOLD)
        words = f"{name}, across layers" if across else name
        borne = strength * often(self.duty) * strength_left(self.plastic, self.duty)
        borne = borne * section.share(self.plastic.filling)
        return Strength(words, actual, borne, "MPa", source(formula), change, caution=caution)


def gives(name: str, way: Any, left: Any, formula: ModuleType, change: str) -> Strength:
    """A way (mm) by which parts give under the load, held against the grip that it takes (mm)."""
    return Strength(name, way, left, "mm", source(formula), change)


def strain(name: str, actual: Any, permissible: Any, formula: ModuleType, change: str) -> Strength:
    """A strain (as a fraction) from a bend, held against what the plastic lives with (%)."""
    return Strength(name, 100 * actual, permissible, "%", source(formula), change)


def stiffness(plastic: Plastic, duty: Duty) -> float:
    """Modulus (MPa) that holds a load, weak end, as long and as warm as the duty asks.

    As good as none where nobody knows what is left of it, so that nothing passes.
    """
    return plastic.weak_end("modulus", Use.CARRY) * max(modulus_left(plastic, duty), NONE_LEFT)


def often(duty: Duty) -> float:
    """Share of its strength that a plastic bears as often as the duty asks."""
    from scadgen.strength.life import strength_share

    return strength_share(duty.cycles)


def source(formula: ModuleType) -> str:
    """Where a formula stands: the module's own words name its publications."""
    return f"scadgen.{formula.__name__.removeprefix('scadgen.')}"
