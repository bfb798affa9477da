"""Reading a plastic from TOML: units are named, ranges are checked, mistakes get a hint.

A quantity is a table, or several, each with its unit as the key of its range::

    [[modulus]]
    MPa = [1900, 2100]
    mark = "measured"
    source = "ten bars, own printer"
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scadgen.strength.duty import QUANTITIES
from scadgen.strength.lasting import Lasting
from scadgen.strength.life import BANDS
from scadgen.strength.materials import Entry, Plastic, Range
from scadgen.tables.documents import JobError
from scadgen.tables.kinds import Number, OneOf, Text, refusal
from scadgen.tables.limits import Limits, is_number
from scadgen.tables.reading import Key, load, read
from scadgen.text.numbers import exact, shown
from scadgen.text.quoting import toml
from scadgen.text.units import OTHERS

MARKS = ("looked up", "measured", "from memory", "common practice, no source", "assumed")


@dataclass(frozen=True)
class Ends:
    """A number, or two: the low and the high end of a range."""

    limits: Limits

    def rule(self, key: str) -> str:
        return f"it must be a number, or [low, high], {self.limits.extent}"

    def read(self, key: str, value: Any) -> tuple[float, float]:
        ends = value if isinstance(value, list) else [value, value]
        if len(ends) != 2 or not all(is_number(end) for end in ends):
            raise refusal(self, key, value)
        low, high = (Number(self.limits).read(key, end) for end in ends)
        if low > high:
            works = f"[{exact(high)}, {exact(low)}]"
            raise JobError(f"{key} = {toml(value)}; the low end comes first. This works: {works}.")
        return low, high


@dataclass(frozen=True)
class Quantity:
    """What is known of a plastic: the range that is believable, and whether it must be given."""

    limits: Limits
    needed: bool = True

    @property
    def unit(self) -> str:
        """The unit, which is a key of the quantity's tables."""
        return self.limits.unit

    def rule(self, key: str) -> str:
        return f'write [{key}], {self.unit} = [low, high], mark = "measured"'

    def read(self, key: str, value: Any) -> Range:
        tables = value if isinstance(value, list) else [value]
        if not tables or not all(isinstance(table, dict) for table in tables):
            words = f"its unit must be named: {self.rule(key)}"
            raise JobError(f"{key} = {toml(value)}; {words}.")
        return Range(self.unit, tuple(self._entry(key, table) for table in tables))

    def _entry(self, key: str, table: Mapping[str, Any]) -> Entry:
        for unit, size in OTHERS.get(self.unit, {}).items():
            if unit in table:
                raise JobError(f"{key}: in {unit}; {self._converted(unit, size, table[unit])}")
        keys = (
            Key(self.unit, Ends(self.limits), needed=True),
            Key("mark", OneOf(MARKS), needed=True),
            *(Key(word, Text(), default="") for word in ("source", "of")),
        )
        found = read(table, keys, within=key)
        return Entry(*found.pop(self.unit), **found)

    def _converted(self, unit: str, size: float, value: Any) -> str:
        if not is_number(value):
            return f"it must be in {self.unit} (1 {unit} is {size:g} {self.unit})."
        return f"it must be in {self.unit}. This works: {self.unit} = {shown(value * size)}."


class Points:
    """Tables of what time and warmth leave of the strength and of the modulus."""

    def rule(self, key: str) -> str:
        point = "hours = 1000, celsius = 23, strength = [low, high]"
        return f'write [[{key}]], {point}, mark = "measured"'

    def read(self, key: str, value: Any) -> tuple[Lasting, ...]:
        tables = value if isinstance(value, list) else [value]
        if not tables or not all(isinstance(table, dict) for table in tables):
            raise refusal(self, key, value)
        return tuple(self._point(key, table) for table in tables)

    def _point(self, key: str, table: Mapping[str, Any]) -> Lasting:
        found = read(table, _POINT, within=key)
        if found["strength"] is None and found["modulus"] is None:
            raise JobError(f"{key}.strength: missing; give it or {key}.modulus.", f"{key}.strength")
        return Lasting(**found)


_SHARE = Ends(Limits("ratio", 0.01, 1))
_POINT = (
    Key("hours", Number(QUANTITIES["hours"]), needed=True),
    Key("celsius", Number(QUANTITIES["celsius"]), needed=True),
    Key("strength", _SHARE),
    Key("modulus", _SHARE),
    Key("mark", OneOf(MARKS), needed=True),
    *(Key(word, Text(), default="") for word in ("source", "of")),
)

