"""Jobs: what a maker asks for, read from TOML.

``family``, ``name``, ``title``, ``note`` and ``clearance`` stand at the top; ``[size]`` holds the
family's other fields; ``[printers]`` and ``[duty]`` say what it is printed on and has to do. A key
left out keeps its default, and a key that does nothing is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Verdict
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.hinge.rules import HingeError
from scadgen.jobs import demands
from scadgen.jobs.keys import LAYERS, SECTIONS, family_key, keys_of, usual_duty
from scadgen.jobs.keys import job_keys as job_keys
from scadgen.keeping import names
from scadgen.proof import verdict
from scadgen.proof.fleet.population import ROUGH, Population
from scadgen.strength.asked import unanswered
from scadgen.strength.duty import Duty
from scadgen.tables.documents import JobError as JobError
from scadgen.tables.documents import parsed
from scadgen.tables.limits import is_number
from scadgen.tables.reading import load, read, read_one
from scadgen.text.numbers import shown
from scadgen.text.quoting import plain, toml
from scadgen.trees.to_scad import number

if TYPE_CHECKING:
    from scadgen.elements.arms import Flexed
    from scadgen.elements.judged import Bent, Judged
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.strength.materials import Plastic

_STEM = 64  # longest name in characters


@dataclass(frozen=True)
class Job:
    """A hinge that is wanted, and the printers that must manage it.

    ``name`` is the stem of the written files; ``title`` and ``note`` are free text, never more
    than data; ``layer_heights`` are in mm; ``population`` is the fleet of printers that make it;
    ``duty`` and ``plastic`` are None where the job asks for no strength. A plastic that tells no
    walls and infill is printed with those of the fleet's weakest printers.
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

    def __post_init__(self) -> None:
        if self.plastic is not None:
            printed = self.population.printed(self.plastic, self.hinge.line_width)
            object.__setattr__(self, "plastic", printed)

    @property
    def heading(self) -> str:
        """What stands above all that tells of it, on one line: its title, or else its name."""
        return plain(self.title) or plain(self.name)

    @property
    def unanswered(self) -> tuple[str, ...]:
        """What its duty asks and its family or its plastic does not answer, each in a sentence."""
        if self.duty is None:
            return ()
        return tuple(map(str, unanswered(type(self.hinge), self.duty, self.plastic)))

    def prove(
        self,
        progress: Callable[[str], None] | None = None,
        *,
        whole: Mechanism | None = None,
        solid: bool | Callable[[Judged | Bent | Flexed], None] = False,
    ) -> Verdict:
        """What the proof of its hinge finds; ``progress`` is told what is being measured.

        ``whole``: the mechanism of its hinge, where it is made already. ``solid``: its shape is
        loaded by finite elements, too, and a function given there is told what they found. Raises
        JobError where that cannot be.
        """
        if solid:
            self._can_be_loaded()
        return verdict.check(
            self.hinge,
            self.layer_heights,
            progress,
            population=self.population,
            duty=self.duty,
            plastic=self.plastic,
            whole=whole,
            solid=solid,
        )

    def _can_be_loaded(self) -> None:
        from scadgen.elements.of_hinge import refusal

        if self.duty is None or self.plastic is None:
            raise JobError(f"{self.name}: solid: it asks for no duty. Give it [duty], load = 3.")
        if why := refusal(self.hinge, self.duty, self.plastic):
            raise JobError(f"{self.name}: solid: {why}")


def load_job(path: str | Path) -> Job:
    """The job in a TOML file. Raises JobError for anything that makes no sound hinge."""
    return load(path, _job)


def read_job(text: str, folder: Path) -> Job:
    """The job of a text; ``folder`` is where its files are. Raises JobError like load_job."""
    return _job(parsed(text.encode()), folder)


def new_job(family: str) -> str:
    """The text of a job with every value at its default, each with its sentence and its range.

    Raises JobError for a family that there is not.
    """
    from scadgen.text.rendering import template

    cls = family_named(family)
    sections = {section: list(_settings(cls, section)) for section in ("", *SECTIONS)}
    return template("job.toml.j2").render(cls=cls, name=default_name(cls), sections=sections)


def _settings(cls: type[Hinge], section: str) -> Iterator[str]:
    """The lines of a section: above each value its sentence, a blank line between groups."""
    fields = {key: bounds(cls)[name] for name, key in job_keys(cls).items()}
    before = None
    for key in keys_of(cls):
        if key.table == section and key.sentence:
            field = fields.get(key.name)
            if field and before and field.group != before.group:
                yield ""
            before = field
            yield f"# {key.sentence}"
            value = number(key.example) if is_number(key.example) else toml(key.example)
            off = "" if field or key.default else "# "
            yield f"{off}{key.word} = {value}"


def family_named(name: object) -> type[Hinge]:
    """The family of that name. Raises JobError for any other."""
    return all_families()[family_key().kind.read("family", name)]


def _job(document: Mapping[str, Any], folder: Path) -> Job:
    demands.refuse_product(document)
    cls = all_families()[read_one(document, family_key())]
    found = read(document, tuple(keys_of(cls)))
    heights = demands.layer_heights(found)
    duty = demands.duty(found, usual_duty(cls))
    return Job(
        family=cls.family,
        name=_name(cls, found["name"] or default_name(cls)),
        title=found["title"],
        note=found["note"],
        layer_heights=heights,
        hinge=_hinge(cls, values_of(cls, found), max(heights)),
        population=demands.population(found, folder),
        duty=duty,
        plastic=demands.plastic(found, folder) if duty else None,
    )


def values_of(cls: type[Hinge], found: Mapping[str, Any]) -> dict[str, Any]:
    """The fields that are given, by name."""
    return {name: found[key] for name, key in job_keys(cls).items() if found[key] is not None}


def _hinge(cls: type[Hinge], values: Mapping[str, Any], layer: float) -> Hinge:
    keys = job_keys(cls) | {"layer": LAYERS}
    try:
        return cls(**values, layer=layer)
    except HingeError as error:
        key = keys[error.param]
        works = error.works.items()
        changes: dict[str, Any] = {keys[n]: [v] if n == "layer" else v for n, v in works}
        error.works = changes
        words = f"{key} = {shown(error.value)}{error.unit}; {error.rule}{error.remedy}"
        raise JobError(words, key) from None


def default_name(cls: type[Hinge]) -> str:
    """The name of a job that gives none."""
    return f"my_{cls.family}"


def _name(cls: type[Hinge], name: str) -> str:
    """``name`` if it can be the stem of files beside the family's own module."""
    if _is_stem(name):
        return name
    close = re.sub(r"[^A-Za-z0-9]+", "_", name).strip("_")
    works = close if _is_stem(close) else default_name(cls)
    taken = name.lower() if name.lower() in all_families() else cls.family
    taken = name if names.is_device(name) else taken
    rule = f"it must be at most {_STEM} letters, digits and '_', a letter first, and not {taken}"
    raise JobError(f"name = {toml(name)}; {rule}. This works: {works}.", "name")


def _is_stem(name: str) -> bool:
    taken = name.lower() in all_families() or names.is_device(name)
    return not taken and re.fullmatch(rf"[A-Za-z][A-Za-z0-9_]{{0,{_STEM - 1}}}", name) is not None
