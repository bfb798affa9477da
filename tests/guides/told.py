"""Text that a page shows as output: held against what came, and brought up to date.

A line ``...`` stands for any lines that the page leaves out.
"""

from __future__ import annotations

import difflib
import itertools
from collections.abc import Sequence

GAP = "..."


def is_told(shown: str, came: str) -> bool:
    """Whether the lines that are shown came, in that order, with nothing between but gaps."""
    runs, rest = _runs(shown.splitlines()), came.splitlines()
    starts_free = shown.startswith(GAP)
    for index, run in enumerate(runs):
        last = index == len(runs) - 1 and not shown.rstrip().endswith(GAP)
        places = _places(run, rest)
        if index == 0 and not starts_free:
            places = [place for place in places if place == 0]
        if last:
            places = [place for place in places if place + len(run) == len(rest)]
        if not places:
            return False
        rest = rest[places[0] + len(run) :]
    return bool(runs) or starts_free or not came


def brought_up_to_date(shown: str, came: str) -> str:
    """``came`` without what ``shown`` left out: of each shown line the most alike is kept."""
    if GAP not in shown.splitlines():
        return came
    lines, after = came.splitlines(), 0
    kept: list[str] = []
    for line in shown.splitlines():
        rest = range(after, len(lines))
        if line != GAP and rest:
            found = max(rest, key=lambda index: _alike(line, lines[index]))
            apart = found > after and kept and kept[-1] != GAP
            kept += [GAP, lines[found]] if apart else [lines[found]]
            after = found + 1
        elif line == GAP and kept[-1:] != [GAP]:
            kept.append(GAP)
    return "".join(f"{line}\n" for line in kept)


def _alike(line: str, other: str) -> tuple[float, float]:
    """How alike two lines are: that they begin alike counts first."""
    pairs = zip(line, other, strict=False)
    begun = sum(1 for _ in itertools.takewhile(lambda pair: pair[0] == pair[1], pairs))
    return begun, difflib.SequenceMatcher(None, line, other).ratio()


def _runs(lines: Sequence[str]) -> list[list[str]]:
    """Lines that must follow each other."""
    grouped = itertools.groupby(lines, key=lambda line: line == GAP)
    return [list(run) for gap, run in grouped if not gap]


def _places(run: Sequence[str], lines: Sequence[str]) -> list[int]:
    ends = range(len(lines) - len(run) + 1)
    return [place for place in ends if list(lines[place : place + len(run)]) == list(run)]
