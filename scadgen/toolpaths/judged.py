"""A file of toolpaths followed layer by layer: what its plastic makes."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.toolpaths.ahead import laid_areas
from scadgen.toolpaths.aids import Between, between
from scadgen.toolpaths.air import Hanging, carriers, hanging
from scadgen.toolpaths.areas import Slab, slabs
from scadgen.toolpaths.fit import Misfit, misfits
from scadgen.toolpaths.lines import Laid
from scadgen.toolpaths.links import Links, found_shift, links_of
from scadgen.toolpaths.patches import DEEPEST, Lump, Patch, Pile
from scadgen.toolpaths.reading import laid_layers
from scadgen.toolpaths.roles import Role
from scadgen.toolpaths.settings import Settings, settings_of
from scadgen.toolpaths.shown import Shown
from scadgen.toolpaths.solid import Filled, Watched, least, watched
from scadgen.toolpaths.welds import Near, Watch, Weld

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.hinge.family import Hinge
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.strength.filling import Filling

#: Lumps smaller than this, mm3, are drops.
DROP = 1.0
#: Longest bridge that printers manage, mm, where nothing is said (common practice, no source).
BRIDGE = 10.0


@dataclass(frozen=True)
class Asked:
    """What a file is held against. whole: a mechanism, with its hinge and how solid it prints.

    shift: where the mechanism stands in the file, mm; None to find it. filament: diameter, mm.
    bridge: longest bridge, mm.
    """

    whole: Mechanism | None = None
    hinge: Hinge | None = None
    filling: Filling | None = None
    shift: tuple[float, float] | None = None
    filament: float | None = None
    bridge: float = BRIDGE


@dataclass(eq=False)
class Followed:
    """What a file's plastic makes.

    lumps: bodies of plastic, the largest first, without drops. on_bed: area of each link's first
    layer, mm2. lumps_of: numbers of the links in each lump. worst: the layer to be drawn.
    """

    settings: Settings
    shown: Shown
    links: Links | None = None
    lumps: list[Lump] = field(default_factory=list)
    lumps_of: list[frozenset[int]] = field(default_factory=list)
    on_bed: list[float] = field(default_factory=list)
    welds: list[Weld] = field(default_factory=list)
    near: list[Near] = field(default_factory=list)
    hanging: list[Hanging] = field(default_factory=list)
    misfits: list[Misfit] = field(default_factory=list)
    between: list[Between] = field(default_factory=list)
    filled: list[Filled] = field(default_factory=list)
    worst: Laid | None = None
    fault: tuple[float, float] | None = None


def follow(path: Path, asked: Asked, tell: Callable[[str], None] = lambda words: None) -> Followed:
    """Follow a file's lines from the bed up. Raises JobError for one that cannot be followed."""
    shift = asked.shift
    if asked.whole is not None and shift is None:
        tell("where it stands")
        solids = [piece.solid for piece in asked.whole.pieces]
        shift = found_shift(laid_layers(path, asked.filament), solids, path)
    links = links_of(asked.whole, shift or (0.0, 0.0)) if asked.whole is not None else None
    return _Follower(path, asked, links).run(tell)


class _Follower:
    def __init__(self, path: Path, asked: Asked, links: Links | None) -> None:
        self.path, self.asked, self.links = path, asked, links
        self.found = Followed(settings_of(path), Shown(), links)
        self.pile = Pile()
        self.watch = Watch(links) if links else None
        self.below: list[Slab] = []
        self.owned: dict[int, set[int]] = {}
        self.sections: list[Watched] = []
        if links and asked.hinge and asked.filling:
            self.sections = list(watched(asked.hinge, asked.filling, links.shift))
        self.weight = 0.0

    def run(self, tell: Callable[[str], None]) -> Followed:
        with closing(laid_areas(self.path, self.asked.filament)) as layers:
            for number, (laid, layer) in enumerate(layers):
                if number % 20 == 0:
                    tell(f"layer {number + 1}, z = {laid.z:.3g} mm")
                self._layer(laid, layer, first=number == 0)
        return self._ended()

    def _layer(self, laid: Laid, layer: list[Slab], *, first: bool) -> None:
        self.found.shown.add(laid)
        new, touching = self.pile.add(layer, self._linked)
        for patch in new:
            if patch.links:
                self.owned.setdefault(patch.number, set()).update(patch.links)
        if self.watch:
            for weld in self.watch.layer(new, self.pile.kept, touching):
                self._worse(laid, 1000 + weld.area, (weld.x, weld.y))
        if self.links:
            for aid in between(self.links, laid, first=first):
                self.found.between.append(aid)
                if not aid.peels:
                    self._worse(laid, aid.area, (aid.x, aid.y))
        self._hang(laid, layer, first)
        if self.links and layer:
            self._fit(laid, layer, new, first)
        support = laid.only(laid.role == Role.SUPPORT)
        carrying = layer + (list(slabs(support)) if len(support.width) else [])
        self.below = [slab for slab in self.below if slab.top > laid.z - DEEPEST] + carrying

    def _linked(self, slab: Slab, area: CrossSection) -> frozenset[int]:
        return self.links.at(slab, area) if self.links else frozenset()

    def _hang(self, laid: Laid, layer: list[Slab], first: bool) -> None:
        if first:
            return
        lines = laid.printed
        for slab in layer:
            drawn = self.links.drawn(slab.bottom - (slab.top - slab.middle)) if self.links else None
            carrying = carriers(slab, self.below)
            for hang in hanging(slab, lines, carrying, self.asked.bridge, drawn):
                self.found.hanging.append(hang)
                self._worse(laid, 100 + hang.length, (hang.x, hang.y))

    def _fit(self, laid: Laid, layer: list[Slab], new: list[Patch], first: bool) -> None:
        assert self.links
        plastic = layer[0].area
        for slab in layer[1:]:
            plastic = plastic + slab.area
        span = (laid.z - laid.usual_height, laid.z)
        if first:
            areas = [0.0] * len(self.links.solids)
            for patch in new:
                for link in patch.links:
                    areas[link] += patch.area.area() / len(patch.links)
            self.found.on_bed = areas
        width = float(laid.printed.width.min())
        for misfit in misfits(self.links, plastic, span, width, first=first):
            self.found.misfits.append(misfit)
            self._worse(laid, misfit.area, (misfit.x, misfit.y))
        for section in self.sections:
            section.layer(plastic, *span)

    def _worse(self, laid: Laid, weight: float, fault: tuple[float, float]) -> None:
        if weight > self.weight:
            self.weight, self.found.worst, self.found.fault = weight, laid, fault

    def _ended(self) -> Followed:
        found = self.found
        owners: dict[int, set[int]] = {}
        for number, links in self.owned.items():
            owners.setdefault(self.pile.root(number), set()).update(links)
        for number, lump in self.pile.lumps().items():
            if lump.volume > DROP:
                found.lumps.append(lump)
                found.lumps_of.append(frozenset(owners.get(number, ())))
        if self.watch:
            found.welds = self.watch.welds
            found.near = list(self.watch.near.values())
        found.filled = least(self.sections)
        return found
