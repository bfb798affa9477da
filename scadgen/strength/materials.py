"""Plastics as printed: ranges with their sources, and which end of a range design must take.

Each plastic is one TOML file in ``strength/plastics``; a maker's own has the same form and is read
by :func:`load_material`. Ranges, not points: printers, colours and makers differ. A range spans all
that is said of printed parts, and design takes its weak end. What was measured on a moulded part,
on sheet, on fused powder or on the raw plastic never mixes with that: it is there for reference,
and counts only where nothing printed is known.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from scadgen.strength.lasting import Lasting

from scadgen.strength.filling import Filling

PLASTICS = Path(__file__).parent / "plastics"

#: How what was measured was made, where it was not printed in lines: ``of`` begins with it.
OTHERWISE = ("moulded", "powder bed", "sheet", "raw")
PRINTED = "printed"


class Use(StrEnum):
    """What a design asks of a plastic, which decides the weak end of each range."""

    HOLD = "hold"  #: bears a load without breaking
    BEND = "bend"  #: is bent to a given shape: stress and hand force grow with stiffness
    CARRY = "carry"  #: must not give way under a load
    SNAP = "snap"  #: must break by hand


#: The end of a range that design takes; properties not named take the low end.
WEAK_END: Mapping[Use, frozenset[str]] = {
    Use.HOLD: frozenset({"density"}),
    Use.BEND: frozenset({"modulus", "modulus_across", "poisson", "shear_modulus"}),
    Use.CARRY: frozenset({"density"}),
    Use.SNAP: frozenset(
        {"modulus", "modulus_across", "strength", "strength_across", "break_strain"}
        | {"break_strain_across", "yield_strain", "shear_modulus"}
    ),
}


@dataclass(frozen=True)
class Entry:
    """One published or remembered range, as ``low`` to ``high``.

    ``of`` says what was measured: a printed part, unless it begins with a word of
    :data:`OTHERWISE`. ``mark`` says how it is known: "looked up", "from memory",
    "common practice, no source", "assumed" or "measured".
    """

    low: float
    high: float
    mark: str
    source: str = ""
    of: str = ""

    @property
    def made(self) -> str:
        """How what was measured was made: "printed", or a word of OTHERWISE."""
        return next((way for way in OTHERWISE if self.of.startswith(way)), PRINTED)

    @property
    def words(self) -> str:
        """The entry's origin in words."""
        return ": ".join(filter(None, (self.mark, self.source)))


@dataclass(frozen=True)
class Range:
    """What the entries that design takes span, in ``unit``."""

    unit: str
    entries: tuple[Entry, ...]

    @cached_property
    def made(self) -> str:
        """How the parts were made of which design takes the values.

        Printed, where anything printed was measured; else as those of the first entry.
        """
        made = [entry.made for entry in self.entries]
        return PRINTED if PRINTED in made else made[0]

    @cached_property
    def taken(self) -> tuple[Entry, ...]:
        """The entries that design takes: all of parts that were made in one way."""
        return tuple(entry for entry in self.entries if entry.made == self.made)

    @property
    def reference(self) -> tuple[Entry, ...]:
        """The other entries, which no design takes."""
        return tuple(entry for entry in self.entries if entry.made != self.made)

    @cached_property
    def low(self) -> float:
        """Least value that design takes."""
        return min(entry.low for entry in self.taken)

    @cached_property
    def high(self) -> float:
        """Greatest value that design takes."""
        return max(entry.high for entry in self.taken)


def _derived(unit: str, low: float, high: float, how: str) -> Range:
    return Range(unit, (Entry(low, high, "derived", how),))


