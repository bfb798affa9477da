"""Lines over air: where they start, end, turn or run too far with nothing below."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.printing.cuts import TOLERANCE
from scadgen.toolpaths.areas import STEP, Slab, boxes, covered, meet, wider
from scadgen.toolpaths.inside import inside
from scadgen.toolpaths.roles import NOT_PRINT, WALLS, Role

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    from scadgen.toolpaths.lines import Laid

    Array = numpy.ndarray[Any, Any]

#: Steps by which a line is followed, mm.
FOLLOWED = 0.15
#: Steepest overhang that prints, degrees from the vertical, as the layer proof has it.
REACH_ANGLE = 45.0
#: A line's middle may leave what is below by so much, mm, beyond that: slicers round outlines.
SLACK = 0.06
#: What hangs over air for less than so many widths of its line is carried by the line itself
#: (common practice, no source).
OWN = 3.0
#: Smallest gap between lines of infill that counts, mm2: in a smaller one no line hangs.
POCKET = 0.05
#: Outlines smaller than a disc by this share hold none, rounded as they are.
ROOM = 0.9
#: A line that comes this near to a wall beside it, in widths from its middle, is held by it.
HELD = 0.45


@dataclass(frozen=True)
class Hanging:
    """A stretch of a line over air. what: "starts", "ends", "runs", "turns" or "lies" there.

    length: mm. z: top of its layer, mm. x, y: its middle, mm. line: of the file.
    """

    what: str
    length: float
    z: float
    x: float
    y: float
    line: int
    role: Role


def hanging(
    slab: Slab,
    layer: Laid,
    below: Sequence[Slab],
    longest_bridge: float,
    drawn: CrossSection | None = None,
) -> Iterator[Hanging]:
    """What of a slab hangs in the air. longest_bridge: mm.

    layer: all lines of its layer: a run may go on in another slab. below: slabs that can carry it.
    Lines between walls are carried by walls of their own layer, too, if these hang nowhere. What
    lies over a body's own inside, between lines of infill, is left to the infill: ``drawn`` is the
    model's section below, where it is known, and else insides are told by lines of infill.
    """
    import numpy as np

    zone = _zone(slab, below, drawn)
    if zone.is_empty():
        return
    around = np.isin(layer.role, WALLS)
    paths = [np.nonzero(layer.path == path)[0] for path in _paths(slab, zone)]
    bad: list[int] = []
    for path in (path for path in paths if around[path[0]]):
        found = list(_of_path(layer, path, zone, longest_bridge))
        bad += [int(layer.path[path[0]])] if found else []
        yield from found
    between = [path for path in paths if not around[path[0]]]
    if between and around.any():
        sound = layer.only(around & ~np.isin(layer.path, bad))
        zone = zone - wider(covered(sound), HELD * float(slab.lines.width.min()))
    for path in between:
        yield from _of_path(layer, path, zone, longest_bridge)


def _of_path(
    lines: Laid, path: Array, zone: CrossSection, longest_bridge: float
) -> Iterator[Hanging]:
    points, source = _followed(lines.start[path], lines.end[path], lines.source[path])
    air = inside(points, zone)
    width, role = float(lines.width[path].mean()), Role(int(lines.role[path[0]]))
    for run in _runs(points, air):
        what = _judged(points, run, width, longest_bridge)
        if what:
            x, y = points[run[len(run) // 2]].tolist()
            line = int(source[run[len(run) // 2]])
            yield Hanging(what, way(points[run]), lines.z, x, y, line, role)


def _zone(slab: Slab, below: Sequence[Slab], drawn: CrossSection | None) -> CrossSection:
    """What of a slab's area is too far from all plastic below for a line's middle to lie there."""
    from manifold3d import CrossSection

    width = float(slab.lines.width.min())
    height = slab.lines.usual_height
    reach = max(0.0, height * math.tan(math.radians(REACH_ANGLE)) - width / 2) + SLACK
    carrying = [other.area for other in below]
    over = slab.area
    for area in carrying:
        over = over - area
    over = _with_room(over, width)
    if _middles(over, width).is_empty():
        return CrossSection()  # mostly: all else would lie within it
    insides = [filled(other) for other in below] if drawn is None else [drawn]
    bare = over
    for area in insides:
        bare = bare - area
    if _middles(bare, width).is_empty():  # nor does any of it lie farther than the reach
        return CrossSection()
    zone = _core(over, width)
    zone = _core(_beyond(zone, insides, reach), width)  # the simpler outlines first
    return zone if zone.is_empty() else _core(_beyond(zone, carrying, reach), width)


def _beyond(over: CrossSection, areas: Sequence[CrossSection], reach: float) -> CrossSection:
    """What of an area lies farther than the reach from others."""
    for area in areas:
        over = over - wider(area, reach)
    return over


def _core(over: CrossSection, width: float) -> CrossSection:
    """What of an area may hold a line's middle."""
    core = _middles(over, width)
    return core if core.is_empty() else over ^ wider(core, width)


def _middles(over: CrossSection, width: float) -> CrossSection:
    """The middles of discs in an area, as wide as half a line.

    Around a line's middle in the air lies as much plastic: slimmer slivers hold none.
    """
    over = _with_room(over, width)
    return over if over.is_empty() else wider(over, -_radius(width))


def _radius(width: float) -> float:
    return width / 4 + TOLERANCE


