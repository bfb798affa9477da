"""Findings on a snap catch: how far its arm must give, and what holds it when shut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding, Place

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Vector

#: How far a gap may fall short, mm: rounding of coordinates, no allowance.
ROUNDING = 1e-4
#: Rigid but for the arm: what every figure of a catch is measured on.
RIGID = "the arm bent as a bar that its post holds, all else rigid"


def snaps(way: float, at: float, told: float, alike: float) -> Finding:
    """Whether the arm must give on its way as far as its strain is reckoned with, mm."""
    off = abs(way - told)
    words = (
        f"the arm must give by {way:.3f} mm, most at {at:.1f} deg ({RIGID}); its strain is "
        f"reckoned with {told:.3f} mm. Past that it is free to the end."
    )
    return Finding("snap", off <= alike, words, off, alike, "mm", at_least=False)


def shut(fixed: Manifold, moving: Manifold, clearance: float, at: float) -> Finding:
    """Whether keeper and hook stand apart when shut, the arm straight again."""
    from scadgen.motion.contact import gap_between, overlap

    shared = overlap(fixed, moving)
    gap = 0.0 if shared else gap_between(fixed, moving, 2.0, clearance)
    words = f"{gap:.3f} mm at {at:g} deg, the arm straight; the clearance is {clearance:g} mm."
    good = gap >= clearance - ROUNDING
    return Finding("gap when shut", good, words, measured=gap, needed=clearance, unit="mm")


def alone(latch: tuple[Vector, Vector], shared: Manifold, at: float, pressed: float) -> Finding:
    """Whether nothing meets but the latch faces, the lid lifted a little beyond their contact.

    ``shared``: what both bodies then have in common; ``pressed``: how much further, mm.
    """
    sides, middle = latch
    box = shared.bounding_box()
    low = [middle[k] - sides[k] / 2 - box[k] for k in range(3)]
    high = [box[k + 3] - middle[k] - sides[k] / 2 for k in range(3)]
    beyond = max(0.0, *low, *high)
    words = (
        f"lifted by {pressed:g} mm more, what meets reaches {beyond:.3f} mm beyond the ledge's "
        f"latch face; up to {2 * pressed:g} mm is how far it sinks in."
    )
    most = 2 * pressed
    good = not shared.is_empty() and beyond <= most
    place = Place(middle, at)
    return Finding(
        "nothing else meets", good, words, beyond, most, "mm", at_least=False, place=place
    )


def held(way: float, lift: float, grip: float, fine: float) -> Finding:
    """Whether a straight pull is blocked, as long as the arm stays straight."""
    words = (
        f"pulled straight up, the hook is free only where the arm gives by {way:.2f} mm, most at "
        f"{lift:.1f} mm of lift ({RIGID}); the grip needs {grip:.2f} mm."
    )
    return Finding("held shut", way >= grip - fine, words, measured=way, needed=grip, unit="mm")


def nothing_holds() -> Finding:
    """A lid that comes up with its arm straight."""
    words = "the lid lifts off with its arm straight: no faces meet."
    return Finding("latch faces meet", False, words, change="a longer lip")
