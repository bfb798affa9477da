"""``scadgen choose``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from scadgen.terminal import NOT_PROVEN, PROVEN, tell

WHAT = "rank the forms that serve a part and a duty, with the reason for every refusal"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml", help="a job; its family may be left out")
    parser.add_argument("--out", metavar="FILE", type=Path, help="write the favourite as a job")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    from scadgen.documents import JobError
    from scadgen.files import write_all
    from scadgen.sizing.choose import choose
    from scadgen.sizing.report import ranking_data, ranking_lines, sized_job
    from scadgen.sizing.wish import load_wish

    wish = load_wish(options.job)
    if options.out is not None and options.out.exists():
        raise JobError(f"{options.out}: exists already; name another file.")
    ranking = choose(wish.wanted, wish.posture, wish.population)
    if options.json:
        print(json.dumps(ranking_data(ranking), indent=2))
    elif not options.quiet:
        for line in ranking_lines(ranking):
            print(line)
    if ranking.favourite is None:
        return NOT_PROVEN
    if options.out is not None:
        text = sized_job(wish, ranking.favourite.sized.hinge).encode()
        tell(options, write_all(options.out.parent, {options.out.name: text}))
    return PROVEN
