"""The verdict on one page, for a person: what failed and what is near its limit comes first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from scadgen.findings.finding import Finding, Verdict

Mood = Literal["", "good", "near", "bad", "head"]


class Line(NamedTuple):
    """One line of the page, and how to colour it."""

    text: str
    mood: Mood = ""


def page(verdict: Verdict, *, failures_only: bool = False) -> Iterator[Line]:
    """The lines: the verdict, failed findings, marginal ones, those that passed, the figures.

    ``failures_only`` leaves only what failed, and of a verdict without failures why it is not
    proven.
    """
    failed = [finding for finding in verdict.findings if not finding.passed]
    near = [finding for finding in verdict.findings if finding.marginal]
    passed = [finding for finding in verdict.findings if finding.passed and not finding.marginal]
    if failures_only:
        yield from (line for finding in failed for line in finding_lines(finding))
        if not failed and not verdict.proven:
            yield Line(summary(verdict), "near")
        return
    mood: Mood = "good" if verdict.proven else "near"
    yield Line(summary(verdict), "bad" if failed else mood)
    for finding in (*failed, *near, *passed):
        yield from finding_lines(finding)
    yield from map(Line, figure_lines(verdict))


def summary(verdict: Verdict) -> str:
    """The verdict in one sentence: "proven" only where it is, and what was not asked."""
    count = len(verdict.findings)
    failed = sum(not finding.passed for finding in verdict.findings)
    near = sum(finding.marginal for finding in verdict.findings)
    if failed:
        return f"{verdict.family}: NOT proven, {failed} of {count} measures failed."
    close = f"; {near} only just" if near else ""
    passed = f"all {count} measures passed{close}"
    unasked = "; ".join(verdict.unasked)
    if not verdict.proven:
        return f"{verdict.family}: passed, not proven: {'; '.join(verdict.lacks)}; {passed}."
    return f"{verdict.family}: proven, {passed}{f'; {unasked}' if unasked else ''}."


def finding_lines(finding: Finding) -> Iterator[Line]:
    """A finding, by how much it holds if that is little, and what to change."""
    mood: Mood = "bad" if not finding.passed else "near" if finding.marginal else "good"
    yield Line(finding_line(finding), mood)
    if mood != "good":
        yield from (Line(f"{'':5}{words}", mood) for words in _advice(finding))


def finding_line(finding: Finding) -> str:
    """What the proof found, on one line."""
    return f"{mark(finding):<5}{finding.name}: {finding.words}"


def mark(finding: Finding) -> str:
    """Whether it passed, in a word."""
    return "FAIL" if not finding.passed else "near" if finding.marginal else "ok"


def figure_lines(verdict: Verdict) -> Iterator[str]:
    """What else the family wants to be known, indented below the findings."""
    return (f"     {name}: {value:.3g}" for name, value in verdict.figures.items())


def _advice(finding: Finding) -> Iterator[str]:
    if finding.margin is not None:
        unit = f" {finding.unit}" if finding.unit else ""
        side = "to spare" if finding.passed else "too little" if finding.at_least else "too much"
        yield f"by {abs(finding.margin):.3g}{unit} {side} (limit {finding.needed:g}{unit})"
    if finding.change:
        yield f"change: {finding.change}"
