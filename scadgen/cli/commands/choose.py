"""``scadgen choose``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from scadgen.cli.bounding import add_job_bounds, asked_bounds
from scadgen.cli.saying import say_all
from scadgen.cli.terminal import NOT_PROVEN, PROVEN, progress, refuse_to_replace, tell, write_each

WHAT = "rank the forms that serve a part and a duty, with the reason for every refusal"
bounds = asked_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml", help="a wish; with a family it is that one")
    parser.add_argument("--out", metavar="FILE", type=Path, help="write the favourite as a job")
    parser.add_argument("--json", action="store_true", help="print JSON")
    add_job_bounds(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.sizing.changes import changes
    from scadgen.sizing.choose import choose
    from scadgen.sizing.jobs import sized_job, why_unproven
    from scadgen.sizing.report import ranking_data, ranking_lines
    from scadgen.sizing.wish import load_wish

    wish = load_wish(options.job)
    refuse_to_replace(options.out)
    folder = options.out.parent if options.out else wish.folder
    with progress(options) as say:
        ranking = choose(
            wish.wanted,
            wish.posture,
            wish.population,
            unproven=lambda hinge: why_unproven(wish, hinge, folder, say),
            given=wish.family,
            tell=say,
        )
        first = ranking.choices[0].family if ranking.choices else None
        asked = options.json or not options.quiet
        others = (
            changes(wish.wanted, wish.posture, wish.population, first, tell=say) if asked else []
        )
    best, written = ranking.favourite, list[Path]()
    try:  # whoever stops reading has the file nevertheless
        if best and options.out:
            written = write_each({options.out: sized_job(wish, best.sized.hinge, folder).encode()})
    finally:
        if options.json:
            print(json.dumps(ranking_data(ranking, others), indent=2))
        elif not options.quiet:
            say_all(options, ranking_lines(ranking, others))
    if not options.json:
        tell(options, written)
    return PROVEN if best else NOT_PROVEN
