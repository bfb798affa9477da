"""The keys of a job, each declared once: the reader, the schema and a new job's text go by them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.proof.fleet import reading
from scadgen.proof.fleet.population import POPULATIONS, ROUGH
from scadgen.proof.heights import LAYER, LAYER_HEIGHTS
from scadgen.strength.duty import QUANTITIES, Duty
from scadgen.strength.materials import materials
from scadgen.tables.kinds import AnyNumber, ListOf, Number, OneOf, Text
from scadgen.tables.reading import Key
from scadgen.text.quoting import toml

SECTIONS = ("size", "printers", "duty")
TEXTS = ("name", "title", "note")
LAYERS, FLEET, MATERIAL = "printers.layer_heights", "printers.fleet", "printers.material"
LINE_WIDTH, WALLS, INFILL = "printers.line_width", "printers.walls", "printers.infill"
CLOSING = "printers.closing_radius"
#: The plastic that examples name; none is ever guessed.
PLASTIC = "petg"
#: By the key of a job, the value of a duty that it sets.
DUTY = {f"duty.{name}": name for name in QUANTITIES}

#: Fields whose key is not ``size.<field>``.
_KEYS = {"clearance": "clearance", "line_width": LINE_WIDTH, "swing": "duty.angle"}
#: Fields without a key: a job proves and writes the hinge as it prints, and the thickest of its
#: layer heights is the hinge's own.
_NO_KEYS = ("angle", "layer")


def job_keys(cls: type[Hinge]) -> dict[str, str]:
    """For each field that a job sets, the dotted key that sets it."""
    return {name: _KEYS.get(name, f"size.{name}") for name in bounds(cls) if name not in _NO_KEYS}


def family_key(needed: bool = True) -> Key:
    """The key that names the family."""
    return Key("family", OneOf(tuple(all_families())), needed=needed)


def usual_duty(cls: type[Hinge]) -> Duty:
    """What the family is usually asked for; with ``Hinge``, as long as there is no family yet."""
    return Duty() if cls is Hinge else cls.usual_duty()


def keys_of(cls: type[Hinge], number: type[Number] = AnyNumber) -> Iterator[Key]:
    """All keys of a family's jobs.

    ``number`` is the kind of its fields: a job leaves their ranges to the hinge, whose refusal
    tells all that has to change with them.
    """
    yield family_key(needed=False)
    yield from (Key(name, Text(), default="") for name in TEXTS)
    for field, key in job_keys(cls).items():
        limits = bounds(cls)[field]
        sentence = f"{limits.meaning}; {limits.words}"
        yield Key(key, number(limits), sentence=sentence, usual=limits.initial, also=field)
    yield from printer_keys()
    duty = usual_duty(cls)
    for key, name in DUTY.items():
        asked = replace(QUANTITIES[name], default=getattr(duty, name))
        yield Key(key, Number(asked), sentence=asked.sentence, usual=asked.default)


def printer_keys() -> Iterator[Key]:
    """The keys that say what it is printed on, and of what.

    Which heights work depends on the line width: ``demands.layer_heights`` holds them against it.
    """
    height = replace(LAYER, default=min(LAYER_HEIGHTS))  # lines of any width print that
    heights = ListOf(AnyNumber(height), "a list of heights in mm", LAYER_HEIGHTS)
    sentence = f"{LAYER.sentence}: each one listed has to do; {LAYER.words}"
    yield Key(LAYERS, heights, LAYER_HEIGHTS, sentence=sentence)
    fleets = _or_a_file(" or ".join(map(toml, POPULATIONS)))
    sentence = f"Printers that nobody here controls: {fleets}"
    yield Key(FLEET, Text(fleets, filled=True), ROUGH.name, sentence=sentence)
    settings = (
        (WALLS, reading.WALLS, "Walls around each outline, else the fleet's fewest"),
        (INFILL, reading.INFILL, "Infill between walls, else the fleet's least"),
        (CLOSING, reading.CLOSING, "Radius by which the slicer closes gaps, else the fleet's"),
    )
    for key, limits, sentence in settings:
        yield Key(key, Number(limits), sentence=f"{sentence}; {limits.words}")
    plastics = _or_a_file(", ".join(map(toml, materials())))
    sentence = "Plastic, which a duty needs: a name, or the path of a file"
    yield Key(MATERIAL, Text(plastics, filled=True), sentence=sentence, usual=PLASTIC)


def _or_a_file(named: str) -> str:
    return f"{named}, or the path of a file"
