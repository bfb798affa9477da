"""What else a module draws beside its links: borders of sheets, screw holes, reliefs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_motion import sound
from scadgen.hinge.family import numbers
from scadgen.motion.contact import overlap
from scadgen.motion.rest import body
from scadgen.proof.reliefs import reliefs
from scadgen.trees.to_mesh import to_mesh

if TYPE_CHECKING:
    from scadgen.hinge.drilled import Drilled
    from scadgen.hinge.family import Hinge
    from scadgen.mechanism.mechanism import Mechanism, Piece

#: Share of a border, or of a pin, that rounding may leave where it should not be.
ROUNDED = 1e-6


def parts(hinge: Hinge, whole: Mechanism) -> Iterator[Finding]:
    """Findings on the parts and options that the measures of the joints do not look at."""
    if whole.whole:
        yield from borders(whole, whole.whole)
    drilled = hinge.drilled_holes()
    if drilled:
        yield screw_holes(hinge, drilled, whole)
    yield from reliefs(hinge, whole)


def borders(whole: Mechanism, piece: Piece) -> Iterator[Finding]:
    """Whether each body that is fused into one piece is sound, and all of it in that piece."""
    for name in piece.bodies:
        one = whole.body(name)
        alone = sound(one.title, body(one.solid))
        outside = (one.solid - piece.solid).volume()
        within = outside <= ROUNDED * one.solid.volume()
        words = f"{alone.words[:-1]}, {outside:.3f} mm3 of it outside {piece.said}."
        yield Finding(alone.name, alone.passed and within, words)


def screw_holes(hinge: Hinge, drilled: Drilled, whole: Mechanism) -> Finding:
    """Whether a pin as wide as its hole goes through each, and each is a hole of its own.

    Holes are counted against the same hinge without them.
    """
    pins, wanted = to_mesh(drilled.pins, numbers(hinge)), drilled.count
    links, bare = ([one.solid for one in of.bodies] for of in (whole, drilled.plain.mechanism()))
    holes = [body(a).openings - body(b).openings for a, b in zip(links, bare, strict=True)]
    stuck = sum(overlap(pins, link) for link in links)
    return Finding(
        "screw holes",
        holes == [wanted, wanted] and stuck <= ROUNDED * pins.volume(),
        f"{holes[0]} and {holes[1]} of {wanted} holes through the leaves; pins of {drilled.width:g}"
        f" mm meet {stuck:.3f} mm3.",
    )
