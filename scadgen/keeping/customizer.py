"""The values that a maker has set in a Customizer section, carried into a newer text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.hinge.rules import HingeError
from scadgen.keeping.fingerprint import unix, unsealed
from scadgen.text.numbers import shown
from scadgen.text.quoting import scad_string, shortened
from scadgen.trees.to_scad import number

#: What ends the section of the values that a maker may set.
_END = re.compile(r"^/\* \[Hidden\] \*/|^module\b", re.MULTILINE)
_USE = re.compile(r"^use <(\w+)\.scad>", re.MULTILINE)


@dataclass(frozen=True)
class Carried:
    """``text``: the newer one with the maker's values; ``whole``: nothing else was edited."""

    text: str
    whole: bool


def family_of(text: str) -> type[Hinge] | None:
    """The family whose values the Customizer section of ``text`` holds; None if it has none."""
    used = (all_families().get(found[1]) for found in _USE.finditer(text))
    return next((cls for cls in used if cls and "part" in settings(cls, text)), None)


def carried(cls: type[Hinge], base: str | None, edited: str, new: str) -> Carried:
    """``new`` with the values that were changed from ``base`` to ``edited``.

    Without ``base``, those of ``edited`` that differ from ``new``. Raises ValueError, in words, for
    a value that is no plain number, is unknown to the family now, or makes no sound hinge.
    """
    was = settings(cls, new if base is None else base)
    mine = {name: v for name, v in settings(cls, edited).items() if v != was.get(name)}
    values = _read(cls, mine)
    hinge = _hinge(cls, _numbers(cls, settings(cls, new)) | _numbers(cls, values))
    kept = given_values(hinge)
    tidy = {name: value if name == "part" else number(kept[name]) for name, value in values.items()}
    replayed = _with(cls, unix(new if base is None else base), mine)
    return Carried(_with(cls, new, tidy), unsealed(replayed) == unsealed(edited))


def settings(cls: type[Hinge], text: str) -> dict[str, str]:
    """The assignments of the section: the source of each value, by the name without its family."""
    found = _lines(cls).finditer(text, 0, _end(text))
    return {line["name"]: line["value"].strip() for line in found}


def _lines(cls: type[Hinge]) -> re.Pattern[str]:
    return re.compile(rf"^({cls.family}_(?P<name>\w+) *= *)(?P<value>[^;\n]*)(?=;)", re.MULTILINE)


def _end(text: str) -> int:
    end = _END.search(text)
    return end.start() if end else len(text)


def _with(cls: type[Hinge], text: str, values: Mapping[str, str]) -> str:
    end = _end(text)
    section = _lines(cls).sub(
        lambda line: line[1] + values.get(line["name"], line["value"]), text[:end]
    )
    return section + text[end:]


def _read(cls: type[Hinge], sources: Mapping[str, str]) -> dict[str, str]:
    """The changed values, held against what the family has."""
    family = definition(cls)
    for name, source in sources.items():
        told = f"{cls.family}_{name} = {shortened(source)}"
        if name == "part":
            if source not in map(scad_string, family.parts):
                raise ValueError(f"{told}; it must be one of {', '.join(family.parts)}.")
        elif name not in family.bounds:
            raise ValueError(f"{told}; the new text has no such value: take the line out.")
        elif not re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?", source):
            raise ValueError(f"{told}; only plain numbers are carried over.")
    return dict(sources)


def _numbers(cls: type[Hinge], sources: Mapping[str, str]) -> dict[str, float]:
    return {name: float(sources[name]) for name in definition(cls).bounds if name in sources}


def _hinge(cls: type[Hinge], values: dict[str, Any]) -> Hinge:
    try:
        return cls(**values)
    except HingeError as error:
        error.works = {f"{cls.family}_{name}": value for name, value in error.works.items()}
        told = f"{cls.family}_{error.param} = {shown(error.value)}{error.unit}"
        raise ValueError(f"{told}; {error.rule}{error.remedy}") from None
