"""Jobs as a JSON Schema (draft 2020-12), from which editors complete and check keys.

It holds what each value may be alone. The rules between values are not in it: a job that the
schema allows can still be refused.
"""

from __future__ import annotations

from typing import Any

from scadgen.hinge.family import Bounds, all_families
from scadgen.jobs.job import default_name, family_named
from scadgen.jobs.keys import keys_of
from scadgen.tables.kinds import Described, Kind, ListOf, Number, OneOf
from scadgen.tables.reading import Key

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
    """Every key that a job of the family may have, in its table, and no other."""
    cls = family_named(family)
    job = table({})
    for key in keys_of(cls):
        put(job, key)
    job["properties"]["family"] = {"description": cls.title, "const": family}
    job["properties"]["name"] |= _stem(family) | {"default": default_name(cls)}
    return job | {"required": ["family"]}


def put(job: Schema, key: Key) -> None:
    """Put what a key accepts under its name; the table before the dot is made if need be."""
    properties = job["properties"]
    if key.table:
        properties = properties.setdefault(key.table, table({}))["properties"]
    properties[key.word] = _kind(key.kind)
    if key.sentence:
        properties[key.word]["description"] = key.sentence
    if key.example is not None:
        usual = key.example
        properties[key.word]["default"] = list(usual) if isinstance(usual, tuple) else usual


def table(properties: Schema) -> Schema:
    return {"type": "object", "additionalProperties": False, "properties": properties}


def _kind(kind: Kind) -> Schema:
    """What a kind of value accepts; what is no number and no list is text."""
    if isinstance(kind, Described):
        return kind.schema()
    if isinstance(kind, OneOf):
        return {"enum": list(kind.options)}
    if isinstance(kind, ListOf):
        return {"type": "array", "minItems": 1, "items": _kind(kind.kind)}
    if not isinstance(kind, Number):
        return {"type": "string"}
    limits = kind.limits
    extent: Schema = {"minimum": limits.low, "maximum": limits.high}
    if isinstance(limits, Bounds) and limits.automatic:
        extent = {"anyOf": [{"const": 0}, extent]}
    extent = {"title": limits.sentence} | extent
    if limits.whole:
        return {"type": "integer", "multipleOf": limits.step} | extent
    return {"type": "number"} | extent


def _stem(family: str) -> Schema:
    """What ``name`` may be: a stem, left empty for the default, and never the family's own."""
    own = "".join(f"[{c}{c.upper()}]" if c.isalpha() else c for c in family)
    return {
        "description": "Stem of the files that are written, not the family's name",
        "pattern": "^([A-Za-z][A-Za-z0-9_]*)?$",
        "not": {"pattern": f"^{own}$"},
    }
