"""``scadgen check``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.cli.bounding import add_job_bounds, asked_bounds
from scadgen.cli.certificates import add_certificate, certificate_file
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
    from collections.abc import Callable

    from scadgen.elements.arms import Flexed
    from scadgen.elements.judged import Bent, Judged

WHAT = "prove the hinge of a job on its solids"
bounds = asked_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument(
        "--solid",
        action="store_true",
        help="load its shape by finite elements, too: minutes, and the extra 'solid'",
    )
    parser.add_argument(
        "--picture",
        metavar="FILE.png",
        type=Path,
        help="draw what --solid finds, in colours; asks for it, too",
    )
    add_certificate(parser)
    add_words(parser)
    add_job_bounds(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.job import load_job

    refuse_to_replace(options.certificate)
    refuse_to_replace(options.picture)
    job = load_job(options.job)
    drawn: dict[Path, bytes] = {}
    solid = _into(options.picture, drawn) if options.picture else options.solid
    with progress(options) as told:
        whole = job.hinge.mechanism()
        verdict = job.prove(told, whole=whole, solid=solid)
    if options.certificate:
        cages = [joint.cage(whole) for joint in whole.joints]
        drawn[options.certificate] = certificate_file(cages, job.name)
    written: list[Path] = []
    try:  # whoever stops reading has the files nevertheless
        written = write_each(drawn)
    finally:
        if options.json:
            facts = {"name": job.name, "family": job.family}
            print(json.dumps(facts | verdict.to_dict(), indent=2))
        else:
            print_verdict(options, verdict, failures_only=options.quiet)
    if not options.json:
        tell(options, written)
    return PROVEN if verdict.proven else NOT_PROVEN


def _into(target: Path, drawn: dict[Path, bytes]) -> Callable[[Judged | Bent | Flexed], None]:
    """What draws the solved solid for a file. Raises JobError where no picture can be drawn."""
    import importlib.util

    from scadgen.pictures.scene import EYE
    from scadgen.pictures.stress import stress_picture
    from scadgen.tables.documents import JobError

    if target.suffix.lower() != ".png":
        raise JobError(f"picture = {target}; its name must end in .png.")
    if importlib.util.find_spec("PIL") is None:
        extra = "install the extra 'pictures': pip install '.[pictures]' in a checkout"
        raise JobError(f"picture: Pillow draws it, and is not there; {extra}.")

    def draw(found: Judged | Bent | Flexed) -> None:
        from scadgen.elements.arms import Flexed

        plastic = found.plastic if isinstance(found, Flexed) else found.asked.plastic
        note = f"of what {plastic.name} may be asked for, with its margin"
        drawn[target] = stress_picture(found.shares(), EYE, note)

    return draw
