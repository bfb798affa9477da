"""``scadgen toolpath``."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.cli.bounding import add_bounds, whole_bounds
from scadgen.cli.terminal import (
    NOT_PROVEN,
    PROVEN,
    add_words,
    print_verdict,
    progress,
    refuse_to_replace,
    tell,
    write_each,
)

if TYPE_CHECKING:
    from scadgen.jobs.job import Job
    from scadgen.toolpaths.judged import Asked, Followed

WHAT = "follow a slicer's file: what bodies its plastic makes, and where links touch"
bounds = whole_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    add = parser.add_argument
    add("file", metavar="FILE.gcode", type=Path, help="G-code of a filament printer")
    add("--job", metavar="JOB.toml", help="the job whose hinge it prints")
    sliced = "the STL, 3MF or OBJ file that was sliced, in place of a job"
    add("--model", metavar="FILE", type=Path, help=sliced)
    add("--at", metavar="X,Y", type=_place, help="where the model's origin is; default: found")
    add("--bridge", metavar="MM", type=_length, help="longest bridge; default: the job's, or 10")
    add("--filament", metavar="MM", type=_length, help="diameter, where the file tells none")
    add("--picture", metavar="FILE.png", type=Path, help="draw the worst layer")
    add_bounds(parser)
    add_words(parser)
    add("--json", action="store_true", help="print JSON")


def _place(text: str) -> tuple[float, float]:
    x, y = map(float, text.split(","))
    return x, y


def _length(text: str) -> float:
    value = float(text)
    if not 0.1 <= value <= 1000:
        raise argparse.ArgumentTypeError(f"{text}: it must be 0.1 to 1000 mm")
    return value


def run(options: argparse.Namespace) -> int:
    from scadgen.inspection.picture import picture_path
    from scadgen.jobs.job import load_job
    from scadgen.tables.documents import JobError
    from scadgen.toolpaths import follow, verdict_on
    from scadgen.toolpaths.picture import picture

    if options.job and options.model:
        raise JobError("--job and --model: give one of both; a job knows its model.")
    target = options.picture and picture_path(options.picture)
    refuse_to_replace(target)
    job = load_job(options.job) if options.job else None
    with progress(options, "reading") as say:
        found = follow(options.file, _asked(options, job), say or (lambda words: None))
    verdict = verdict_on(found, job.family if job else options.file.name, job)
    written: list[Path] = []
    try:  # whoever stops reading has the picture nevertheless
        written = write_each({target: picture(found)} if target else {})
    finally:
        if options.json:
            facts = {"name": options.file.name} | verdict.to_dict() | _facts(found)
            print(json.dumps(facts, indent=2))
        elif not (options.quiet and verdict.passed):  # no file is ever proven
            print_verdict(options, verdict, failures_only=options.quiet)
    if not options.json:
        tell(options, written)
    return PROVEN if verdict.passed else NOT_PROVEN


def _asked(options: argparse.Namespace, job: Job | None) -> Asked:
    from scadgen.toolpaths import BRIDGE, Asked
    from scadgen.toolpaths.assumptions import filling_of
    from scadgen.toolpaths.models import mechanism_of

    given: dict[str, Any] = {"shift": options.at, "filament": options.filament}
    bridge = options.bridge or (job and job.hinge.longest_bridge()) or BRIDGE
    if options.model:
        return Asked(mechanism_of(options.model), bridge=bridge, **given)
    if job is None:
        return Asked(bridge=bridge, **given)
    whole = job.hinge.mechanism()
    return Asked(whole, job.hinge, filling_of(job), bridge=max(bridge, BRIDGE), **given)


def _facts(found: Followed) -> dict[str, Any]:
    names = found.links.names if found.links else ()
    return {
        "bodies": [
            asdict(lump) | {"links": [names[link] for link in sorted(links)]}
            for lump, links in zip(found.lumps, found.lumps_of, strict=True)
        ],
        "welds": [asdict(weld) for weld in found.welds],
        "near": [asdict(near) for near in found.near],
        "in_the_air": [asdict(one) | {"role": one.role.words} for one in found.hanging],
        "misfits": [asdict(one) for one in found.misfits],
        "filled": [asdict(one) for one in found.filled],
        "shift": list(found.links.shift) if found.links else None,
        "settings": {
            "generator": found.settings.generator,
            "layers": found.shown.layers,
            "layer_heights": found.shown.layer_heights,
            "first_layer": found.shown.first,
            "wall_width": found.shown.wall_width,
            "walls": found.settings.walls,
            "infill": found.settings.infill,
            "closing_radius": found.settings.closing_radius,
            "thick_bridges": found.settings.thick_bridges,
        },
    }
