"""Written texts with slots for a maker's values: cut out of what the writers themselves give.

A text is a list: strings stay as they are, and a slot is ``[kind, name]``. No layout is known here
but that a value stands behind its name and '=', so that the writers may lay out as they like.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from scadgen.handover.outputs import call
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Hinge
from scadgen.jobs.job import default_name, job_keys, new_job, read_job
from scadgen.jobs.keys import LAYERS
from scadgen.keeping.fingerprint import stated
from scadgen.openscad.sliders import sliders
from scadgen.trees.to_scad import number

Slotted = list[str | list[str]]
Place = tuple[int, int, list[str]]  # from, to, slot


def call_slots(cls: type[Hinge]) -> Slotted:
    """The file that draws a hinge with the module beside it, as a job gives it.

    It has slots ``value`` and ``slider`` for each field, and its ``fingerprint``.

    Raises ValueError where a value, its slider or the fingerprint is not found.
    """
    hinge = cls()
    text = call(read_job(new_job(cls.family), Path()))
    given, ranges = given_values(hinge), sliders(hinge)
    places = [place for name in given for place in _setting(cls, text, name, given, ranges)]
    (fingerprint,) = stated(text)
    return _cut(text, [*places, _found(text, re.escape(fingerprint), ["fingerprint", ""])])


def _setting(
    cls: type[Hinge],
    text: str,
    name: str,
    given: Mapping[str, float],
    ranges: Mapping[str, str],
) -> Iterator[Place]:
    opening = rf"^{cls.family}_{name} *= *"
    value = re.escape(number(given[name]))
    yield _found(text, rf"{opening}({value});", ["value", name])
    yield _found(text, rf"{opening}{value};[^\n]*?({re.escape(ranges[name])})$", ["slider", name])


def job_slots(cls: type[Hinge]) -> Slotted:
    """The text of a job: slots ``value`` for the fields that a job sets, and its ``layers``.

    Raises ValueError where one is not found.
    """
    text = new_job(cls.family)
    places = []
    for name, key in job_keys(cls).items():
        start, end = _section(text, key)
        word = re.escape(key.rpartition(".")[2])
        first, last, slot = _found(text[start:end], rf"^{word} = ([^\n]*)$", ["value", name])
        places.append((start + first, start + last, slot))
    start, end = _section(text, LAYERS)
    word = re.escape(LAYERS.rpartition(".")[2])
    first, last, slot = _found(text[start:end], rf"^{word} = \[([^\n]*)\]$", ["layers", ""])
    places.append((start + first, start + last, slot))
    return _cut(text, places)


def job_name(cls: type[Hinge]) -> str:
    """The name of such a job, and so the stem of its file."""
    return default_name(cls)


def _section(text: str, key: str) -> tuple[int, int]:
    """From where to where the text has the section of a dotted key."""
    name = key.rpartition(".")[0]
    start = text.index(f"\n[{name}]\n") if name else 0
    end = text.find("\n[", start + 1)
    return start, len(text) if end < 0 else end


def _found(text: str, pattern: str, slot: list[str]) -> Place:
    """Where the only match of a pattern is, or its first group if it has one."""
    found = list(re.finditer(pattern, text, re.MULTILINE))
    if len(found) != 1:
        raise ValueError(f"the text has {len(found)} places for {' '.join(slot)}, not one")
    group = len(found[0].groups())
    return found[0].start(group), found[0].end(group), slot


def _cut(text: str, places: Iterable[Place]) -> Slotted:
    pieces: Slotted = []
    at = 0
    for start, end, slot in sorted(places, key=lambda place: place[0]):
        pieces += [text[at:start], slot]
        at = end
    return [*pieces, text[at:]]