@dataclass(frozen=True, kw_only=True)
class Plastic:
    """A plastic as printed. Moduli and strengths in MPa, strains in %, density in g/cm3.

    ``modulus`` and ``strength`` hold in the layers, ``*_across`` across them. ``yield_strain`` is
    None where nothing yields clearly. ``softening`` (deg C) is a caution: stay well below its
    low end, and further under a lasting load. ``permissible`` (%, by band of
    :mod:`scadgen.strength.life`) overrides the rules there. ``lasting``: what time and warmth
    leave; see :mod:`scadgen.strength.lasting`. ``permanent_set`` is what a bend that was held
    leaves, in % of it, and ``hysteresis`` the work that a quick bend loses, in %: no design takes
    them. ``filling``: how solid a part prints; None where nothing is said of it: then figures are
    those of solid bars.
    """

    name: str
    note: str
    modulus: Range
    strength: Range
    break_strain: Range
    break_strain_across: Range
    poisson: Range
    density: Range
    softening: Range
    modulus_across: Range | None = None
    yield_strain: Range | None = None
    layer_ratio: Range | None = None
    measured_across: Range | None = None
    permissible: Mapping[str, float] | None = None
    lasting: tuple[Lasting, ...] = ()
    permanent_set: Range | None = None
    hysteresis: Range | None = None
    filling: Filling | None = None

    @cached_property
    def strength_across(self) -> Range:
        """Strength across the layers: what was measured and what the ratio gives; never more."""
        entries = () if self.measured_across is None else self.measured_across.entries
        if self.layer_ratio is not None:
            low, high = self.layer_ratio.low, self.layer_ratio.high
            how, made = "share of the strength in the layers", self.strength.made
            ends = low * self.strength.low, high * self.strength.high
            entries += (Entry(*ends, "derived", how, made),)
        return Range("MPa", entries)

    @cached_property
    def shear_modulus(self) -> Range:
        """E/(2 (1 + nu)), from the ends that lie furthest apart."""
        low = self.modulus.low / (2 * (1 + self.poisson.high))
        high = self.modulus.high / (2 * (1 + self.poisson.low))
        return _derived("MPa", low, high, "E/(2 (1 + nu))")

    @cached_property
    def layer_share(self) -> float:
        """Strength across the layers over that in them, weak ends, 1 at most."""
        return min(self.strength_across.low / self.strength.low, 1.0)

    def shear_strength(self, across: bool) -> Range:
        """Strength over sqrt(3) (von Mises), a model; between layers from that across them."""
        pull = self.strength_across if across else self.strength
        return _derived("MPa", pull.low / 3**0.5, pull.high / 3**0.5, "strength / sqrt(3)")

    def weak_end(self, quantity: str, use: Use) -> float:
        """The end of a quantity's range that a design for ``use`` must take.

        ``quantity`` is the name of a Range of this class. Raises ValueError for another name, or
        for one that the plastic has not.
        """
        found = getattr(self, quantity, None)
        if not isinstance(found, Range):
            raise ValueError(f"{self.name} has no {quantity}; it has {', '.join(self._named())}.")
        return found.high if quantity in WEAK_END[use] else found.low

    def _named(self) -> list[str]:
        names = [*self.__dataclass_fields__, "strength_across", "shear_modulus"]
        return [name for name in names if isinstance(getattr(self, name), Range)]


@functools.cache
def materials() -> tuple[str, ...]:
    """The names under which :func:`material` knows a plastic."""
    return tuple(sorted(path.stem for path in PLASTICS.glob("*.toml")))


def material(name: str) -> Plastic:
    """A plastic by name, however it is written: "petg", "TPU 95A", "PLA+".

    Raises JobError for another.
    """
    from scadgen.tables.documents import JobError
    from scadgen.tables.hints import closest, did_you_mean
    from scadgen.text.quoting import toml

    known = {_plain(stem): stem for stem in materials()}
    if _plain(name) in known:
        return _built_in(known[_plain(name)])
    known |= {_plain(_built_in(stem).name): stem for stem in materials()}
    if _plain(name) in known:
        return _built_in(known[_plain(name)])
    close = closest(_plain(name), known)
    there_are = f"There are {', '.join(materials())}; or give your own."
    words = f"{did_you_mean(close and known[close])} {there_are}".lstrip()
    raise JobError(f"no plastic {toml(name)}: {words}")


def load_material(path: str | Path) -> Plastic:
    """A plastic from a TOML file of the form of those in ``strength/plastics``.

    Raises JobError for a file that can't be read, an unknown or missing key, a wrong unit, a value
    out of range, or values that contradict each other.
    """
    from scadgen.strength.material_files import load_plastic

    return load_plastic(Path(path))


@functools.cache
def _built_in(stem: str) -> Plastic:
    return load_material(PLASTICS / f"{stem}.toml")


def _plain(name: Any) -> str:
    """A name as names are compared: a plus is told, as PLA+ is another plastic than PLA."""
    return "".join(filter(str.isalnum, str(name).lower().replace("+", "plus")))
