"""Jobs: what a maker asks for, read from TOML.

``family``, ``name``, ``title``, ``note`` and ``clearance`` stand at the top; ``[size]`` holds the
family's other fields; ``[printers]`` and ``[duty]`` say what it is printed on and has to do. A key
left out keeps its default, and a key that does nothing is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Verdict
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.hinge.rules import HingeError
from scadgen.jobs import demands
from scadgen.jobs.demands import LAYERS
from scadgen.keeping import names
from scadgen.proof import verdict
from scadgen.proof.fleet.population import ROUGH, Population
from scadgen.strength.asked import unanswered
from scadgen.strength.duty import Duty
from scadgen.tables.documents import JobError as JobError
from scadgen.tables.documents import closest, document, is_number, parsed
from scadgen.text.numbers import shown
from scadgen.text.quoting import plain, toml, toml_key
from scadgen.trees.to_scad import number

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

#: Longest title or note, in characters.
LONGEST = 10_000

_SECTIONS = ("size", "printers", "duty")
_TEXTS = ("name", "title", "note")
_STEM = 64  # longest name in characters
#: Fields whose key is not ``size.<field>``.
_KEYS = {"clearance": "clearance", "line_width": demands.LINE_WIDTH, "swing": "duty.angle"}
#: Fields without a key: a job proves and writes the hinge as it prints, and the thickest of its
#: layer heights is the hinge's own.
_NO_KEYS = ("angle", "layer")


@dataclass(frozen=True)
class Job:
    """A hinge that is wanted, and the printers that must manage it.

    ``name`` is the stem of the written files; ``title`` and ``note`` are free text, never more
    than data; ``layer_heights`` are in mm; ``population`` is the fleet of printers that make it;
    ``duty`` and ``plastic`` are None where the job asks for no strength.
    """

    family: str
    name: str
    title: str
    note: str
    hinge: Hinge
    layer_heights: tuple[float, ...]
    population: Population = ROUGH
    duty: Duty | None = None
    plastic: Plastic | None = None

    @property
    def heading(self) -> str:
        """What stands above all that tells of it, on one line: its title, or else its name."""
        return plain(self.title) or plain(self.name)

    @property
    def unanswered(self) -> tuple[str, ...]:
        """What its duty asks and its family does not answer, each in a sentence."""
        return tuple(map(str, unanswered(type(self.hinge), self.duty))) if self.duty else ()

    def prove(self, progress: Callable[[str], None] | None = None) -> Verdict:
        """What the proof of its hinge finds; ``progress`` is told what is being measured."""
        return verdict.check(
            self.hinge,
            self.layer_heights,
            progress,
            population=self.population,
            duty=self.duty,
            plastic=self.plastic,
        )


def load_job(path: str | Path) -> Job:
    """The job in a TOML file. Raises JobError for anything that makes no sound hinge."""
    path = Path(path)
    try:
        return _job(flat(document(path)), path.parent)
    except JobError as error:
        error.path = error.path or path
        raise


def read_job(text: str, folder: Path) -> Job:
    """The job of a text; ``folder`` is where its files are. Raises JobError like load_job."""
    return _job(flat(parsed(text.encode())), folder)


def new_job(family: str) -> str:
    """The text of a job with every value at its default, each with its sentence and its range.

    Raises JobError for a family that there is not.
    """
    from scadgen.text.rendering import template

    cls = family_named(family)
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
    if section == LAYERS.rpartition(".")[0]:
        yield from demands.printer_settings()
    if section == "duty":
        yield from demands.duty_settings(cls.usual_duty())


def flat(document: Mapping[str, Any], sections: Sequence[str] = _SECTIONS) -> dict[str, Any]:
    """All values under their dotted keys. Raises JobError for a section that is no table."""
    found = {}
    for key, value in document.items():
        if isinstance(value, dict) and key in sections:
            found.update({f"{key}.{toml_key(inner)}": deep for inner, deep in value.items()})
        elif key in sections:
            raise JobError(f"{key}: it must be a table, headed by [{key}].", key)
        else:
            found[toml_key(key)] = value
    return found


def _job(found: Mapping[str, Any], folder: Path) -> Job:
    if "family" not in found:
        raise JobError(f"family: missing; it must be one of {_families()}.", "family")
    cls = family_named(found["family"])
    keys = job_keys(cls)
    refuse_unknown(found, keys)
    given = texts(found)
    heights = demands.layer_heights(found)
    duty = demands.duty(found, cls.usual_duty())
    values = {name: found[key] for name, key in keys.items() if key in found}
    return Job(
        family=cls.family,
        name=_name(cls, given["name"] or _default_name(cls)),
        title=given["title"],
        note=given["note"],
        layer_heights=heights,
        hinge=_hinge(cls, values, max(heights)),
        population=demands.population(found, folder),
        duty=duty,
        plastic=demands.plastic(found, folder) if duty else None,
    )


def _hinge(cls: type[Hinge], values: Mapping[str, Any], layer: float) -> Hinge:
    keys = job_keys(cls) | {"layer": LAYERS}
    refuse_words(cls, values)
    try:
        return cls(**values, layer=layer)
    except HingeError as error:
        key = keys[error.param]
        works = error.works.items()
        changes: dict[str, Any] = {keys[n]: [v] if n == "layer" else v for n, v in works}
        error.works = changes
        words = f"{key} = {shown(error.value)}{error.unit}; {error.rule}{error.remedy}"
        raise JobError(words, key) from None


def refuse_words(cls: type[Hinge], values: Mapping[str, Any]) -> None:
    """Raise JobError for the first value of a field that is no number."""
    fields, keys = bounds(cls), job_keys(cls)
    for name, value in values.items():
        if not is_number(value):
            words = f"it must be a number, such as {number(fields[name].default)}"
            raise JobError(f"{keys[name]} = {toml(value)}; {words}.", keys[name])


def family_named(name: object) -> type[Hinge]:
    """The family of that name. Raises JobError for any other."""
    if isinstance(name, str) and name in all_families():
        return all_families()[name]
    close = closest(str(name), all_families())
    hint = f"did you mean {close}? " if close else ""
    words = f"family = {toml(name)}; {hint}It must be one of {_families()}."
    raise JobError(words, "family")


def _families() -> str:
    return ", ".join(all_families())


def refuse_unknown(
    found: Mapping[str, Any], keys: Mapping[str, str], more: Sequence[str] = ()
) -> None:
    """Raise JobError for the first key that does nothing; ``keys`` are those of fields."""
    known = ("family", *_TEXTS, *demands.KEYS, *more, *keys.values())
    for key in found:
        if key not in known:
            raise JobError(f"{key}: no such key{_did_you_mean(key, keys, known)}.", key)


def texts(found: Mapping[str, Any]) -> dict[str, str]:
    """The free texts of a job; empty where left out."""
    return {key: _text(key, found.get(key, "")) for key in _TEXTS}


def _did_you_mean(key: str, keys: Mapping[str, str], known: Sequence[str]) -> str:
    """A hint at the key whose last word, or whose field, is most like that of ``key``."""
    words = {word.rpartition(".")[2]: word for word in known} | dict(keys)
    close = closest(key.rpartition(".")[2], words)
    return f"; did you mean {words[close]}?" if close else f"; there are {', '.join(known)}"


def _text(key: str, value: object) -> str:
    if not isinstance(value, str):
        raise JobError(f"{key} = {toml(value)}; it must be text in quotes.", key)
    if len(value) > LONGEST:
        words = f"{len(value)} characters; it must be at most {LONGEST}"
        raise JobError(f"{key}: {words}. Put the rest into a file of its own.", key)
    return value


def _default_name(cls: type[Hinge]) -> str:
    return f"my_{cls.family}"


def _name(cls: type[Hinge], name: str) -> str:
    """``name`` if it can be the stem of files beside the family's own module."""
    if _is_stem(name):
        return name
    close = re.sub(r"[^A-Za-z0-9]+", "_", name).strip("_")
    works = close if _is_stem(close) else _default_name(cls)
    taken = name.lower() if name.lower() in all_families() else cls.family
    taken = name if names.is_device(name) else taken
    rule = f"it must be at most {_STEM} letters, digits and '_', a letter first, and not {taken}"
    raise JobError(f"name = {toml(name)}; {rule}. This works: {works}.", "name")


def _is_stem(name: str) -> bool:
    taken = name.lower() in all_families() or names.is_device(name)
    return not taken and re.fullmatch(rf"[A-Za-z][A-Za-z0-9_]{{0,{_STEM - 1}}}", name) is not None
