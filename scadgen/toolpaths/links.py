"""The links of a mechanism where a file prints them: whose place is whose."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from scadgen.tables.documents import JobError
from scadgen.toolpaths.areas import Slab

if TYPE_CHECKING:
    from pathlib import Path

    from manifold3d import CrossSection, Manifold

    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.toolpaths.lines import Array, Laid

#: Plastic in the place of a link below this, mm2, is a line that leans over; it is none of it.
FOREIGN = 0.15
#: Above this height, mm, or half of a lower model, lies what tells where the model stands: skirts,
#: brims and a spread first layer lie below.
CLEAR = 1.2
#: By how much the sizes of the model and of its plastic may differ, mm: corners and seams.
FITS = 0.7
#: Half of the height, mm, in which a face counts as flat. Sections of each link that are kept.
FLAT, KEPT = 0.005, 32


@dataclass(frozen=True, eq=False)
class Links:
    """Pieces of a mechanism as they stand in a file. names: in a sentence. shift: x and y, mm."""

    names: tuple[str, ...]
    solids: tuple[Manifold, ...]
    shift: tuple[float, float] = (0.0, 0.0)
    _made: dict[tuple[int, float], CrossSection] = field(default_factory=dict, repr=False)

    def section(self, link: int, z: float) -> CrossSection:
        """The section of a link at a height, mm; where it changes there, all of both."""
        low, high = self._around(link, z)
        return low + high

    def firm(self, link: int, z: float) -> CrossSection:
        """The section of a link at a height, mm; where it changes there, what both have."""
        low, high = self._around(link, z)
        return low ^ high

    def _around(self, link: int, z: float) -> tuple[CrossSection, CrossSection]:
        """Right below a height and right above: slicers may cut on either side of a flat face."""
        return self._slice(link, z - FLAT), self._slice(link, z + FLAT)

    def _slice(self, link: int, z: float) -> CrossSection:
        key = (link, round(z, 4))
        if key not in self._made:
            if len(self._made) > KEPT * len(self.solids):
                self._made.clear()
            self._made[key] = self.solids[link].slice(key[1])
        return self._made[key]

    def drawn(self, z: float) -> CrossSection:
        """The sections of all links at a height, mm."""
        from manifold3d import CrossSection, OpType

        every = [self.section(link, z) for link in range(len(self.solids))]
        return CrossSection.batch_boolean(every, OpType.Add)

    def at(self, slab: Slab, area: CrossSection) -> frozenset[int]:
        """The links in whose place an area of a slab lies."""
        if len(self.solids) == 1:
            return frozenset((0,))
        return frozenset(
            link
            for link in range(len(self.solids))
            if (self.section(link, slab.middle) ^ area).area() > min(FOREIGN, area.area() / 2)
        )


def links_of(whole: Mechanism, shift: tuple[float, float]) -> Links:
    """The links of a mechanism, moved by so much (mm) in the plane."""
    pieces = whole.pieces
    solids = tuple(piece.solid.translate((*shift, 0.0)) for piece in pieces)
    return Links(tuple(piece.said for piece in pieces), solids, shift)


def _box(lines: Laid) -> tuple[Array, Array]:
    """The corners of what lines cover, mm."""
    import numpy as np

    radius = lines.width[:, None] / 2
    low = (np.minimum(lines.start, lines.end) - radius).min(axis=0)
    high = (np.maximum(lines.start, lines.end) + radius).max(axis=0)
    return low, high


def _usual_shift(
    boxes: Sequence[tuple[float, Array, Array]], solids: Sequence[Manifold]
) -> tuple[float, float] | None:
    """Where a model stands by its layers that fit it; None where fewer than most do.

    Single lines along narrow tips end beyond them, so that some layers are larger than drawn.
    """
    import numpy as np

    shifts = []
    for z, low, high in boxes:
        cut = [section.bounds() for solid in solids if not (section := solid.slice(z)).is_empty()]
        if cut:
            drawn = np.array(cut)
            start, end = drawn[:, :2].min(axis=0), drawn[:, 2:].max(axis=0)
            if (np.abs((high - low) - (end - start)) <= FITS / 2).all():
                shifts.append((low + high - start - end) / 2)
    if len(shifts) * 2 < len(boxes) or not shifts:
        return None
    x, y = np.median(shifts, axis=0)
    return float(x), float(y)


def found_shift(
    layers: Iterator[Laid], solids: Sequence[Manifold], path: Path
) -> tuple[float, float]:
    """How far a file prints a model from where it is drawn, x and y, mm.

    Raises JobError where what it prints has other sizes than the model.
    """
    import numpy as np

    top = max(solid.bounding_box()[5] for solid in solids)
    clear = min(CLEAR, top / 2)
    above = [solid.trim_by_plane((0, 0, 1), clear).bounding_box() for solid in solids]
    drawn = np.array(above)
    low, high = drawn[:, :2].min(axis=0), drawn[:, 3:5].max(axis=0)
    boxes = [
        (laid.z - laid.usual_height / 2, *_box(laid.printed))
        for laid in layers
        if laid.z - laid.usual_height / 2 > clear and len(laid.printed.width)
    ]
    first = np.min([one[1] for one in boxes], axis=0) if boxes else np.full(2, np.inf)
    last = np.max([one[2] for one in boxes], axis=0) if boxes else np.full(2, -np.inf)
    size, wanted = last - first, high - low
    if not np.isfinite(size).all() or (np.abs(size - wanted) > FITS).any():
        usual = _usual_shift(boxes, solids)
        if usual is not None:
            return usual
        told = "nothing" if not np.isfinite(size).all() else f"{size[0]:.1f} x {size[1]:.1f} mm"
        words = f"above z = {clear:.3g} mm it prints {told}, and the model is there"
        rule = f"{wanted[0]:.1f} x {wanted[1]:.1f} mm"
        help_ = "Slice that model alone, unturned, or say where it stands: --at 100,100"
        raise JobError(f"{path}: {words} {rule}. {help_}.")
    middle = (first + last - low - high) / 2
    return float(middle[0]), float(middle[1])
