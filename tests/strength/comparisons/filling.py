"""Sections as they print."""

from __future__ import annotations

from collections.abc import Iterator

import manifold3d

from scadgen.strength.filling import Filling, in_bending, in_tension, round_bar
from tests.strength.compared import COMPUTED, Comparison, Source, compares, share
from tests.strength.section import inertia

POLYGONS = Source("polygons, the core cut from the outline (manifold3d)", COMPUTED)
WEAK = Filling(2, 0.1, 0.45)


@compares("Sections as they print")
def rectangles() -> Iterator[Comparison]:
    for along, across in ((4.0, 4.0), (6.0, 2.0), (2.0, 30.0), (1.5, 1.5)):
        for filling in (WEAK, Filling(3, 0.2, 0.4), Filling(2, 1.0, 0.45)):
            case = f"{along:g} x {across:g}, {filling.words}, lines of {filling.line}"
            square = manifold3d.CrossSection.square((across, along), center=True)
            core = square.offset(-filling.shell, manifold3d.JoinType.Miter)
            lacks = 1 - filling.infill
            ours = in_bending(along, across).share(filling)
            theirs = 1 - lacks * inertia(core) / inertia(square)
            yield Comparison("share of the modulus", case, ours, theirs, share(1e-6), POLYGONS)
            ours = in_tension(along, across).share(filling)
            theirs = 1 - lacks * core.area() / square.area()
            yield Comparison("share of the area", case, ours, theirs, share(1e-6), POLYGONS)


@compares("Sections as they print")
def round_bars() -> Iterator[Comparison]:
    disc = manifold3d.CrossSection.circle(2.5, 256)
    core = disc.offset(-WEAK.shell, manifold3d.JoinType.Round)
    ours = round_bar(5.0).share(WEAK)
    theirs = 1 - (1 - WEAK.infill) * core.area() / disc.area()
    case = f"d 5, {WEAK.words}, lines of {WEAK.line}"
    yield Comparison("share of a round bar's area", case, ours, theirs, share(0.01), POLYGONS)
