"""The page of the figures, as Markdown."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence

from tests.benchmarks.growth import Growth
from tests.benchmarks.race import Ratio

HEAD = """\
# Speed, as ratios

Each line holds the project's work beside other work that gives the same result, both timed in
turns in one run. A ratio below 1 means that ours is quicker. Times are processor time, of which
other programs take little; each is the least of the repeats, and the last column has the ratio of
the medians. Measured, not promised: another machine gives other times and much the same ratios.
The first text of a family in a process works out what all its later ones share, and `scadgen list`
reads the files of all families. In the tables of growth, flexures are half bent, and the memory of
a fleet is the most that Python and numpy hold at once for it.
Written by `python -m tests.benchmarks.run --out gallery/speed.md`; not edited by hand.
"""
_COLUMNS = ("Work", "Beside", "Ours", "Theirs", "Ratio", "Of medians")


def page(
    about: Mapping[str, str],
    load: tuple[float, float],
    ratios: Mapping[str, Sequence[Ratio]],
    growths: Iterable[Growth],
) -> str:
    """The whole page; ``load`` is the machine's load before and after."""
    return "\n".join([HEAD, *_about(about, load), *_ratios(ratios), *_growths(growths)])


def _about(about: Mapping[str, str], load: tuple[float, float]) -> Iterator[str]:
    yield from (f"- {what}: {words}" for what, words in about.items())
    before, after = load
    busy = " (other programs were waiting too)" if max(load) > (os.cpu_count() or 1) + 1 else ""
    yield f"- Load of the machine: {before:.1f} before, {after:.1f} after{busy}\n"


def _ratios(groups: Mapping[str, Sequence[Ratio]]) -> Iterator[str]:
    for title, found in groups.items():
        yield f"## {title}\n"
        if found:
            yield _row(_COLUMNS)
            yield "|---|---|---:|---:|---:|---:|"
            yield from (_row(_cells(ratio)) for ratio in found)
        else:
            yield "Not measured."
        yield ""


def _cells(ratio: Ratio) -> tuple[str, ...]:
    less, more = ("below ", "above ") if ratio.cut else ("", "")
    return (
        ratio.what,
        ratio.against,
        shown(ratio.ours.least),
        more + shown(ratio.theirs.least),
        f"{less}{ratio.least:.3g}",
        f"{less}{ratio.middle:.3g}",
    )


def _growths(growths: Iterable[Growth]) -> Iterator[str]:
    for growth in growths:
        yield f"## Growth with {growth.title}\n"
        yield _row((growth.title.capitalize(), *(f"{value:,}" for value in growth.values)))
        yield "|---|" + "---:|" * len(growth.values)
        yield from (_row((what, *figures)) for what, figures in growth.lines.items())
        yield ""


def shown(seconds: float) -> str:
    """A time in the unit that suits it."""
    return f"{seconds * 1e3:.3g} ms" if seconds < 1 else f"{seconds:.3g} s"


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"
