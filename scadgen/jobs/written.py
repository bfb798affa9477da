"""A job as the text of a file that stands alone: read again, it is the same job."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from scadgen.hinge.automatic import given_values
from scadgen.jobs.keys import (
    CLOSING,
    DUTY,
    FLEET,
    INFILL,
    LAYERS,
    MATERIAL,
    SECTIONS,
    WALLS,
    job_keys,
)
from scadgen.proof.fleet.population import POPULATIONS
from scadgen.text.quoting import toml_string

if TYPE_CHECKING:
    from scadgen.jobs.job import Job
    from scadgen.proof.fleet.population import Population


def job_text(job: Job) -> str:
    """The job in TOML, every value told. "" where its fleet or its plastic is a file of its own."""
    printed = _printers(job)
    if printed is None:
        return ""
    hinge = job.hinge
    keys = job_keys(type(hinge))
    values: dict[str, Any] = {"family": job.family, "name": job.name}
    values |= {"title": job.title, "note": job.note}
    values |= {keys[name]: value for name, value in given_values(hinge).items() if name in keys}
    values |= printed
    if job.duty is not None:
        values |= {key: getattr(job.duty, name) for key, name in DUTY.items()}
    return "".join(f"{line}\n" for line in _lines(values))


def printers_of(job: Job) -> dict[str, Any]:
    """For which printers the job asks, in plain data."""
    hinge = job.hinge
    return printing(job.layer_heights, hinge.line_width, hinge.longest_bridge(), job.population)


def printing(
    heights: Iterable[float], line: float, bridge: float, fleet: Population
) -> dict[str, Any]:
    """Printers in plain data: lengths in mm, shares in percent."""
    return {
        "layer_heights": list(heights),
        "line_width": line,
        "longest_bridge": bridge,
        "fleet": fleet.name,
        "fleet_needed": fleet.needed,
        "closing_gap": fleet.touch,
    }


def _printers(job: Job) -> dict[str, Any] | None:
    """What is said of printers and plastic; None where that is in no words of a job."""
    fleet = job.population
    known = POPULATIONS.get(fleet.name)
    if known is None or replace(fleet, closing=known.closing) != known:
        return None
    told: dict[str, Any] = {LAYERS: list(job.layer_heights), FLEET: fleet.name}
    if fleet.closing != known.closing:
        told[CLOSING] = fleet.closing.values[0]
    if job.plastic is None:
        return told
    name = _named(job)
    if name is None or job.plastic.filling is None:
        return None
    filling = job.plastic.filling
    return told | {MATERIAL: name, WALLS: filling.walls, INFILL: 100 * filling.infill}


def _named(job: Job) -> str | None:
    """The name by which the job's plastic is known; None for one of its own."""
    from scadgen.strength.materials import material, materials

    solid = job.plastic and replace(job.plastic, filling=None)
    return next((name for name in materials() if material(name) == solid), None)


def _lines(values: Mapping[str, Any]) -> Iterator[str]:
    for section in ("", *SECTIONS):
        inside = {key: value for key, value in values.items() if _section(key) == section}
        if section and inside:
            yield from ("", f"[{section}]")
        for key, value in inside.items():
            yield f"{key.rpartition('.')[2]} = {_literal(value)}"


def _section(key: str) -> str:
    return key.rpartition(".")[0]


def _literal(value: Any) -> str:
    if isinstance(value, str):
        return toml_string(value)
    if isinstance(value, list):
        return f"[{', '.join(map(_literal, value))}]"
    return repr(value)
