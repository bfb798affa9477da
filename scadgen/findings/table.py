"""The verdict as a table: of each finding the number, what is needed, and what is to spare."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from typing import NamedTuple

from scadgen.findings.finding import Finding, Verdict
from scadgen.findings.page import Line, Mood, figure_lines, finding_lines, mark, summary
from scadgen.text.typeset import typeset

_HEAD = ("measure", "found", "needed", "to spare")
#: Letters between columns, before the first (its mark stands there), and that a name needs.
_BETWEEN, _MARK, _NAME = 2, 5, 16


class Row(NamedTuple):
    """A finding's name, its number, its limit and what is to spare, in words; and its colour."""

    name: str
    found: str
    needed: str
    spare: str
    mark: str = ""
    mood: Mood = ""


def table(verdict: Verdict, width: int, form: Callable[[str], str] = typeset) -> Iterator[Line]:
    """Lines of at most ``width`` letters, or wider where a word is; ``form`` sets the units.

    The verdict; in sentences what failed or is near its limit; the table of all that is one number;
    in sentences what is none; the figures.
    """
    told = [one for one in verdict.findings if not one.passed or one.marginal]
    rows = [row(one, form) for one in verdict.findings if one.margin is not None]
    others = [one for one in verdict.findings if one.margin is None and one not in told]
    mood: Mood = "bad" if not verdict.passed else "good" if verdict.proven else "near"
    yield Line(summary(verdict), mood)
    for finding in told:
        yield from finding_lines(finding)
    if rows:
        yield Line("")
        yield from _laid(rows, width)
        yield Line("")
    for finding in others:
        yield from finding_lines(finding)
    yield from map(Line, figure_lines(verdict))


def row(finding: Finding, form: Callable[[str], str] = typeset) -> Row:
    """A finding with a number as a row, its units set."""
    measured, needed, margin = (
        value or 0.0 for value in (finding.measured, finding.needed, finding.margin)
    )
    unit = f" {finding.unit}" if finding.unit else ""
    least = "at least" if finding.at_least else "at most"
    mood: Mood = "bad" if not finding.passed else "near" if finding.marginal else "good"
    return Row(
        form(finding.name),
        form(f"{_short(measured)}{unit}"),
        form(f"{least} {needed:.4g}{unit}"),
        form(f"{_short(margin)}{unit}"),
        mark(finding),
        mood,
    )


def _short(value: float) -> str:
    """Three digits, and no more than thousandths: no more is known."""
    return f"{round(float(f'{value:.3g}'), 3) + 0.0:g}"


def _laid(rows: list[Row], width: int) -> Iterator[Line]:
    """The rows in columns, or each below its name where there is no room for them."""
    wide = [max(len(cells[k]) for cells in (_HEAD, *rows)) for k in (1, 2, 3)]
    left = width - _MARK - sum(wide) - 3 * _BETWEEN
    if left < _NAME:
        for one in rows:
            words = f"{one.found}; {one.needed}; {one.spare} to spare"
            yield Line(f"{one.mark:<{_MARK}}{one.name}: {words}", one.mood)
        return
    left = min(left, max(len(one.name) for one in rows))
    yield from _columns(Row(*_HEAD, mood="head"), left, wide)
    for one in rows:
        yield from _columns(one, left, wide)


def _columns(one: Row, left: int, wide: list[int]) -> Iterator[Line]:
    first, *rest = textwrap.wrap(one.name, left, break_long_words=False) or [""]
    gap = " " * _BETWEEN
    cells = gap.join(f"{cell:>{w}}" for cell, w in zip(one[1:4], wide, strict=True))
    yield Line(f"{one.mark:<{_MARK}}{first:<{left}}{gap}{cells}", one.mood)
    for more in rest:
        yield Line(f"{'':{_MARK}}{more}", one.mood)
