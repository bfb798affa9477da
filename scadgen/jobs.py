"""Jobs: what a maker asks for, read from TOML.

``family``, ``name``, ``title``, ``note`` and ``clearance`` stand at the top; ``[size]`` holds the
family's other fields; ``[printers]`` and ``[duty]`` say what it is printed on and has to do. A key
left out keeps its default, and a key that does nothing is refused.
"""

from __future__ import annotations

import difflib
import json
import math
import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scadgen.family import Hinge, all_families, bounds
from scadgen.proof import verdict
from scadgen.proof.finding import Verdict
from scadgen.proof.verdict import LAYER_HEIGHTS
from scadgen.rules import HingeError, shown
from scadgen.to_scad import number

#: What one printed layer may be; a job lists several, and the thickest is the hinge's own.
LAYER = bounds(Hinge)["layer"]

_SECTIONS = ("size", "printers", "duty")
_TEXTS = ("name", "title", "note")
_LAYERS = "printers.layer_heights"
#: Fields whose key is not ``size.<field>``.
_KEYS = {"clearance": "clearance", "line_width": "printers.line_width", "swing": "duty.angle"}
#: Fields without a key: a job proves and writes the hinge as it prints, and the thickest of its
#: layer heights is the hinge's own.
_NO_KEYS = ("angle", "layer")


@dataclass(frozen=True)
class Job:
    """A hinge that is wanted, and the printers that must manage it.

    ``name`` is the stem of the written files; ``title`` and ``note`` are free text, never more
    than data; ``layer_heights`` are in mm.
    """

    family: str
    name: str
    title: str
    note: str
    hinge: Hinge
    layer_heights: tuple[float, ...]

    def prove(self, progress: Callable[[str], None] | None = None) -> Verdict:
        """What the proof of its hinge finds; ``progress`` is told what is being measured."""
        return verdict.check(self.hinge, self.layer_heights, progress)


class JobError(ValueError):
    """A job that can't be read, in one line.

    Attributes: ``words``, what is wrong and what would work; ``key``, the dotted key at fault if
    it is one key's fault; ``path`` of the file, if there is one.
    """

    def __init__(self, words: str, key: str | None = None) -> None:
        self.words, self.key = words, key
        self.path: Path | None = None
        super().__init__(words)

    def __str__(self) -> str:
        return f"{self.path}: {self.words}" if self.path else self.words


def load_job(path: str | Path) -> Job:
    """The job in a TOML file. Raises JobError for anything that makes no sound hinge."""
    path = Path(path)
    try:
        return _job(_flat(_document(path)))
    except JobError as error:
        error.path = path
        raise


def new_job(family: str) -> str:
    """The text of a job with every value at its default, each with its sentence and its range.

    Raises JobError for a family that there is not.
    """
    from scadgen.emitter import template

    cls = _family(family)
    sections = {section: list(_settings(cls, section)) for section in ("", *_SECTIONS)}
    return template("job.toml.j2").render(cls=cls, name=_default_name(cls), sections=sections)


def job_keys(cls: type[Hinge]) -> dict[str, str]:
    """For each field that a job sets, the dotted key that sets it."""
    return {name: _KEYS.get(name, f"size.{name}") for name in bounds(cls) if name not in _NO_KEYS}


def _settings(cls: type[Hinge], section: str) -> Iterator[str]:
    """The lines of a section: above each value its sentence, a blank line between groups."""
    fields = bounds(cls)
    places = {name: key.rpartition(".") for name, key in job_keys(cls).items()}
    names = [name for name, place in places.items() if place[0] == section]
    for before, name in zip([None, *names], names, strict=False):
        if before and fields[before].group != fields[name].group:
            yield ""
        yield f"# {fields[name].sentence}; {fields[name].words}"
        yield f"{places[name][2]} = {number(fields[name].default)}"
    if section == _LAYERS.rpartition(".")[0]:
        yield f"# {LAYER.sentence}: each one listed has to do; {LAYER.words}"
        yield f"layer_heights = {list(LAYER_HEIGHTS)}"


def _document(path: Path) -> dict[str, Any]:
    try:
        data = path.read_bytes()
    except OSError as error:
        raise JobError(f"cannot be read: {error.strerror or error}.") from None
    try:
        return tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise JobError(f"line {line}: not UTF-8; save the file as UTF-8 text.") from None
    except RecursionError:
        raise JobError("values are nested too deeply.") from None
    except ValueError as error:
        raise JobError(f"not TOML: {error}.") from None


def _flat(document: Mapping[str, Any]) -> dict[str, Any]:
    """All values under their dotted keys."""
    found = {}
    for key, value in document.items():
        if isinstance(value, dict) and key in _SECTIONS:
            found.update({f"{key}.{_bare(inner)}": deep for inner, deep in value.items()})
        elif key in _SECTIONS:
            raise JobError(f"{key}: it must be a table, headed by [{key}].", key)
        else:
            found[_bare(key)] = value
    for key, value in found.items():
        if isinstance(value, int) and abs(value) >= 2**63:
            raise JobError(f"{key}: too large; whole numbers in TOML have 64 bits.", key)
    return found