def _with_room(over: CrossSection, width: float) -> CrossSection:
    """The outlines that are large enough for a disc as wide as half a line, with their holes."""
    import numpy as np
    from manifold3d import CrossSection, FillRule

    outlines = over.to_polygons()
    if not outlines:
        return over
    counts = np.array([len(outline) for outline in outlines])
    points, first = np.concatenate(outlines), np.cumsum(counts) - counts
    after = np.arange(1, len(points) + 1)
    after[first + counts - 1] = first
    twice = points[:, 0] * points[after, 1] - points[after, 0] * points[:, 1]
    areas = np.add.reduceat(twice, first) / 2
    radius = _radius(width)
    large = areas >= ROOM * math.pi * radius * radius
    sizes = np.maximum.reduceat(points, first) - np.minimum.reduceat(points, first)
    large &= (sizes >= 2 * ROOM * radius).all(axis=1)
    if not large.any():
        return CrossSection()
    kept = large | (areas < 0)
    if kept.all():
        return over
    some = [outline for outline, keep in zip(outlines, kept.tolist(), strict=True) if keep]
    return CrossSection(some, FillRule.Positive)


def filled(slab: Slab) -> CrossSection:
    """The walls of a slab, and the insides between them in which lines of infill run."""
    import numpy as np
    from manifold3d import CrossSection, OpType

    lines = slab.lines
    walls = covered(lines.only(np.isin(lines.role, WALLS)))
    fill = lines.only(np.isin(lines.role, (Role.INFILL, Role.SOLID)))
    if walls.is_empty() or not len(fill.width):
        return CrossSection()
    middles = (fill.start + fill.end) / 2
    low_x, low_y, high_x, high_y = walls.bounds()
    size = (high_x - low_x + 2, high_y - low_y + 2)
    around = CrossSection.square(size).translate((low_x - 1, low_y - 1))
    parts = [part for part in (around - walls).decompose() if part.area() > POCKET]
    inner = [part for part in parts if _runs_in(middles, part, low_x - HELD)]
    return CrossSection.batch_boolean([walls, *inner], OpType.Add)


def _runs_in(middles: Array, part: CrossSection, outside: float) -> bool:
    """Whether lines run in a part that does not reach outside (x, mm)."""
    low_x, low_y, high_x, high_y = part.bounds()
    if low_x < outside:
        return False
    near = (middles >= (low_x, low_y)).all(axis=1) & (middles <= (high_x, high_y)).all(axis=1)
    return bool(inside(middles[near], part).any())


def _paths(slab: Slab, zone: CrossSection) -> list[int]:
    """The runs that come near to a zone."""
    import numpy as np

    lines = slab.lines
    around = np.concatenate(
        [np.minimum(lines.start, lines.end), np.maximum(lines.start, lines.end)], axis=1
    )
    near = np.zeros(len(lines.width), bool)
    for box in boxes(zone.decompose()):
        near |= meet(box, around)
    near &= ~np.isin(lines.role, NOT_PRINT)
    return [int(path) for path in np.unique(lines.path[near])]


def _followed(start: Array, end: Array, source: Array) -> tuple[Array, Array]:
    """Points along a run, its first and last included, and the line of the file of each."""
    import numpy as np

    lengths = np.hypot(*(end - start).T)
    counts = np.maximum(np.ceil(lengths / FOLLOWED).astype(int), 1)
    which = np.repeat(np.arange(len(start)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    share = ((np.arange(len(which)) - first) / counts[which])[:, None]
    points = start[which] * (1 - share) + end[which] * share
    return np.concatenate([points, end[-1:]]), np.concatenate([source[which], source[-1:]])


def _runs(points: Array, air: Array) -> Iterator[Array]:
    """Stretches over air as places of points; that of a closed run may pass its seam."""
    import numpy as np

    order = np.arange(len(points))
    closed = np.hypot(*(points[0] - points[-1])) < FOLLOWED
    if closed and not air.all() and air[0]:
        order = np.roll(order, -int(np.nonzero(~air)[0][0]))
    flags = air[order].astype(int)
    change = np.diff(np.concatenate([[0], flags, [0]]))
    for low, high in zip(np.nonzero(change == 1)[0], np.nonzero(change == -1)[0], strict=True):
        yield order[low:high]


def _judged(points: Array, run: Array, width: float, longest_bridge: float) -> str:
    """What is wrong with a stretch over air; "" for nothing."""
    import numpy as np

    length, last = way(points[run]), len(points) - 1
    closed = np.hypot(*(points[0] - points[-1])) < FOLLOWED
    starts, ends = run[0] == 0 and not closed, run[-1] == last and not closed
    if len(run) > last or (starts and ends):
        return "lies" if length > width else ""
    if length <= OWN * width:
        return ""
    if starts or ends:
        return "starts" if starts else "ends"
    if length > longest_bridge + 2 * FOLLOWED:
        return "runs"
    chord = points[run[-1]] - points[run[0]]
    out = points[run] - points[run[0]]
    away = np.abs(out[:, 0] * chord[1] - out[:, 1] * chord[0]) / max(np.hypot(*chord), 1e-9)
    return "turns" if float(away.max()) > width else ""


def way(points: Array) -> float:
    """Length of a way through points, mm."""
    import numpy as np

    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def carriers(slab: Slab, kept: Sequence[Slab]) -> list[Slab]:
    """The slabs that carry a slab: those that end where it begins, or reach into it."""
    return [
        other for other in kept if other.top >= slab.bottom - STEP and other.top < slab.top - STEP
    ]
