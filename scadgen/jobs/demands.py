"""What a job asks beyond the hinge's own values: printers, plastic, duty, and how the part lies."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.proof.fleet.population import POPULATIONS, ROUGH, Population
from scadgen.proof.heights import LAYER, LAYER_HEIGHTS, LINE, layer_height
from scadgen.strength.duty import QUANTITIES, Duty, DutyError
from scadgen.tables.documents import JobError, is_number
from scadgen.text.numbers import shown
from scadgen.text.quoting import toml
from scadgen.trees.to_scad import number

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

LAYERS, FLEET, MATERIAL = "printers.layer_heights", "printers.fleet", "printers.material"
LINE_WIDTH = "printers.line_width"
#: By the key of a job, the value of a duty that it sets.
DUTY = {f"duty.{name}": name for name in Duty.__dataclass_fields__}
#: All keys that this file reads.
KEYS = (LAYERS, FLEET, MATERIAL, *DUTY)
FLEETS = " or ".join(toml(name) for name in POPULATIONS) + ", or the path of a file"

_PLASTIC = "petg"


def printer_settings() -> Iterator[str]:
    """The lines of a job that say what it is printed on."""
    yield f"# {LAYER.sentence}: each one listed has to do; {LAYER.words}"
    yield f"layer_heights = {list(LAYER_HEIGHTS)}"
    yield f"# Printers that nobody here controls: {FLEETS}"
    yield f'fleet = "{ROUGH.name}"'
    yield "# Plastic, to prove what it bears: a name, or the path of a file"
    yield f'# material = "{_PLASTIC}"'


def duty_settings(usual: Duty) -> Iterator[str]:
    """The lines of a job that say what the hinge has to bear; left out, no strength is asked."""
    for name, quantity in QUANTITIES.items():
        yield f"# {quantity.sentence}"
        yield f"# {name} = {number(getattr(usual, name))}"


def layer_heights(found: Mapping[str, Any]) -> tuple[float, ...]:
    """The layer heights that are listed, or else the usual ones, mm. Raises JobError."""
    value = found.get(LAYERS, list(LAYER_HEIGHTS))
    if not isinstance(value, list) or not value:
        words = f"it must be a list of heights in mm. This works: {list(LAYER_HEIGHTS)}."
        raise JobError(f"{LAYERS} = {toml(value)}; {words}", LAYERS)
    line = found.get(LINE_WIDTH)
    width = float(line) if is_number(line) and LINE.accepts(line) else LINE.default
    return tuple(layer_height(LAYERS, height, width) for height in value)


def population(found: Mapping[str, Any], folder: Path) -> Population:
    """The fleet that is named, or in the file of that path from ``folder``; rough without any."""
    value = found.get(FLEET, ROUGH.name)
    if isinstance(value, str) and value in POPULATIONS:
        return POPULATIONS[value]
    from scadgen.proof.fleet.reading import load_population

    return load_population(_file(FLEET, value, folder, FLEETS))


def duty(found: Mapping[str, Any], usual: Duty) -> Duty | None:
    """The duty, values left out as in the usual one; None where nothing is said of one."""
    given = {name: found[key] for key, name in DUTY.items() if key in found}
    for name, value in given.items():
        if not is_number(value):
            words = f"it must be a number, such as {shown(getattr(Duty(), name))}"
            raise JobError(f"duty.{name} = {toml(value)}; {words}.", f"duty.{name}")
    if not given and MATERIAL not in found:
        return None
    try:
        return replace(usual, **given)
    except DutyError as error:
        raise JobError(f"duty.{error.words}", f"duty.{error.key}") from None


def plastic(found: Mapping[str, Any], folder: Path) -> Plastic:
    """The plastic that is named, or in the file of that path from ``folder``; else PETG."""
    from scadgen.strength.materials import load_material, material, materials

    value = found.get(MATERIAL, _PLASTIC)
    if isinstance(value, str) and not value.endswith(".toml"):
        try:
            return material(value)
        except JobError as error:
            raise JobError(f"{MATERIAL} = {toml(value)}; {error.words}", MATERIAL) from None
    named = ", ".join(map(toml, materials()))
    return load_material(_file(MATERIAL, value, folder, f"{named}, or the path of a file"))


def _file(key: str, value: object, folder: Path, rule: str) -> Path:
    """The file that a key names, from the folder of the job on."""
    if not isinstance(value, str) or not value:
        raise JobError(f"{key} = {toml(value)}; it must be {rule}.", key)
    try:
        found = (folder / value).is_file()
    except (OSError, ValueError):  # a text that is no path at all
        found = False
    if not found:
        raise JobError(f"{key} = {toml(value)}; no such file; it must be {rule}.", key)
    return folder / value
