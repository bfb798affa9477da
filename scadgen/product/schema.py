"""Product files as a JSON Schema (draft 2020-12), from which editors complete and check keys.

It holds what each value may be alone, out of the keys that the reader declares. How joints find
their place on bodies is not in it: a product that the schema allows can still be refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from scadgen.hinge.family import Hinge, all_families
from scadgen.jobs.schema import DRAFT, Schema, put, table
from scadgen.product.bodies import FORMS
from scadgen.product.catching import CATCH
from scadgen.product.names import PATTERN
from scadgen.product.reading import body_keys, catch_keys, joint_keys, product_keys
from scadgen.tables.reading import Key

#: Where the tables of one kind are defined that no word tells apart: a joint without a family.
_OPEN = "joint"


def product_schema() -> Schema:
    """The schema of a product file: bodies by form, joints and catches by family."""
    product = _of(product_keys())
    families = all_families()
    catches = {name: cls for name, cls in families.items() if cls.serves == CATCH}
    product["properties"] |= {
        "bodies": _named("form", {form: f"body_{form}" for form in FORMS}) | {"minProperties": 1},
        "joints": _named("family", {name: f"joint_{name}" for name in families}, _OPEN),
        "catches": _named("family", {name: f"catch_{name}" for name in catches}),
    }
    defined = {f"body_{word}": _of(body_keys(form), form=word) for word, form in FORMS.items()}
    defined |= {f"joint_{n}": _of(joint_keys(cls), family=n) for n, cls in families.items()}
    defined |= {f"catch_{n}": _of(catch_keys(cls), family=n) for n, cls in catches.items()}
    defined[_OPEN] = _of(joint_keys(Hinge))
    head = {"$schema": DRAFT, "title": "scadgen product", **product}
    return head | {"required": ["name", "bodies"], "$defs": defined}


def _of(keys: Iterable[Key], **told: str) -> Schema:
    """A table of some keys; ``told``: those of which the table is for one word only."""
    made, needed = table({}), []
    for key in keys:
        put(made, key)
        if key.needed and not key.table:
            needed.append(key.word)
    for word, value in told.items():
        made["properties"][word] = {"const": value}
    return made | {"required": needed} if needed else made


def _named(key: str, words: Mapping[str, str], else_: str = "") -> Schema:
    """Tables under names of their own, each told apart by a key."""
    turns: list[dict[str, Any]] = [
        {
            "if": {"properties": {key: {"const": word}}, "required": [key]},
            "then": {"$ref": f"#/$defs/{there}"},
        }
        for word, there in words.items()
    ]
    one: Schema = {"type": "object", "properties": {key: {"enum": list(words)}}, "allOf": turns}
    if else_:
        turns.append({"if": {"not": {"required": [key]}}, "then": {"$ref": f"#/$defs/{else_}"}})
    else:
        one["required"] = [key]
    return {
        "type": "object",
        "propertyNames": {"pattern": f"^{PATTERN}$"},
        "additionalProperties": one,
    }
