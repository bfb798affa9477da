"""Contacts that are meant: a catch, a detent, a seal, a stop."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.joint import Vector

#: Sides of the ball that stands for the neighbourhood of a contact.
SIDES = 48


@dataclass(frozen=True)
class Contact:
    """Where the bodies of a joint are meant to touch, and at which of its positions.

    at: the joint's position. middle: of the place, mm, seen from the fixed body. radius: mm; within
    it the bodies may meet at any position, beyond it they must not.
    """

    fixed: str
    moving: str
    at: float
    middle: Vector
    radius: float

    def room(self) -> Manifold:
        """The ball around the place."""
        from manifold3d import Manifold

        return Manifold.sphere(self.radius, SIDES).translate(self.middle)


def touches(contact: Contact, fixed: Manifold, moving: Manifold, grain: float = 0.0) -> Finding:
    """Whether both bodies, the moving one at the contact's position, touch within its place.

    ``grain``: how far rounding of coordinates may have moved each of two faces, mm.
    """
    from scadgen.findings.finding import Finding, Place
    from scadgen.motion.contact import gap_between, overlap
    from scadgen.motion.meeting import CONTACT, meeting

    room = contact.room()
    here, there = fixed ^ room, moving ^ room
    empty = here.is_empty() or there.is_empty()
    gap = math.inf if empty else gap_between(here, there, contact.radius)
    shared = 0.0 if empty else overlap(here, there)
    where = meeting(here, there) if shared else None
    most = CONTACT + 2 * grain
    words = "one of them is nowhere near" if empty else f"{gap:.3f} mm apart"
    if shared:
        words = f"they reach {shared:.2f} mm3 into each other"
    return Finding(
        f"contact at {contact.at:g} deg",
        gap <= most,
        f"{words}; within {contact.radius:g} mm they are meant to come within {most:g} mm.",
        measured=None if empty else gap,
        needed=None if empty else most,
        unit="mm",
        at_least=False,
        change=""
        if gap <= most and not empty
        else "bring the faces together, or tell where they are",
        place=Place(where or contact.middle, contact.at),
    )
