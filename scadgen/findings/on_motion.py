"""Findings on two solids, wherever they come from: measures held against what is asked of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from scadgen.findings.finding import Finding, Place
from scadgen.printing.layers import TOUCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from manifold3d import Manifold

    from scadgen.motion.axis import Axis
    from scadgen.motion.rest import Rest, Soundness
    from scadgen.motion.swing import Swing

Span = tuple[float, float]

#: How far a gap may fall short of the clearance, mm: rounding of coordinates, no allowance.
ROUNDING = 1e-4
#: How closely a stop must come to the end of the swing that is asked, degrees.
REACHED = 0.05
#: How closely flat faces must meet at the angle of the stop, degrees.
STOPPED = 0.2
#: Gap that is needed where none is asked, mm.
LEAST_GAP = TOUCH
#: Turn without which nothing is a hinge, degrees, where none is asked (assumed).
LEAST_TURN = 10.0
#: Turn from flat to shut, degrees.
SHUT = 180.0
#: Widest gap that is looked for, mm: that of ``rest`` and ``swing``.
SEARCHED = 2.0
#: A turn or a gap that was shown at every angle, in words.
SURE = "for certain, between samples too"
#: A span of angles that counts as one place, degrees.
NARROW = 1.0
#: Most places that are told of which nothing is sure.
FEW = 3
#: So far before a stop, degrees, is looked which faces close in on it.
BACK = 20.0
#: So far beyond a stop, degrees, is looked for the place where the bodies meet.
BEYOND = 0.02


class Pose(NamedTuple):
    """Two bodies as they print, and the axis about which the second turns.

    start: the turn at which they print, degrees; all others are counted as it is.
    """

    fixed: Manifold
    moving: Manifold
    axis: Axis
    start: float = 0.0

    def turned(self, angle: float) -> Manifold:
        """The moving body at a turn (degrees)."""
        return self.axis.turn(self.moving, angle - self.start)

    def meet(self, angle: float) -> Place | None:
        """Where they overlap at a turn (degrees), if they do."""
        from scadgen.motion.meeting import meeting

        point = meeting(self.fixed, self.turned(angle))
        return Place(point, angle) if point else None

    def nearest(self, angle: float) -> Place:
        """Where they are nearest at a turn (degrees), or overlap."""
        from scadgen.motion.contact import meet
        from scadgen.motion.nearest import closest

        turned = self.turned(angle)
        met = self.meet(angle) if meet(self.fixed, turned) else None
        if met:
            return met
        near = closest(self.fixed, turned, angle)
        x, y, z = ((a + b) / 2 for a, b in zip(near.fixed, near.moving, strict=True))
        return Place((x, y, z), angle)


def sound(name: str, found: Soundness) -> Finding:
    """Whether a body is one closed piece."""
    tight = "watertight" if found.watertight else "not watertight"
    pieces = f"{found.pieces} piece{'s' * (found.pieces != 1)}"
    words = f"{pieces}, {found.voids} closed hollows, {tight}, {found.volume:.0f} mm3."
    return Finding(name, found.pieces == 1 and found.voids == 0 and found.watertight, words)


def gap_at_rest(still: Rest, clearance: float | None, grain: float, pose: Pose) -> Finding:
    """Whether two bodies stand as far apart as the clearance (mm), or so that they do not fuse.

    ``grain``: how far rounding of coordinates may have brought each of two faces nearer, mm.
    """
    more = " or more" * (clearance is None and still.gap >= SEARCHED)
    meet = pose.meet(pose.start) if still.overlap else None
    into = f", overlapping by {still.overlap:.2f} mm3" * (still.overlap > 0)
    measured = f"{still.gap:.3f} mm{more} at rest{into}"
    found = _gap("gap at rest", still.gap, measured, clearance, grain)
    return _placed(
        replace(found, passed=found.passed and not still.overlap), meet, pose, pose.start
    )


def least_allowed(clearance: float | None, grain: float) -> float:
    """The least gap (mm) that counts as the clearance, or as enough not to fuse, with rounding."""
    return (LEAST_GAP if clearance is None else clearance) - _rounding(grain)


def gap_on_the_way(turn: Swing, clearance: float | None, grain: float, pose: Pose) -> Finding:
    """Whether two bodies stay as far apart as the clearance (mm) while one turns."""
    allowed, at = least_allowed(clearance, grain), f"at {turn.gap_at:.0f} deg"
    gap, low, high = turn.gap, *turn.within
    if turn.gap >= allowed:
        measured = f"{gap:.3f} mm or more from {low:.0f} to {high:.0f} deg, {SURE}"
    elif turn.gap_most < allowed:
        gap = turn.gap_most
        measured = f"{gap:.3f} mm {at}"
    else:
        measured = f"not decided: {turn.gap_most:.3f} mm {at}, {gap:.3f} mm or more, {SURE}"
    found = _gap("gap on the way", gap, measured, clearance, grain)
    return _placed(found, None, pose, turn.gap_at)


def _rounding(grain: float) -> float:
    return ROUNDING + 2 * grain  # both faces may have been rounded towards each other


def _gap(name: str, gap: float, words: str, clearance: float | None, grain: float) -> Finding:
    rounding = _rounding(grain)
    needed = LEAST_GAP if clearance is None else clearance
    asked = f"the clearance is {needed:g} mm."
    if clearance is None:
        asked = f"none is asked, less than {needed:g} mm fuses."
    if grain:
        asked = f"{asked[:-1]}, give or take {rounding:.2g} mm by which the file rounds."
    good = gap >= needed - rounding
    return Finding(name, good, f"{words}; {asked}", measured=gap, needed=needed, unit="mm")


def _placed(found: Finding, meet: Place | None, pose: Pose, angle: float) -> Finding:
    """The finding; where it failed, with the place of the fault, in words too."""
    if found.passed:
        return found
    place = meet or pose.nearest(angle)
    return replace(found, words=f"{found.words} It is {place.words}.", place=place)


def free_turn(turn: Swing, asked: tuple[float, float] | None, pose: Pose) -> Finding:
    """Whether a body turns freely as far as is asked (degrees), or at all, and where it is met."""
    unsure = unsure_within(turn.unsure, asked or (turn.low, turn.high))
    free = f"free from {turn.low:.1f} to {turn.high:.1f} deg, {certainty(unsure)}"
    if asked is None:
        whole = turn.high - turn.low
        least = f"none is asked, less than {LEAST_TURN:g} deg altogether is no hinge."
        good = whole >= LEAST_TURN and not unsure
        found = _turn(good, f"{free}; {least}", whole, LEAST_TURN)
        back = pose.start - turn.low < turn.high - pose.start
    else:
        low, high = asked
        good = turn.low <= low + REACHED and turn.high >= high - REACHED and not unsure
        margin = min(low - turn.low, turn.high - high)
        found = _turn(good, f"{free}; {low:g} to {high:g} deg are asked.", margin, 0.0)
        back = low - turn.low < turn.high - high
    if found.passed:
        return found
    place = pose.meet(turn.low - BEYOND if back else turn.high + BEYOND)
    if place is None:
        return found
    return replace(found, words=f"{found.words} They meet {place.words}.", place=place)


def unsure_within(unsure: Iterable[Span], span: Span) -> list[Span]:
    """The parts of a span of angles, degrees, of which nothing is sure."""
    low, high = span[0] + REACHED, span[1] - REACHED
    return [part for part in unsure if part[0] < high and part[1] > low]


def certainty(unsure: Sequence[Span]) -> str:
    """How sure a turn is, in words."""
    if not unsure:
        return SURE
    places = ", ".join(
        f"near {(low + high) / 2:.1f} deg"
        if high - low < NARROW
        else f"from {low:.1f} to {high:.1f} deg"
        for low, high in unsure[:FEW]
    )
    return f"not certified between samples {places}{' and elsewhere' * (len(unsure) > FEW)}"


def _turn(passed: bool, words: str, measured: float, needed: float) -> Finding:
    return Finding("swing", passed, words, measured=measured, needed=needed, unit="deg")


def stopped(turn: Swing, stop: float) -> Finding:
    """Whether flat faces end the turn where they are meant to (degrees)."""
    return Finding(
        "stop",
        abs(turn.high - stop) <= STOPPED,
        f"flat faces meet at {turn.high:.2f} deg; the stop is set to {stop:g} deg.",
    )


def opened(turn: Swing, heel: float) -> Finding:
    """Whether a heel ends the way back where it is meant to (degrees), counted from shut, too."""
    return Finding(
        "stop of its opening",
        abs(turn.low - heel) <= STOPPED,
        f"a heel meets the leaf at {turn.low:.2f} deg, {SHUT - turn.low:.2f} deg from shut; it is "
        f"set to {heel:g}, {SHUT - heel:g} from shut.",
    )


def at_rest(turn: Swing, pose: Pose) -> Iterator[Finding]:
    """How one body lies on the other where its turn is stopped; this tells, and never fails."""
    from scadgen.motion.meeting import CONTACT, FACING, closing

    far = min(BACK, (turn.high - turn.low) / 2)
    for angle, stopped, way in (
        (turn.low, turn.stopped_low, far),
        (turn.high, turn.stopped_high, -far),
    ):
        back = pose.axis.matrix(way)
        moved = pose.turned(angle)
        found = closing(pose.fixed, moved, back) if stopped else None
        if found is None:
            continue
        touch = f"{found.contact:.1f} mm2 in contact (within {CONTACT:g} mm)"
        apart = (
            f"; {found.facing:.0f} mm2 of faces that look at each other hover {found.gap:.2f} mm "
            f"apart, up to {found.widest:.2f} mm"
        )
        place = Place(found.middle, angle)
        words = f"{touch}{apart * (found.facing > 0)}; {place.words}. Farther than {FACING:g} mm "
        yield Finding(
            f"at rest at {angle:.1f} deg", True, f"{words}apart is not told.", place=place
        )