def _bare(key: str) -> str:
    """A key as TOML writes it: in quotes unless it is a plain word."""
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else json.dumps(key)


def _job(found: Mapping[str, Any]) -> Job:
    if "family" not in found:
        raise JobError(f"family: missing; it must be one of {_families()}.", "family")
    cls = _family(found["family"])
    keys = job_keys(cls)
    for key in found:
        if key not in ("family", *_TEXTS, _LAYERS, *keys.values()):
            raise JobError(f"{key}: no such key{_did_you_mean(key, keys)}.", key)
    texts = {key: _text(key, found.get(key, "")) for key in _TEXTS}
    heights = _layer_heights(found.get(_LAYERS, list(LAYER_HEIGHTS)))
    values = {name: found[key] for name, key in keys.items() if key in found}
    return Job(
        family=cls.family,
        name=_name(cls, texts["name"] or _default_name(cls)),
        title=texts["title"],
        note=texts["note"],
        layer_heights=heights,
        hinge=_hinge(cls, values, max(heights)),
    )


def _hinge(cls: type[Hinge], values: Mapping[str, Any], layer: float) -> Hinge:
    fields, keys = bounds(cls), job_keys(cls) | {"layer": _LAYERS}
    for name, value in values.items():
        if not _is_number(value):
            words = f"it must be a number, such as {number(fields[name].default)}"
            raise JobError(f"{keys[name]} = {_toml(value)}; {words}.", keys[name])
    try:
        return cls(**values, layer=layer)
    except HingeError as error:
        key = keys[error.param]
        works = error.works.items()
        changes: dict[str, Any] = {keys[n]: [v] if n == "layer" else v for n, v in works}
        error.works = changes
        words = f"{key} = {shown(error.value)}{error.unit}; {error.rule}{error.remedy}"
        raise JobError(words, key) from None


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _toml(value: object) -> str:
    """A value about as it stands in the file, on one line."""
    return json.dumps(value, default=str)


def _family(name: object) -> type[Hinge]:
    if isinstance(name, str) and name in all_families():
        return all_families()[name]
    close = _closest(str(name), all_families())
    hint = f"did you mean {close}? " if close else ""
    words = f"family = {_toml(name)}; {hint}It must be one of {_families()}."
    raise JobError(words, "family")


def _families() -> str:
    return ", ".join(all_families())


def _did_you_mean(key: str, keys: Mapping[str, str]) -> str:
    """A hint at the key whose last word, or whose field, is most like that of ``key``."""
    known = ("family", *_TEXTS, _LAYERS, *keys.values())
    words = {word.rpartition(".")[2]: word for word in known} | dict(keys)
    close = _closest(key.rpartition(".")[2], words)
    return f"; did you mean {words[close]}?" if close else f"; there are {', '.join(known)}"


def _closest(word: str, options: Iterable[str]) -> str | None:
    return next(iter(difflib.get_close_matches(word, options, 1)), None)


def _text(key: str, value: object) -> str:
    if not isinstance(value, str):
        raise JobError(f"{key} = {_toml(value)}; it must be text in quotes.", key)
    return value


def _default_name(cls: type[Hinge]) -> str:
    return f"my_{cls.family}"


def _name(cls: type[Hinge], name: str) -> str:
    """``name`` if it can be the stem of files beside the family's own module."""
    if _is_stem(cls, name):
        return name
    close = re.sub(r"[^A-Za-z0-9]+", "_", name).strip("_")
    works = close if _is_stem(cls, close) else _default_name(cls)
    rule = f"it must be letters, digits and '_', a letter first, and not {cls.family}"
    raise JobError(f"name = {_toml(name)}; {rule}. This works: {works}.", "name")


def _is_stem(cls: type[Hinge], name: str) -> bool:
    return name.lower() != cls.family and re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", name) is not None


def _layer_heights(value: object) -> tuple[float, ...]:
    if not isinstance(value, list) or not value:
        words = f"it must be a list of heights in mm. This works: {list(LAYER_HEIGHTS)}."
        raise JobError(f"{_LAYERS} = {_toml(value)}; {words}", _LAYERS)
    for height in value:
        if not _is_number(height) or not LAYER.low <= height <= LAYER.high:
            real = _is_number(height) and not math.isnan(height)
            works = LAYER.nearest(height) if real else LAYER.default
            words = f"{_toml(height)} is in it; {LAYER.words} This works: {shown(works)}."
            raise JobError(f"{_LAYERS}: {words}", _LAYERS)
    return tuple(map(float, value))
