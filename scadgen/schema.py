"""Jobs as a JSON Schema (draft 2020-12), from which editors complete and check keys.

It holds what each value may be alone. The rules between values are not in it: a job that the
schema allows can still be refused.
"""

from __future__ import annotations

from typing import Any

from scadgen.family import Bounds, Hinge, all_families, bounds
from scadgen.jobs import _LAYERS, _TEXTS, LAYER, _default_name, _family, job_keys
from scadgen.proof.verdict import LAYER_HEIGHTS

Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"

_SENTENCES = {
    "name": "Stem of the files that are written: letters, digits and '_', a letter first",
    "title": "Heading of the report and the call",
    "note": "Free text for the report and the call",
}


def job_schema(family: str | None = None) -> Schema:
    """The schema of a family's jobs; without a family that of all jobs, which turns on ``family``.

    Raises JobError for a family that there is not.
    """
    if family is not None:
        cls = _family(family)
        return {"$schema": DRAFT, "title": f"scadgen job: {cls.title}", **_job_of(cls)}
    families = all_families()
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
        "properties": {"family": {"description": "Family of the hinge", "enum": list(families)}},
        "allOf": turns,
        "$defs": {name: _job_of(cls) for name, cls in families.items()},
    }


def _job_of(cls: type[Hinge]) -> Schema:
    """Every key that a job of the family may have, in its table, and no other."""
    fields = bounds(cls)
    job = _table({"family": {"description": cls.title, "const": cls.family}})
    for key in _TEXTS:
        job["properties"][key] = {"description": _SENTENCES.get(key, key), "type": "string"}
    job["properties"]["name"] |= _stem(cls)
    for name, key in job_keys(cls).items():
        _put(job, key, _value(fields[name]))
    heights = _list_of(_value(LAYER), list(LAYER_HEIGHTS))
    _put(job, _LAYERS, heights)
    return job | {"required": ["family"]}


def _put(job: Schema, key: str, value: Schema) -> None:
    """Put a value under its dotted key; the table before the dot is made if need be."""
    table, _, leaf = key.rpartition(".")
    properties = job["properties"]
    if table:
        properties = properties.setdefault(table, _table({}))["properties"]
    properties[leaf] = value


def _table(properties: Schema) -> Schema:
    return {"type": "object", "additionalProperties": False, "properties": properties}


def _list_of(items: Schema, default: list[float]) -> Schema:
    description = f"{items['description']} Each one listed has to do."
    one = {fact: said for fact, said in items.items() if fact != "default"}
    return {
        "description": description,
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


def _stem(cls: type[Hinge]) -> Schema:
    """What ``name`` may be: a stem, left empty for the default, and never the family's own."""
    own = "".join(f"[{c}{c.upper()}]" if c.isalpha() else c for c in cls.family)
    return {
        "pattern": "^([A-Za-z][A-Za-z0-9_]*)?$",
        "not": {"pattern": f"^{own}$"},
        "default": _default_name(cls),
    }
