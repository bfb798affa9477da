"""Findings on a detent: free up to it, past bumps by what is reckoned, held between them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_motion import REACHED, ROUNDING, certainty, unsure_within

if TYPE_CHECKING:
    from scadgen.mechanism.detent import Detent
    from scadgen.motion.swing import Swing
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

#: How closely the way is found by which an arm gives, mm.
CLOSELY = 1e-3
#: How far apart flanks may be where a nose sits between its bumps, and how far what is measured of
#: the way may be off what is reckoned, mm: facets take so much of round flanks.
ALIKE = 0.05
#: A nose that shares less with its bumps, mm3, only touches them.
SHARED = 0.01
#: How early a nose may meet its first bump, degrees: facets again.
EARLY = 1.0
#: What is not known of friction by arms that are held bent, where no time is asked.
RELAXES = "is not reckoned over time: tell a plastic, and how long in the duty's hours"
#: Widest gap that is looked for, mm.
SEARCHED = 2.0


def clear(number: int, turn: Swing, asked: tuple[float, float], clearance: float) -> Finding:
    """Whether all but the nose passes an end's bumps, free and the clearance (mm) away."""
    unsure = unsure_within(turn.unsure, asked)
    far = turn.low <= asked[0] + REACHED and turn.high >= asked[1] - REACHED
    words = (
        f"all but the nose passes the bumps {turn.gap:.3f} mm or more away from {asked[0]:g} to "
        f"{asked[1]:g} deg, {certainty(unsure)}; the clearance is {clearance:g} mm."
    )
    good = far and not unsure and turn.gap >= clearance - ROUNDING
    return Finding(
        f"detent {number} clear", good, words, measured=turn.gap, needed=clearance, unit="mm"
    )


def free_before(number: int, turn: Swing, gap: float, meets: float, clearance: float) -> Finding:
    """Whether a nose is free up to its first bump (degrees), and prints clear of it (mm)."""
    unsure = unsure_within(turn.unsure, (0.0, turn.high))
    words = (
        f"{gap:.3f} mm{' or more' * (gap >= SEARCHED)} at rest; the nose meets its first bump at "
        f"{turn.high:.1f} deg, reckoned {meets:.1f} deg, and is free before, {certainty(unsure)}."
    )
    near = abs(turn.high - meets) <= EARLY
    good = gap >= clearance - ROUNDING and near and not unsure
    return Finding(f"detent {number} free", good, words, gap, clearance, "mm")


def seated(number: int, shared: float, gap: float, at: float) -> Finding:
    """Whether a nose sits between its bumps, close to them and not bent (mm, mm3)."""
    words = (
        f"the nose sits between its bumps, {gap:.3f} mm from them and its arm straight "
        f"({shared:.3f} mm3 shared); up to {ALIKE:g} mm is close."
    )
    return Finding(
        f"detent {number} at {at:g} deg",
        shared <= SHARED and gap <= ALIKE,
        words,
        measured=gap,
        needed=ALIKE,
        unit="mm",
        at_least=False,
    )


def passes(number: int, given: Sequence[float], told: float) -> Finding:
    """Whether an arm gives way past all bumps as far as its strain is reckoned with, mm."""
    off = max(abs(way - told) for way in given)
    words = (
        f"past its {len(given)} bumps the arm gives way by {min(given):.3f} to {max(given):.3f} "
        f"mm, all else rigid and the links midway in their play; reckoned {told:.3f} mm."
    )
    return Finding(f"detent {number} passes", off <= ALIKE, words, off, ALIKE, "mm", at_least=False)


def rides(number: int, least: float, most: float, detent: Detent) -> Finding:
    """Whether an arm stays bent by what is reckoned wherever its nose rides the ridge, mm."""
    off = max(abs(least - detent.way), abs(most - detent.way))
    words = (
        f"from {detent.at[0]:g} to {detent.to:g} deg the nose rides the ridge, its arm bent by "
        f"{least:.3f} to {most:.3f} mm at every angle, for certain, all else rigid and the links "
        f"midway in their play; reckoned {detent.way:.3f} mm."
    )
    return Finding(f"detent {number} rides", off <= ALIKE, words, off, ALIKE, "mm", at_least=False)


def rubs(
    start: float,
    end: float,
    plastic: Plastic | None,
    moments: tuple[float, float] | None,
    duty: Duty | None,
    left: float,
) -> Finding:
    """What friction holds from a turn to another (degrees), new and in time; it never fails.

    ``moments``: N mm at the least and at the most, when new. ``left``: share of the modulus that is
    left as long as the duty asks; 0 where nobody knows, or nothing is asked: that leaves it open.
    """
    where = f"at any angle from {start:g} to {end:g} deg"
    if plastic is None or moments is None:
        words = f"friction holds it {where}; without a plastic nobody knows by how much."
        return Finding("detent friction", True, words, leaves_open=RELAXES)
    least, most = moments
    words = f"in {plastic.name} {least:.3g} to {most:.3g} N mm of friction hold it {where}, new"
    if not left or duty is None:
        words += "; held bent its arms relax, and it holds less in time (wear is not reckoned)."
        return Finding("detent friction", True, words, leaves_open=RELAXES)
    words += (
        f"; held bent for {duty.hours:g} h at {duty.celsius:g} deg C its arms relax, and "
        f"{least * left:.3g} N mm or more are left, as the modulus of a load that lasts has it; "
        "wear is not reckoned."
    )
    return Finding("detent friction", True, words)


def felt(plastic: str, least: float, most: float) -> Finding:
    """How much moment passes a detent (N mm): arms by beam theory, friction as a range."""
    words = (
        f"in {plastic} {least:.3g} to {most:.3g} N mm pass it, stiffness and friction being "
        "ranges; below the least a lid stays where it clicks."
    )
    return Finding("detent felt", True, words)
