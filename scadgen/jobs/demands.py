"""What a job asks beyond the hinge's own values: printers, plastic, and duty."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.jobs.keys import (
    CLOSING,
    DUTY,
    FLEET,
    INFILL,
    LAYERS,
    LINE_WIDTH,
    MATERIAL,
    PLASTIC,
    WALLS,
    printer_keys,
)
from scadgen.proof.fleet.population import POPULATIONS, Population, Shares
from scadgen.proof.heights import LINE, layer_height
from scadgen.strength.duty import Duty, DutyError
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml

if TYPE_CHECKING:
    from scadgen.strength.filling import Filling
    from scadgen.strength.materials import Plastic


def line_width(found: Mapping[str, Any]) -> float:
    """The line width that is given, mm; the usual one where none is, or none that can be."""
    width = found[LINE_WIDTH]
    return float(width) if LINE.accepts(width) else LINE.default


def layer_heights(found: Mapping[str, Any]) -> tuple[float, ...]:
    """The layer heights, mm. Raises JobError for what is none, with one that the lines print."""
    line = line_width(found)
    return tuple(layer_height(LAYERS, height, line) for height in found[LAYERS])


def population(found: Mapping[str, Any], folder: Path) -> Population:
    """The fleet that is named, or in the file of that path from ``folder``.

    All its slicers close the gaps that the job says, where it says so.
    """
    fleet, radius = _fleet(found[FLEET], folder), found[CLOSING]
    if radius is None:
        return fleet
    return replace(fleet, closing=Shares((float(radius),), (1,), "the job says so"))


def _fleet(name: str, folder: Path) -> Population:
    if name in POPULATIONS:
        return POPULATIONS[name]
    from scadgen.proof.fleet.reading import load_population

    return load_population(_file(FLEET, name, folder))


def refuse_product(document: Mapping[str, Any]) -> None:
    """Raise JobError for the document of a product, which is no job."""
    if "bodies" in document:
        words = "this is a product of bodies and joints, and no job; prove it by scadgen product"
        raise JobError(f"bodies: {words}.", "bodies")


def duty(found: Mapping[str, Any], usual: Duty) -> Duty | None:
    """The duty, values left out as in the usual one; None where nothing is said of one."""
    given = {name: found[key] for key, name in DUTY.items() if found[key] is not None}
    if not given and found[MATERIAL] is None:
        return None
    try:
        return replace(usual, **given)
    except DutyError as error:
        raise JobError(f"duty.{error.words}", f"duty.{error.key}") from None


def filling(found: Mapping[str, Any], folder: Path) -> Filling:
    """How solid it prints: walls and infill that are given, or those of the weakest printers."""
    weakest = population(found, folder).filling(line_width(found))
    walls, infill = found[WALLS], found[INFILL]
    return replace(
        weakest,
        walls=weakest.walls if walls is None else int(walls),
        infill=weakest.infill if infill is None else infill / 100,
    )


def plastic(found: Mapping[str, Any], folder: Path) -> Plastic:
    """The plastic that is named, or in the file of that path from ``folder``, as it prints.

    Raises JobError for none: what a hinge bears is asked, and no plastic is guessed.
    """
    from scadgen.strength.materials import load_material, material

    name = found[MATERIAL]
    if name is None:
        rule = next(key.kind.rule(MATERIAL) for key in printer_keys() if key.name == MATERIAL)
        words = f"missing; what it bears depends on its plastic: {rule}."
        raise JobError(f"{MATERIAL}: {words} This works: {MATERIAL} = {toml(PLASTIC)}.", MATERIAL)
    solid = filling(found, folder)
    if name.endswith(".toml"):
        return replace(load_material(_file(MATERIAL, name, folder)), filling=solid)
    try:
        return replace(material(name), filling=solid)
    except JobError as error:
        raise JobError(f"{MATERIAL} = {toml(name)}; {error.words}", MATERIAL) from None


def _file(name: str, value: str, folder: Path) -> Path:
    """The file that a key names, from the folder of the job on."""
    try:
        found = (folder / value).is_file()
    except (OSError, ValueError):  # a text that is no path at all
        found = False
    if not found:
        rule = next(key.kind.rule(name) for key in printer_keys() if key.name == name)
        raise JobError(f"{name} = {toml(value)}; no such file; {rule}.", name)
    return folder / value
