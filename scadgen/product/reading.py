"""Products out of TOML.

``name``, ``title`` and ``note`` stand at the top; ``[bodies.NAME]`` tells a body, ``[joints.NAME]``
a joint and ``[catches.NAME]`` a catch with the keys of a job; ``[printers]`` and ``[duty]`` are
those of all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge, all_families
from scadgen.jobs import demands
from scadgen.jobs.job import values_of
from scadgen.jobs.keys import (
    DUTY,
    LINE_WIDTH,
    MATERIAL,
    TEXTS,
    family_key,
    job_keys,
    keys_of,
    printer_keys,
    usual_duty,
)
from scadgen.product.bodies import EDGES, FORMS, SIDES, Form, Scad
from scadgen.product.building import settled
from scadgen.product.catching import CATCH
from scadgen.product.drawing import draw
from scadgen.product.model import Place, Product, ProductCatch, ProductJoint
from scadgen.product.names import refuse_name
from scadgen.product.repeating import repeated
from scadgen.product.unused import refuse_both
from scadgen.proof.heights import LINE
from scadgen.sizing.postures import POSTURES
from scadgen.sizing.wish import YesNo
from scadgen.strength.duty import QUANTITIES, Duty
from scadgen.tables.documents import JobError
from scadgen.tables.kinds import AnyTable, Number, OneOf, Text, refusal
from scadgen.tables.limits import Limits, is_finite
from scadgen.tables.reading import Key, load_with_text, read, read_one
from scadgen.text.quoting import toml_key

if TYPE_CHECKING:
    from scadgen.openscad.bounds import Bounds

BED = "printers.bed"
#: The joint's keys that are the same for every family.
EDGE = OneOf(tuple(EDGES), "the side on which it sits")
OFFSET = Number(Limits("mm", -1000, 1000, 0, "Along that side, from its middle"))
COPIES = Limits("", 1, 30, 1, "How often it is there, chained by a joint", whole=True)
#: Those of them that a joint has under the same names.
_OWN = ("edge", "moving_edge", "offset", "closes", "with_others", "find", "posture")
JOINT = Text("the name of the joint whose axis it shares", filled=True)
CATCHES = OneOf(tuple(name for name, cls in all_families().items() if cls.serves == CATCH))
SCALE = Number(Limits("", 1e-3, 1000, 1, "Millimetres to a unit of the file"))


class Numbers:
    """Some finite numbers: ``what`` they must be in words, ``works`` such a list.

    least: what each is above; holds: what the first and the last have between them.
    """

    def __init__(
        self,
        what: str,
        works: list[float],
        least: float | None = None,
        holds: float | None = None,
    ) -> None:
        self.what, self.works, self.least, self.holds = what, works, least, holds

    def schema(self) -> dict[str, Any]:
        """What it accepts, as a JSON Schema."""
        count = len(self.works)
        number: dict[str, Any] = {"type": "number"}
        if self.least is not None:
            number["exclusiveMinimum"] = self.least
        return {"type": "array", "items": number, "minItems": count, "maxItems": count}

    def rule(self, key: str) -> str:
        return f"it must be {self.what}"

    def read(self, key: str, value: Any) -> tuple[float, ...]:
        whole = isinstance(value, list) and len(value) == len(self.works)
        if not whole or not all(map(is_finite, value)):
            raise refusal(self, key, value, f"This works: {self.works}.")
        outside = self.holds is not None and not value[0] <= self.holds <= value[-1]
        if outside or (self.least is not None and min(value) <= self.least):
            raise refusal(self, key, value, f"This works: {self.works}.")
        return tuple(map(float, value))


class Names:
    """Names in a list, which may be empty."""

    def schema(self) -> dict[str, Any]:
        """What it accepts, as a JSON Schema."""
        return {"type": "array", "items": {"type": "string"}}

    def rule(self, key: str) -> str:
        return "it must be a list of names of joints, each in quotes, or empty for one at a time"

    def read(self, key: str, value: Any) -> tuple[str, ...]:
        if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
            raise refusal(self, key, value, "This works: [].")
        return tuple(value)


PLACE = Numbers(
    "[x, y, way]: a point of the axis, mm, and the way to the moving body, deg", [0, 20, 90]
)
AT = Numbers("[x, y], mm", [0, 0])
WITH_OTHERS = Numbers(
    "[from, to], deg, with 0 between them: how far it is turned while others are",
    [-30, 30],
    holds=0,
)
BED_SIZE = Numbers("[x, y], mm, above 0", [180, 180], 0)


def load_product(path: str | Path, bounds: Bounds | None = None) -> Product:
    """The product in a TOML file; ``bounds``: what OpenSCAD may take for each of its bodies.

    Raises JobError for anything that makes none.
    """
    return load_with_text(path, partial(_fitted, bounds=bounds))


def _fitted(document: Mapping[str, Any], folder: Path, text: str, bounds: Bounds | None) -> Product:
    """The product of a document with that text, its joints fitted to its bodies."""
    if "family" in document and "bodies" not in document:
        words = "this is a job, of one hinge and no bodies; prove it by scadgen check"
        raise JobError(f"family: {words}.", "family")
    product = read_product(document, folder, bounds)
    refuse_both(document.get("joints", {}))
    settled(product)
    draw(product, Path())  # two of its modules may not have one name
    object.__setattr__(product, "source", text)
    return product


def read_product(
    document: Mapping[str, Any], folder: Path, bounds: Bounds | None = None
) -> Product:
    """The product of a document as it is told; ``folder`` is where its files are, and ``bounds``
    what OpenSCAD may take for each of them.

    Raises JobError for what is wrong by itself; how joints fit bodies is not looked at.
    """
    found = read(document, tuple(product_keys()))
    name = found["name"]
    refuse_name("name", name)
    asked = any(found[key] is not None for key in DUTY if key in found)
    joints = {joint: _joint(joint, table, found) for joint, table in found["joints"].items()}
    catches = {catch: _catch(catch, table, found) for catch, table in found["catches"].items()}
    duties = [each.duty for each in joints.values()] + [each.duty for each in catches.values()]
    asked = asked or any(duties)
    bodies = {body: _body(body, table, folder, bounds) for body, table in found["bodies"].items()}
    copies = {body: table.get("copies", 1) for body, table in found["bodies"].items()}
    bodies, joints = repeated(bodies, copies, joints)
    return Product(
        name=name,
        title=found["title"],
        note=found["note"],
        bodies=bodies,
        joints=joints,
        catches=catches,
        layer_heights=demands.layer_heights(found),
        line_width=demands.line_width(found),
        population=demands.population(found, folder),
        plastic=demands.plastic(found, folder) if asked or found[MATERIAL] else None,
        bed=found[BED],
        order=found["order"],
    )


def product_keys() -> Iterator[Key]:
    """The keys at the top of a product file, and in its tables that are there once."""
    yield Key("name", Text("the stem of the files, in quotes", filled=True), needed=True)
    yield from (Key(name, Text(), default="") for name in TEXTS if name != "name")
    yield Key("bodies", AnyTable(), needed=True)
    yield Key("joints", AnyTable(), default={})
    yield Key("catches", AnyTable(), default={})
    yield Key("order", Names())
    yield Key(LINE_WIDTH, Number(LINE), default=LINE.default)
    yield from printer_keys()
    yield Key(BED, BED_SIZE)
    yield from (Key(key, Number(QUANTITIES[name])) for key, name in DUTY.items())


def _body(name: str, table: object, folder: Path, bounds: Bounds | None) -> Form:
    within = f"bodies.{toml_key(name)}"
    refuse_name(within, name)
    table = AnyTable().read(within, table)
    form = FORMS[
        read_one(_at(table, within), Key(f"{within}.form", OneOf(tuple(FORMS)), needed=True))
    ]
    found = read(table, tuple(body_keys(form)), within)
    del found["form"], found["copies"]
    if found.get("file") is not None:
        found["file"] = folder / found["file"]
    if form is Scad:
        found["bounds"] = bounds
    try:
        return form(**{key: value for key, value in found.items() if value is not None})
    except JobError as error:
        raise JobError(f"{within}.{error.words}", f"{within}.{error.key}") from None


def _at(table: Mapping[str, Any], within: str) -> dict[str, Any]:
    """The values of a table under their whole keys."""
    return {f"{within}.{key}": value for key, value in table.items()}


def body_keys(form: type[Form]) -> Iterator[Key]:
    """The keys of a body of a form."""
    names = {field.name for field in fields(form)}
    yield Key("form", OneOf(tuple(FORMS)), needed=True)
    yield from (
        Key(side, Number(limits), needed=True, sentence=limits.sentence)
        for side, limits in SIDES.items()
        if side in names
    )
    if "file" in names:
        yield Key("file", Text("the path of a file", filled=True), needed=True)
    if "module" in names:
        yield Key("module", Module(), needed=True)
    if "scale" in names:
        yield Key("scale", SCALE)
    yield Key("at", AT)
    yield Key("turn", Number(Limits("deg", -360, 360, 0, "Turn about the upright")))
    yield Key("loose", YesNo())
    yield Key("copies", Number(COPIES))


class Module(Text):
    """The name of an OpenSCAD module."""

    def rule(self, key: str) -> str:
        return "it must be the name of a module: letters, digits and '_'"

    def read(self, key: str, value: Any) -> str:
        if not isinstance(value, str) or not value.isidentifier() or not value.isascii():
            raise refusal(self, key, value)
        return value


def _joint(name: str, table: object, common: Mapping[str, Any]) -> ProductJoint:
    within = f"joints.{toml_key(name)}"
    refuse_name(within, name)
    table = AnyTable().read(within, table)
    family = read_one(_at(table, within), Key(f"{within}.family", family_key().kind))
    cls = all_families()[family] if family else Hinge
    found = read(table, tuple(joint_keys(cls)), within)
    known = {key: found.get(key) for key in job_keys(cls).values()}
    values = values_of(cls, known)
    values.pop("line_width", None)
    given = {key: found[key] for key in _OWN}
    places = {key: found[key] and Place(**_named(found[key])) for key in ("place", "moving_place")}
    return ProductJoint(
        family=cls,
        fixed=found["fixed"],
        moving=found["moving"],
        values=values,
        duty=_duty(within, found, common, usual_duty(cls)),
        **{key: value for key, value in (given | places).items() if value is not None},
    )


def _named(place: tuple[float, float, float]) -> dict[str, float]:
    return dict(zip(("x", "y", "way"), place, strict=True))


def joint_keys(cls: type[Hinge]) -> Iterator[Key]:
    """The keys of a joint of a family; with ``Hinge`` those of one that leaves it open."""
    yield Key("family", family_key().kind)
    for word in ("fixed", "moving"):
        yield Key(word, Text("the name of a body", filled=True), needed=True)
    yield Key("edge", EDGE)
    yield Key("moving_edge", EDGE)
    yield Key("offset", OFFSET)
    yield Key("place", PLACE)
    yield Key("moving_place", PLACE)
    yield Key("closes", YesNo())
    yield Key("with_others", WITH_OTHERS)
    yield Key("find", YesNo())
    yield Key("posture", OneOf(tuple(POSTURES), "the axis upright, or parallel to the bed"))
    yield from _family_keys(cls)


def _family_keys(cls: type[Hinge]) -> Iterator[Key]:
    for key in keys_of(cls):
        if key.name not in ("family", *TEXTS) and key.table != "printers":
            yield key


def _catch(name: str, table: object, common: Mapping[str, Any]) -> ProductCatch:
    within = f"catches.{toml_key(name)}"
    refuse_name(within, name)
    table = AnyTable().read(within, table)
    family = read_one(_at(table, within), Key(f"{within}.family", CATCHES, needed=True))
    cls = all_families()[family]
    found = read(table, tuple(catch_keys(cls)), within)
    values = values_of(cls, {key: found.get(key) for key in job_keys(cls).values()})
    values.pop("line_width", None)
    duty = _duty(within, found, common, usual_duty(cls))
    return ProductCatch(
        family=cls, on=found["on"], values=values, offset=found["offset"], duty=duty
    )


def catch_keys(cls: type[Hinge]) -> Iterator[Key]:
    """The keys of a catch of a family."""
    yield Key("family", CATCHES, needed=True)
    yield Key("on", JOINT, needed=True)
    yield Key("offset", OFFSET)
    yield from _family_keys(cls)


def _duty(
    within: str, found: Mapping[str, Any], common: Mapping[str, Any], usual: Duty
) -> Duty | None:
    """What a joint bears: its own values before the product's; None where nothing is asked."""
    both = {key: common[key] if found[key] is None else found[key] for key in DUTY}
    try:
        return demands.duty(both | {MATERIAL: common[MATERIAL]}, usual)
    except JobError as error:
        own = error.key is not None and found.get(error.key) is not None
        prefix = f"{within}." if own else ""
        raise JobError(f"{prefix}{error.words}", f"{prefix}{error.key}") from None
