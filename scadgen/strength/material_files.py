"""Reading a plastic from TOML: units are named, ranges are checked, mistakes get a hint.

A quantity is a table, or several, each with its unit as the key of its range::

    [[modulus]]
    MPa = [1900, 2100]
    mark = "measured"
    source = "ten bars, own printer"
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scadgen.strength.life import BANDS
from scadgen.strength.materials import Entry, Plastic, Range
from scadgen.tables.documents import JobError, document, is_number
from scadgen.text.numbers import shown
from scadgen.text.quoting import toml, toml_key

MARKS = ("looked up", "measured", "from memory", "common practice, no source", "assumed")

#: By unit, other units of the same kind and their size in it.
_OTHER_UNITS = {
    "MPa": {"GPa": 1e3, "kPa": 1e-3, "Pa": 1e-6, "psi": 6.894757e-3, "ksi": 6.894757},
    "percent": {"fraction": 100.0, "mm_per_mm": 100.0, "strain": 100.0},
    "g_per_cm3": {"kg_per_m3": 1e-3},
    "celsius": {},
    "ratio": {"percent": 0.01},
}


@dataclass(frozen=True)
class Kind:
    """A quantity's unit, the range that is believable for a plastic, and whether it must be."""

    unit: str
    low: float
    high: float
    needed: bool = True


KINDS = {
    "modulus": Kind("MPa", 5, 30000),
    "modulus_across": Kind("MPa", 5, 30000, needed=False),
    "strength": Kind("MPa", 2, 400),
    "strength_across": Kind("MPa", 0.5, 400, needed=False),
    "layer_ratio": Kind("ratio", 0.05, 1, needed=False),
    "yield_strain": Kind("percent", 0.3, 60, needed=False),
    "break_strain": Kind("percent", 0.3, 1500),
    "break_strain_across": Kind("percent", 0.1, 1500),
    "poisson": Kind("ratio", 0.1, 0.499),
    "density": Kind("g_per_cm3", 0.4, 4),
    "softening": Kind("celsius", 30, 300),
}
_ALLOWED = Kind("percent", 0.02, 500)
_TEXTS = ("name", "note")
_ABOUT = ("source", "mark", "of")


def read(path: Path) -> Plastic:
    """The plastic in a file. Raises JobError, naming the file."""
    try:
        return _plastic(document(path))
    except JobError as error:
        error.path = path
        raise


def _plastic(document: Mapping[str, Any]) -> Plastic:
    keys = (*_TEXTS, *KINDS, "permissible")
    for key in document:
        if key not in keys:
            raise JobError(f"{toml_key(key)}: no such key{_did_you_mean(key, keys)}.", key)
    for key in ("name", *(key for key, kind in KINDS.items() if kind.needed)):
        if key not in document:
            raise JobError(f"{key}: missing; {_form(key)}.", key)
    texts = {key: document.get(key, "") for key in _TEXTS}
    for key, value in texts.items():
        if not isinstance(value, str) or (key == "name" and not value.strip()):
            raise JobError(f"{key} = {toml(value)}; it must be text in quotes.", key)
    ranges = {key: _range(key, document[key]) for key in KINDS if key in document}
    _agree(ranges)
    ranges["measured_across"] = ranges.pop("strength_across", None)
    allowed = _permissible(document.get("permissible", {}))
    return Plastic(**texts, **ranges, permissible=allowed)


def _range(key: str, value: Any) -> Any:
    tables = value if isinstance(value, list) else [value]
    if not tables or not all(isinstance(table, dict) for table in tables):
        raise JobError(f"{key} = {toml(value)}; its unit must be named: {_form(key)}.", key)
    return Range(KINDS[key].unit, tuple(_entry(key, table) for table in tables))


