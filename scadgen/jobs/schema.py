"""Jobs as a JSON Schema (draft 2020-12), from which editors complete and check keys.

It holds what each value may be alone. The rules between values are not in it: a job that the
schema allows can still be refused.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from scadgen.hinge.family import Bounds, all_families, bounds
from scadgen.jobs.demands import DUTY, MATERIAL
from scadgen.jobs.job import job_keys, new_job
from scadgen.proof.heights import LAYER
from scadgen.strength.duty import QUANTITIES

Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def job_schema(family: str | None = None) -> Schema:
    """The schema of a family's jobs; without a family that of all jobs, which turns on ``family``.

    Raises JobError for a family that there is not.
    """
    if family is not None:
        job = _job_of(family)
        return {"$schema": DRAFT, "title": f"scadgen job: {family}", **job}
    families = list(all_families())
    turns = [
        {
            "if": {"properties": {"family": {"const": name}}, "required": ["family"]},
            "then": {"$ref": f"#/$defs/{name}"},
        }
        for name in families
    ]
    return {
        "$schema": DRAFT,
        "title": "scadgen job",
        "type": "object",
        "required": ["family"],
        "properties": {"family": {"description": "Family of the hinge", "enum": families}},
        "allOf": turns,
        "$defs": {name: _job_of(name) for name in families},
    }


def _job_of(family: str) -> Schema:
    """Every key that a job of the family may have, in its table, and no other.

    A new job names them all: those of the fields have the fields' bounds, the others are texts,
    or the list of layer heights.
    """
    new = tomllib.loads(new_job(family))
    cls = all_families()[family]
    fields = {key: bounds(cls)[name] for name, key in job_keys(cls).items()}
    job = _table({"family": {"description": cls.title, "const": family}})
    for key, default in _flat(new):
        if key in fields:
            _put(job, key, _value(fields[key]))
        elif isinstance(default, list):
            _put(job, key, _heights(default))
        elif key != "family":
            _put(job, key, {"type": "string", "default": default})
    _put(job, MATERIAL, {"type": "string", "description": "Plastic: a name, or a file's path"})
    for key, name in DUTY.items():
        limits = QUANTITIES[name]
        extent = {"minimum": limits.low, "maximum": limits.high}
        _put(job, key, {"type": "number", "description": limits.sentence} | extent)
    job["properties"]["name"] |= _stem(family)
    return job | {"required": ["family"]}


def _flat(job: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """All values of a job with their dotted keys."""
    for key, value in job.items():
        if isinstance(value, dict):
            yield from ((f"{key}.{deep}", inner) for deep, inner in value.items())
        else:
            yield key, value


def _put(job: Schema, key: str, value: Schema) -> None:
    """Put a value under its dotted key; the table before the dot is made if need be."""
    table, _, leaf = key.rpartition(".")
    properties = job["properties"]
    if table:
        properties = properties.setdefault(table, _table({}))["properties"]
    properties[leaf] = value


def _table(properties: Schema) -> Schema:
    return {"type": "object", "additionalProperties": False, "properties": properties}


def _heights(default: list[float]) -> Schema:
    """A list of layer heights."""
    one = {fact: said for fact, said in _value(LAYER).items() if fact != "default"}
    words = f"{one['description']} Each one listed has to do."
    return {
        "description": words,
        "type": "array",
        "minItems": 1,
        "items": one,
        "default": default,
    }


def _value(limits: Bounds) -> Schema:
    """What one field accepts."""
    sentence = f"{limits.sentence}; {limits.words}"
    kind = {"type": "integer", "multipleOf": limits.step} if limits.whole else {"type": "number"}
    extent = {"default": limits.default, "minimum": limits.low, "maximum": limits.high}
    return {"title": limits.sentence, "description": sentence} | kind | extent


def _stem(family: str) -> Schema:
    """What ``name`` may be: a stem, left empty for the default, and never the family's own."""
    own = "".join(f"[{c}{c.upper()}]" if c.isalpha() else c for c in family)
    return {
        "description": "Stem of the files that are written, not the family's name",
        "pattern": "^([A-Za-z][A-Za-z0-9_]*)?$",
        "not": {"pattern": f"^{own}$"},
    }