KINDS = {
    "modulus": Quantity(Limits("MPa", 5, 30000)),
    "modulus_across": Quantity(Limits("MPa", 5, 30000), needed=False),
    "strength": Quantity(Limits("MPa", 2, 400)),
    "strength_across": Quantity(Limits("MPa", 0.5, 400), needed=False),
    "layer_ratio": Quantity(Limits("ratio", 0.05, 1), needed=False),
    "yield_strain": Quantity(Limits("percent", 0.3, 60), needed=False),
    "break_strain": Quantity(Limits("percent", 0.3, 1500)),
    "break_strain_across": Quantity(Limits("percent", 0.1, 1500)),
    "poisson": Quantity(Limits("ratio", 0.1, 0.499)),
    "density": Quantity(Limits("g_per_cm3", 0.4, 4)),
    "softening": Quantity(Limits("celsius", 30, 300)),
    "permanent_set": Quantity(Limits("percent", 0, 100), needed=False),
    "hysteresis": Quantity(Limits("percent", 0, 100), needed=False),
}
_PERMISSIBLE = {f"permissible.{band.name}": band.name for band in BANDS}
_STRAIN = Number(Limits("percent", 0.02, 500))
_KEYS = (
    Key("name", Text(filled=True), needed=True),
    Key("note", Text(), default=""),
    *(Key(name, quantity, needed=quantity.needed) for name, quantity in KINDS.items()),
    *(Key(name, _STRAIN) for name in _PERMISSIBLE),
    Key("lasting", Points(), default=()),
)


def load_plastic(path: Path) -> Plastic:
    """The plastic in a file. Raises JobError, naming the file."""
    return load(path, lambda document, _: _plastic(read(document, _KEYS)))


def _plastic(found: Mapping[str, Any]) -> Plastic:
    ranges = {name: found[name] for name in KINDS if found[name] is not None}
    strains = {band: found[key] for key, band in _PERMISSIBLE.items() if found[key] is not None}
    points = found["lasting"]
    for key, words in (*_contradictions(ranges), *_rising(strains, ranges), *_growing(points)):
        raise JobError(f"{key}: {words}.", key)
    ranges["measured_across"] = ranges.pop("strength_across", None)
    texts = {key: found[key] for key in ("name", "note")}
    return Plastic(**texts, **ranges, permissible=strains, lasting=points)


def _contradictions(ranges: Mapping[str, Range]) -> Iterator[tuple[str, str]]:
    """Keys whose values contradict others, and how."""
    if "layer_ratio" not in ranges and "strength_across" not in ranges:
        yield "strength_across", "missing; give it or layer_ratio (0.5 to 0.7 is usual)"
    pairs = [("break_strain", "strength", "modulus")]
    if "modulus_across" in ranges and "strength_across" in ranges:
        pairs.append(("break_strain_across", "strength_across", "modulus_across"))
    for strain, strength, modulus in pairs:
        least = ranges[strength].low / ranges[modulus].high * 100
        if ranges[strain].high < least:
            yield (
                strain,
                f"{ranges[strain].high:g} % is less than {least:.2g} %, its {strength} over its "
                f"{modulus}: was a fraction meant as a percentage",
            )
    for lesser, greater in (
        ("yield_strain", "break_strain"),
        ("break_strain_across", "break_strain"),
        ("strength_across", "strength"),
    ):
        if lesser in ranges and ranges[lesser].low > ranges[greater].low:
            yield (
                lesser,
                f"its low end, {ranges[lesser].low:g}, is above that of {greater}, "
                f"{ranges[greater].low:g}",
            )


def _growing(points: tuple[Lasting, ...]) -> Iterator[tuple[str, str]]:
    """Points that leave more than one that is shorter and cooler."""
    for mild, worse in itertools.permutations(points, 2):
        for of in ("strength", "modulus"):
            less, more = getattr(mild, of), getattr(worse, of)
            if less and more and worse.beyond(mild) and more[0] > less[1]:
                at = f"{worse.hours:g} h at {worse.celsius:g} deg C"
                yield (
                    f"lasting.{of}",
                    f"{more[0]:g} is left after {at}, and {less[1]:g} after {mild.hours:g} h at "
                    f"{mild.celsius:g} deg C, which is milder",
                )


def _rising(strains: Mapping[str, float], ranges: Mapping[str, Range]) -> Iterator[tuple[str, str]]:
    """Bands that are said to bear more than one of fewer bends, or more than it breaks at."""
    breaks = ranges["break_strain"].low
    for band, strain in strains.items():
        if strain > breaks:
            words = f"{strain:g} % is more than the low end of break_strain, {breaks:g} %"
            yield f"permissible.{band}", words
    for fewer, more in itertools.pairwise(strains):
        if strains[more] > strains[fewer]:
            yield f"permissible.{more}", f"more bends than {fewer} cannot bear more strain"