def _entry(key: str, table: Mapping[str, Any]) -> Entry:
    kind = KINDS[key]
    for word in table:
        if word in _OTHER_UNITS[kind.unit]:
            raise JobError(f"{key}: in {word}; {_converted(key, word, table[word])}", key)
        if word not in (kind.unit, *_ABOUT):
            words = (
                f"{key}.{toml_key(word)}: no such key{_did_you_mean(word, (kind.unit, *_ABOUT))}."
            )
            raise JobError(words, key)
    if kind.unit not in table:
        raise JobError(f"{key}: no value in {kind.unit}; {_form(key)}.", key)
    low, high = _ends(key, table[kind.unit])
    for number in (low, high):
        _believed(key, kind, number)
    about = {word: table.get(word, "") for word in _ABOUT}
    for word, text in about.items():
        if not isinstance(text, str):
            raise JobError(f"{key}.{word} = {toml(text)}; it must be text in quotes.", key)
    if about["mark"] not in MARKS:
        raise JobError(
            f"{key}.mark = {toml(about['mark'])}; it must be one of {', '.join(MARKS)}.", key
        )
    return Entry(low, high, **about)


def _ends(key: str, value: Any) -> tuple[float, float]:
    ends = value if isinstance(value, list) else [value, value]
    if len(ends) != 2 or not all(is_number(end) for end in ends):
        raise JobError(f"{key} = {toml(value)}; it must be a number, or [low, high].", key)
    if ends[0] > ends[1]:
        words = f"{key} = {value}; the low end comes first. This works: {[ends[1], ends[0]]}."
        raise JobError(words, key)
    return float(ends[0]), float(ends[1])


def _believed(key: str, kind: Kind, value: float) -> None:
    """Refuse a value that no plastic has, with a guess at the unit it was meant in."""
    if kind.low <= value <= kind.high:
        return
    sizes = {size: unit for unit, size in reversed(_OTHER_UNITS[kind.unit].items())}
    meant = [
        f"{unit} ({shown(value * size)} {kind.unit})"
        for size, unit in sizes.items()
        if kind.low <= value * size <= kind.high
    ]
    if meant:
        hint = f" Was it meant in {' or '.join(reversed(meant))}?"
    else:
        hint = f" Nearest that is: {shown(min(kind.high, max(kind.low, value)))}."
    limits = f"it must be {kind.low:g} to {kind.high:g}"
    raise JobError(f"{key} = {shown(value)} {kind.unit}; {limits}.{hint}", key)


def _converted(key: str, unit: str, value: Any) -> str:
    wanted = KINDS[key].unit
    size = _OTHER_UNITS[wanted][unit]
    if not is_number(value):
        return f"it must be in {wanted} (1 {unit} is {size:g} {wanted})."
    return f"it must be in {wanted}. This works: {wanted} = {shown(value * size)}."


def _agree(ranges: Mapping[str, Any]) -> None:
    """Refuse values that contradict each other."""
    for problem in _contradictions(ranges):
        key, words = problem
        raise JobError(f"{key}: {words}.", key)


def _contradictions(ranges: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
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


def _permissible(table: Any) -> Mapping[str, float]:
    bands = [band.name for band in BANDS]
    if not isinstance(table, dict):
        raise JobError("permissible: it must be a table of strains in percent.", "permissible")
    last = None
    for name, value in table.items():
        key = f"permissible.{toml_key(name)}"
        if name not in bands:
            raise JobError(f"{key}: no such key; there are {', '.join(bands)}.", key)
        if not is_number(value):
            raise JobError(f"{key} = {toml(value)}; it must be a number, in percent.", key)
        _believed(key, _ALLOWED, value)
    for name in (name for name in bands if name in table):
        if last is not None and table[name] > table[last]:
            key = f"permissible.{name}"
            raise JobError(f"{key}: more bends than {last} cannot bear more strain.", key)
        last = name
    return {name: float(value) for name, value in table.items()}


def _form(key: str) -> str:
    if key not in KINDS:
        return f'write {key} = "..."'
    kind = KINDS[key]
    return f'write [{key}], {kind.unit} = [low, high], mark = "measured"'


def _did_you_mean(word: str, known: tuple[str, ...]) -> str:
    lower = {name.lower(): name for name in known}
    close = difflib.get_close_matches(word.lower(), lower, 1)
    return f"; did you mean {lower[close[0]]}?" if close else f"; there are {', '.join(known)}"
