"""How much of the sections that bear load is filled with plastic."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from scadgen.printing.outlines import distances, edges
from scadgen.strength.carried import Cut
from scadgen.toolpaths.areas import wider
from scadgen.toolpaths.inside import inside

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection, Manifold

    from scadgen.hinge.family import Hinge
    from scadgen.strength.filling import Filling

    Array = numpy.ndarray[Any, Any]

AXES = "xyz"
#: Thickness of the slice of a solid that stands for an upright plane, mm.
THIN = 0.1
#: A window without an end, mm.
WIDE = 1e4


@dataclass(eq=False)
class Watched:
    """A section that bears load, as it is being laid.

    place: what may give way there. cut: its plane. solid: what of the link lies in it, as it stands
    in the file. assumed: share that is plastic if its walls and its infill are those reckoned with.
    """

    place: str
    cut: Cut
    solid: Manifold
    assumed: float
    filled: float = 0.0
    whole: float = 0.0
    low: float = field(init=False)
    high: float = field(init=False)

    def __post_init__(self) -> None:
        self.low, self.high = self.solid.bounding_box()[2], self.solid.bounding_box()[5]

    def layer(self, plastic: CrossSection, bottom: float, top: float) -> None:
        """Count what a layer lays of it."""
        middle = (bottom + top) / 2
        if self.cut.normal == "z":
            if not bottom < self.cut.at[2] <= top:
                return
            middle = (self.low + self.high) / 2
        elif not self.low <= middle <= self.high:
            return
        section = self.solid.slice(middle)
        self.whole += section.area() * (top - bottom)
        self.filled += (section ^ plastic).area() * (top - bottom)

    @property
    def share(self) -> float | None:
        """What is plastic, 0 to 1; None where no layer has come through it."""
        return self.filled / self.whole if self.whole else None


@dataclass(frozen=True)
class Filled:
    """The least filled section of a place. share: plastic, 0 to 1. assumed: as reckoned with."""

    place: str
    share: float
    assumed: float
    point: tuple[float, float, float]


def watched(hinge: Hinge, filling: Filling, shift: tuple[float, float]) -> Iterator[Watched]:
    """The planes that a family names as bearing load, in the solids as a file prints them.

    It names them flat: of a side that prints turned none are looked at.
    """
    from scadgen.hinge.meshing import mesh

    solids: dict[str, Manifold] = {}
    for carrier in hinge.carriers():
        for cut in carrier.cuts:
            if isinstance(cut, Cut) and not (hinge.as_printed() and cut.part == "moving"):
                if cut.part not in solids:
                    solids[cut.part] = mesh(hinge, cut.part)
                plane, window = _plane(solids[cut.part], cut)
                section = _section(plane ^ window, cut)
                thin = _thin(solids[cut.part], cut)
                if not section.is_empty() and not thin.is_empty():
                    core = (wider(plane, -filling.shell) ^ section).area() / section.area()
                    assumed = 1 - (1 - filling.infill) * core
                    yield Watched(carrier.place, cut, thin.translate((*shift, 0)), assumed)


def least(every: Sequence[Watched]) -> list[Filled]:
    """Of each place the section that is filled the least beside what is assumed of it."""
    found: dict[str, Filled] = {}
    for one in every:
        if one.share is None:
            continue
        here = Filled(one.place, one.share, one.assumed, one.cut.at)
        before = found.get(one.place)
        if before is None or here.share - here.assumed < before.share - before.assumed:
            found[one.place] = here
    return list(found.values())


def _plane(solid: Manifold, cut: Cut) -> tuple[CrossSection, CrossSection]:
    """The whole plane of a cut through a solid, and the window of it that counts."""
    import numpy as np
    from manifold3d import CrossSection

    n, (u, v), at = _axes(cut)
    sides = np.minimum([cut.window[u], cut.window[v]], WIDE).tolist()
    window = CrossSection.square(sides, center=True).translate(at.tolist())
    return solid.transform(np.eye(3, 4)[[u, v, n]]).slice(cut.at[n]), window


def _section(plane: CrossSection, cut: Cut) -> CrossSection:
    """What counts of a plane: the outline nearest to the cut's point, or the whole."""
    if plane.is_empty() or cut.whole:
        return plane
    at = _axes(cut)[2]
    return min(plane.decompose(), key=lambda one: _away(one, at))


def _axes(cut: Cut) -> tuple[int, tuple[int, int], Array]:
    """The axis that a cut is square to, those in its plane, and its point in these."""
    import numpy as np

    n = AXES.index(cut.normal)
    u, v = (n + 1) % 3, (n + 2) % 3
    return n, (u, v), np.array([cut.at[u], cut.at[v]])


def _away(outline: CrossSection, at: Array) -> float:
    if bool(inside(at[None], outline)[0]):
        return 0.0
    return float(distances(at[None], edges(outline))[0])


def _thin(solid: Manifold, cut: Cut) -> Manifold:
    """The slice of a solid around a cut, of which the part nearest to its point counts."""
    import numpy as np
    from manifold3d import Manifold

    n = AXES.index(cut.normal)
    sides = np.minimum(cut.window, WIDE)
    sides[n] = THIN
    block = Manifold.cube(sides.tolist(), center=True).translate(cut.at)
    thin = solid ^ block
    if cut.whole or thin.is_empty():
        return thin
    dot = Manifold.sphere(THIN, 8).translate(cut.at)
    return min(thin.decompose(), key=lambda one: float(one.min_gap(dot, WIDE)))
