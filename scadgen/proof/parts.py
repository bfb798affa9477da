"""What else a module draws beside its links: borders of sheets, screw holes, reliefs."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_motion import sound
from scadgen.hinge.family import numbers
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.leaf import Leaves
from scadgen.hinge.meshing import mesh
from scadgen.motion.contact import overlap
from scadgen.motion.rest import body
from scadgen.proof.reliefs import reliefs
from scadgen.trees.to_mesh import to_mesh

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge

SIDES = ("fixed", "moving")
#: Share of a border, or of a pin, that rounding may leave where it should not be.
ROUNDED = 1e-6


def parts(hinge: Hinge) -> Iterator[Finding]:
    """Findings on the parts and options that the measures of the links do not look at."""
    if isinstance(hinge, Flexure):
        yield from borders(hinge)
    if isinstance(hinge, Leaves) and hinge.screw:
        yield screw_holes(hinge)
    yield from reliefs(hinge)


def borders(hinge: Flexure) -> Iterator[Finding]:
    """Whether either border is one sound piece, and all of it in the sheet."""
    sheet = mesh(hinge, "both", angle=0)
    for side in SIDES:
        border = mesh(hinge, side, angle=0)
        alone = sound(f"{side} border", body(border))
        outside = (border - sheet).volume()
        within = outside <= ROUNDED * border.volume()
        words = f"{alone.words[:-1]}, {outside:.3f} mm3 of it outside the sheet."
        yield Finding(alone.name, alone.passed and within, words)


def screw_holes(hinge: Leaves) -> Finding:
    """Whether a pin as wide as its hole goes through each, and each is a hole of its own.

    Holes are counted against the same hinge without screws.
    """
    pins, wanted = to_mesh(hinge.screw_pins(), numbers(hinge)), int(hinge.screws)
    plain = dataclasses.replace(hinge, screw=0)
    links, bare = ([mesh(of, side, angle=0) for side in SIDES] for of in (hinge, plain))
    holes = [body(a).openings - body(b).openings for a, b in zip(links, bare, strict=True)]
    stuck = sum(overlap(pins, link) for link in links)
    return Finding(
        "screw holes",
        holes == [wanted, wanted] and stuck <= ROUNDED * pins.volume(),
        f"{holes[0]} and {holes[1]} of {wanted} holes through the leaves; pins of {hinge.hole:g}"
        f" mm meet {stuck:.3f} mm3.",
    )
