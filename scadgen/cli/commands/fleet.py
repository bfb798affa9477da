"""``scadgen fleet``."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING

from scadgen.cli.bounding import add_job_bounds, asked_bounds
from scadgen.cli.saying import say_all
from scadgen.cli.terminal import NOT_PROVEN, PROVEN, progress

if TYPE_CHECKING:
    from scadgen.jobs.job import Job
    from scadgen.proof.fleet.best import Curve
    from scadgen.proof.fleet.shares import Fleet, Share

SHARES = ("share_free", "share_hold", "share_both")
WHAT = "say what share of printers that nobody controls make a working hinge"
bounds = asked_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument(
        "--count", metavar="N", type=_count, default=1_000_000, help="printers, default: a million"
    )
    add_job_bounds(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.findings.finding import NO_GAPS
    from scadgen.hinge.family import definition
    from scadgen.jobs.job import JobError, load_job
    from scadgen.proof.fleet.believed import believed
    from scadgen.proof.fleet.best import best_clearance
    from scadgen.proof.fleet.shares import fleet

    job = load_job(options.job)
    if not definition(type(job.hinge)).spoilable:
        raise JobError(f"{options.job}: {job.family}: {NO_GAPS}.")
    with progress(options, f"{options.count} printers") as say:
        found = fleet(job.hinge, job.population, options.count, tell=say)
        if say:
            say("the best clearance")
        sure = believed(job.hinge, job.population)
        curve = best_clearance(job.hinge, job.population, min(options.count, 100_000))
    passed = 100 * found.share_both.value >= job.population.needed and not job.unanswered
    if options.json:
        facts = {"name": job.name, "needed": job.population.needed, "passed": passed}
        facts |= {"unanswered": job.unanswered}
        tried = dict(zip(curve.values.tolist(), curve.both.tolist(), strict=True))
        best = {"field": curve.field, "best": curve.best and curve.best[0], "shares": tried}
        ends = sure and dict(zip(SHARES, (asdict(share) for share in sure), strict=True))
        told = found.to_dict() | {"clearance": best, "believed": ends}
        print(json.dumps(facts | told, indent=2))
    elif not (options.quiet and passed):
        say_all(options, (*job.unanswered, *_lines(job, found, curve, sure)))
    return PROVEN if passed else NOT_PROVEN


def _count(text: str) -> int:
    """A number of printers: as many as give an interval, as few as end soon."""
    if not text.isascii() or not text.isdigit() or not 100 <= int(text) <= 100_000_000:
        raise argparse.ArgumentTypeError(f"{text}: it must be 100 to 100000000")
    return int(text)


def _lines(
    job: Job, found: Fleet, curve: Curve, sure: tuple[Share, Share, Share] | None
) -> Iterator[str]:
    from scadgen.proof.fleet.findings import percent

    yield f"{found.count} printers of the {found.population} fleet, drawn at random:"
    yield _share("moves freely", found.share_free)
    yield _share("holds", found.share_hold)
    yield f"{_share('both', found.share_both)}; {job.population.needed:g} % are wanted"
    for met in found.met:
        yield _share(f"its {met.of}", met.share)
    if sure:
        ends = f"{100 * sure[-1].low:.1f} to {100 * sure[-1].high:.1f} %"
        yield f"  believed: {ends}, as settings are counted of few vendors and errors are assumed"
    for cause in found.causes[:1]:
        yield f"commonest failure: {cause.words} ({percent(cause.share)})"
    if found.worst:
        errors = ", ".join(
            f"{name.replace('_', ' ')} {value:g}"
            for name, value in found.worst.printer.to_dict().items()
        )
        yield f"worst printer: {found.worst.margin:+.2f} mm left; {found.worst.cause}"
        yield f"  its errors (mm): {errors}"
    if curve.best:
        value, share = curve.best
        now = getattr(job.hinge, curve.field)
        yield f"best {curve.field}: {value:g} mm ({percent(share)}); now {now:g} mm"


def _share(what: str, share: Share) -> str:
    ends = f"{100 * share.low:.2f} to {100 * share.high:.2f}"
    return f"  {what:<13}{100 * share.value:6.2f} %  (95 % interval: {ends})"
