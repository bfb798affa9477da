"""How much strain a plastic bears, by how often it is bent.

Strains go by bands: what each stands on, its source or that there is none, is said in it. Stresses
go by the lower of two: the same bands, and a curve of tests on printed parts. That curve is of PLA;
for other plastics it is assumed. Its weak end is taken: what 9 of 10 parts outlive. The yield
strains of printed plastics are themselves from memory: test what matters.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

#: Share of the yield strain that one bend may take, where a plastic yields clearly.
OF_YIELD = 0.7
#: Share of the strain at break that one bend may take, where it does not, or across layers.
OF_BREAK = 0.5
#: Greatest stress, as a share of the tensile strength, that 9 of 10 parts of printed PLA bear for
#: two million cycles. O. H. Ezeh, L. Susmel, Int. J. Fatigue 126 (2019) 319 (from memory): one
#: curve for all ways of printing and all means of the stress. For other plastics: assumed.
ENDURANCE = 0.10
#: Cycles after which it was measured.
ENDURED = 2_000_000
#: Inverse slope of that curve in logarithms, from the same source.
SLOPE = 5.5
#: The strong end of what was measured: printed PLA bears half its strength some ten thousand
#: times. L. Afrose et al., Prog. Addit. Manuf. 1 (2016) 21 (from memory). No design takes it.
STRONG_END = (10_000, 0.5)

_DSM = 'DSM Engineering Plastics, "Maximum Allowable Short-Term Strain" (looked up)'


@dataclass(frozen=True)
class Band:
    """Up to ``most`` bends; ``share`` of the strain that one bend may take; on what ``basis``."""

    name: str
    most: float
    share: float
    basis: str


BANDS = (
    Band("once", 1, 1.0, f"70 % of yield, else 50 % of break: {_DSM}"),
    Band("tens", 100, 0.6, f"60 % of one bend, for repeated bends: {_DSM}; to 100: assumed"),
    Band(
        "thousands",
        10_000,
        3 / 7,
        "30 % of yield, the upper end for many bends (common practice, no source)",
    ),
    Band(
        "beyond",
        math.inf,
        2 / 7,
        "20 % of yield, the lower end for many bends (common practice, no source); past 100,000 "
        "less, like stresses in printed PLA (assumed)",
    ),
)


def band(cycles: float) -> Band:
    """The band of a number of bends, 1 or more. Raises ValueError for less."""
    if not cycles >= 1:
        raise ValueError(f"cycles = {cycles:g}; it must be 1 or more. This works: 1.")
    return next(band for band in BANDS if cycles <= band.most)


@dataclass(frozen=True)
class Permissible:
    """A strain that a design may use, in percent and as a fraction, and what it stands on."""

    percent: float
    basis: str

    @property
    def strain(self) -> float:
        """The strain as a fraction, as the formulas take it."""
        return self.percent / 100


def permissible(plastic: Plastic, cycles: float, across: bool = False) -> Permissible:
    """The strain that a plastic bears so many times, from the weak end of its range.

    ``across``: the strain crosses layers; then half the strain at break across them counts, never
    more than what holds in the layers. A maker's own figure for a band comes first, in the layers.
    """
    at = band(cycles)
    own = (plastic.permissible or {}).get(at.name)
    share = strain_share(cycles)
    inside = share * one_bend(plastic) if own is None else own
    if not across:
        return Permissible(inside, at.basis if own is None else "given with the plastic")
    split = share * OF_BREAK * plastic.break_strain_across.low
    basis = f"50 % of break across layers, then as repeated: {at.name}"
    return Permissible(min(inside, split), basis)


def held_bent(plastic: Plastic) -> Permissible:
    """The strain that a plastic is left with for long, in the layers, weak end: the lower end of
    what is usual for many bends, 20 % of yield (common practice, no source).
    """
    share = BANDS[-1].share
    return Permissible(share * one_bend(plastic), "20 % of yield, common practice, no source")


def shear_between_layers(plastic: Plastic, cycles: float) -> float:
    """Shear strain (%) that layers bear against each other so many times: a model.

    The permissible strain as a stress, over sqrt(3) (von Mises), cut to the share of their strength
    that layers keep across them, and back to a shear strain: ratio 2 (1 + nu)/sqrt(3) of it.
    """
    inside = permissible(plastic, cycles).percent
    return plastic.layer_share * inside * 2 * (1 + plastic.poisson.low) / 3**0.5


def one_bend(plastic: Plastic) -> float:
    """Strain (%) of one bend in the layers: 70 % of yield, or 50 % of break without a yield."""
    if plastic.yield_strain is None:
        return OF_BREAK * plastic.break_strain.low
    return OF_YIELD * plastic.yield_strain.low


def outlived(cycles: float) -> float:
    """Share of its strength that printed PLA bears so many times, 1 or more, weak end; 1 at most.

    A straight line in logarithms through :data:`ENDURANCE`; it goes on falling beyond, as no limit
    of endurance was shown.
    """
    return float(min(ENDURANCE * (ENDURED / cycles) ** (1 / SLOPE), 1.0))


def strength_share(cycles: float) -> float:
    """Share of its strength that a plastic bears so many times, 1 or more.

    The lower of the band's and of what printed parts outlived: 1 once, 0.1 two million times.
    """
    return min(band(cycles).share, outlived(cycles))


def strain_share(cycles: float) -> float:
    """Share of the strain of one bend that a plastic bears so many times, 1 or more.

    That of the band; beyond the last that has an end it falls as the curve of stresses does, from
    the share there on (assumed).
    """
    at, last = band(cycles), BANDS[-2]
    if cycles <= last.most:
        return at.share
    return min(at.share, last.share * outlived(cycles) / outlived(last.most))
