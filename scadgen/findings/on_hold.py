"""Findings on hold and play: how one body is kept in another, and how loosely."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from scadgen.caging.certificate import Certificate, Uncertified
from scadgen.caging.couple import Cored
from scadgen.caging.looseness import looseness
from scadgen.findings.finding import Finding
from scadgen.motion.contact import GRAZE, meet
from scadgen.motion.escape import Escape, escape
from scadgen.motion.pair import Couple
from scadgen.motion.play import Apart, Play, play
from scadgen.motion.retention import Hold, hold, in_words

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis
    from scadgen.motion.stretched import Ways

#: How closely play is measured, mm: as closely as the pulls are.
TOLERANCE = 0.005
#: The finding that a body is held.
HOLD = "hold"
#: What to do about a body that comes out.
DEEPER = "Make what holds it reach deeper, or the clearance smaller."


def holding(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    cage: Certificate | Uncertified,
    angles: Sequence[float],
    gap: float | None = None,
    start: float = 0.0,
    level: Ways | None = None,
) -> Iterator[Finding]:
    """Whether ``fixed`` holds ``moving``, drawn as at rest, and the play.

    Where a ``cage`` is certified for any motion and turn, that is all. Else straight pulls are
    tried at each of the angles (degrees), and at the first one any motion by shift, tilt and turn.
    gap: the bodies' smallest distance at rest, mm, if it is known. start: what is added to the
    angles where they are told, degrees. level: how near the bodies come at rest square to the axis
    and along it, if it is known.
    """
    if isinstance(cage, Certificate) and cage.depth < GRAZE:
        cage = shallow(cage)
    if isinstance(cage, Certificate):
        yield kept(cage)
        if gap or not meet(fixed, moving):
            near, rough = looseness(cage), Cored(cage, fixed, moving, axis)
            known = Apart(gap, level)
            found = play(
                fixed, moving, axis, tolerance=TOLERANCE, guess=near, rough=rough, apart=known
            )
            yield loose(found)
        return
    yield searched(cage)
    yield from _searched(fixed, moving, axis, angles, start)


def _searched(
    fixed: Manifold, moving: Manifold, axis: Axis, angles: Sequence[float], start: float
) -> Iterator[Finding]:
    grips = {angle: _grip(fixed, axis.turn(moving, angle), axis) for angle in angles}
    for angle, grip in grips.items():
        told = angle + start
        yield pulled(f"hold at {told:g} deg", grip) if grip else _not_measured(told)
    first = grips[angles[0]]
    if first is None:
        return
    here, couple = axis.turn(moving, angles[0]), None
    if all(grip is not None and grip.held for grip in grips.values()):
        couple = Couple(fixed, here, axis)
        yield led_out(escape(fixed, here, axis, couple=couple))
    yield loose(play(fixed, here, axis, tolerance=TOLERANCE, couple=couple, grip=first))


def kept(cage: Certificate) -> Finding:
    """That one body cannot leave the other; the number is how much blocks the worst way (mm)."""
    region = cage.region
    return Finding(
        HOLD,
        True,
        f"certified for rigid bodies, at any turn: no motion takes the moving one farther than"
        f" {region.aside:.2f} mm square to the axis, {region.above:.2f} mm along it,"
        f" {region.below:.2f} mm against it and {cage.tilt:.1f} deg of tilt; {cage.depth:.2f} mm"
        f" block the worst way, so it holds until a body has lost {cage.depth / 2:.2f} mm"
        " all around.",
        measured=cage.depth,
        needed=GRAZE,
        unit="mm",
        slack=GRAZE / 2,
    )


def shallow(cage: Certificate) -> Uncertified:
    """Why a certificate by next to nothing counts as none."""
    return Uncertified(f"only {cage.depth:.3f} mm are known to block the worst way, a graze")


def searched(none: Uncertified) -> Finding:
    """That a hold is not certified, and why."""
    words = f"not certified: {none.why}. Ways out are searched for instead."
    return Finding(HOLD, True, words, leaves_open="is not certified, only searched")


def _grip(fixed: Manifold, moving: Manifold, axis: Axis) -> Hold | None:
    """How one body holds the other; None where they overlap."""
    return None if meet(fixed, moving) else hold(fixed, moving, axis)


def _not_measured(angle: float) -> Finding:
    words = "not measured: the bodies overlap when turned to there."
    return Finding(f"hold at {angle:g} deg", False, words)


def pulled(name: str, grip: Hold) -> Finding:
    """Whether straight pulls and shifts leave a body held; the number is the least bite (mm)."""
    pull = grip.freest
    bite = min(pull.bite, *(each.bite for each in grip.pulls))
    told = grip.held or bite < GRAZE  # a contact may also fail to last
    given_up = f" The search for a crooked way was stopped after {grip.stopped} poses."
    return Finding(
        name,
        grip.held,
        f"pulled {pull.towards}, it is {pull.end} after {pull.travel:.2f} mm, the worst of "
        f"{len(grip.pulls)} ways.{given_up * (grip.stopped > 0)}",
        measured=bite if told else None,
        needed=GRAZE if told else None,
        unit="mm" if told else "",
        slack=GRAZE / 2,
        change="" if grip.held else DEEPER,
        leaves_open=f"was searched in {grip.stopped} poses only" if grip.stopped else "",
    )


def led_out(found: Escape) -> Finding:
    """Whether a search for a way out by shift, tilt and turn together came to nothing."""
    name = "hold in tilt and turn"
    low, high = found.turn
    if found.free:
        words = (
            f"shifted, tilted by up to {found.tilt:.0f} deg and turned by {low:.0f} to {high:.0f}"
            f" deg, it comes out towards {in_words(found.towards)} mm in {len(found.path)} steps."
        )
        return Finding(name, False, words, change=DEEPER)
    words = (
        f"no way out in {found.tries} poses tried, {found.reached} of them free and {found.apart:g}"
        f" mm apart: turned by {low:.0f} to {high:.0f} deg, it shifts by up to {found.shift:.2f} mm"
        f" and tilts by up to {found.tilt:.1f} deg."
    )
    doubt = f" {found.refused} likely ways were blocked after all." if found.refused else ""
    return Finding(name, True, words + doubt)


def loose(found: Play) -> Finding:
    """The play, as a finding that always passes."""
    words = (
        f"{found.along:.2f} mm along the axis and {found.against:.2f} mm against it, "
        f"{found.radial_least:.2f} to {found.radial_most:.2f} mm square to it, "
        f"{found.tilt:.1f} deg in tilt."
    )
    return Finding("play", True, words)
