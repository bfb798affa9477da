"""Bodies that fall apart as they print: what joins their parts is less than a printer lays down."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.printing.cuts import TOLERANCE, Cuts
from scadgen.printing.outlines import moved, within

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]

#: A wall down to this share of a line is still printed as one line (common practice, no source).
ONE_LINE = 0.9
#: What shares less, mm2, from layer to layer touches, and tears apart (assumed).
TOUCHES = 0.01
#: Parts smaller than this, mm3, are tips and slivers.
DROP = 1.0


@dataclass(frozen=True)
class Parted:
    """A body that prints as several. count: parts of it. x, y, z: a place of the smallest, mm."""

    body: int
    count: int
    x: float
    y: float
    z: float


@dataclass(frozen=True, eq=False)
class _Area:
    """Where middles of lines lie. size: mm2. box: its least and largest x and y, mm."""

    section: CrossSection
    size: float
    box: tuple[float, float, float, float]

    @cached_property
    def corners(self) -> Array:
        """All corners of its outlines, (n, 2), mm."""
        import numpy as np

        return np.concatenate(self.section.to_polygons())

    def comes_near(self, other: _Area, within: float) -> bool:
        """Whether some corner comes as near (mm) to one of another."""
        apart = self.corners - other.corners[0]
        return bool((apart * apart).sum(1).min() <= within * within)


@dataclass(eq=False)
class _Part:
    """A part of a body, as far as it has grown. first: where it begins."""

    volume: float
    first: tuple[_Area, float]
    joined: _Part | None = None

    @property
    def whole(self) -> _Part:
        """The part that it has become one with."""
        return self if self.joined is None else self.joined.whole


def parted(made: Cuts, height: float, line: float) -> list[Parted]:
    """The bodies that print as several in layers so high, of lines so wide (mm).

    In a layer what is thinner than a line is not laid; and from layer to layer parts join where one
    lies on the other.
    """
    found = (_parted(made, body, height, line) for body in range(len(made.bodies)))
    return [one for one in found if one]


def _parted(made: Cuts, body: int, height: float, line: float) -> Parted | None:
    half = ONE_LINE * line / 2 - TOLERANCE
    parts: list[_Part] = []
    below: list[tuple[_Area, _Part]] = []
    for k, alike, section in _runs(made, body, height):
        here = []
        for area in made.once(_laid, section, half):
            under = [part for other, part in below if _lies(area, other, half)]
            here.append((area, _grown(parts, under, area, k * height, alike * height)))
        below = here
    whole = [part for part in parts if part.joined is None and part.volume > DROP]
    if len(whole) < 2:
        return None
    area, z = min(whole, key=lambda part: part.volume).first
    return Parted(body, len(whole), *within(area.section), z)


def _runs(made: Cuts, body: int, height: float) -> Iterator[tuple[int, int, CrossSection]]:
    """Layers of a body that have one section: the first, how many they are, and the section."""
    first, last = 0, made.section(body, 0, height)
    for k in range(1, made.count(height)):
        section = made.section(body, k, height)
        if section is not last:
            yield first, k - first, last
            first, last = k, section
    yield first, made.count(height) - first, last


def _laid(section: CrossSection, half: float) -> list[_Area]:
    """Where middles of lines may lie in a section, so far (mm) from its outline: each area."""
    areas = moved(section, -half).decompose()
    return [_Area(area, area.area(), area.bounds()) for area in areas if not area.is_empty()]


def _lies(upper: _Area, lower: _Area, half: float) -> bool:
    """Whether lines whose middles lie in an area come to lie on those of another."""
    left, front, right, back = upper.box
    low_x, low_y, high_x, high_y = lower.box
    far = 2 * half
    if left - high_x > far or low_x - right > far or front - high_y > far or low_y - back > far:
        return False
    wide, deep = max(right, high_x) - min(left, low_x), max(back, high_y) - min(front, low_y)
    if upper.size + lower.size - wide * deep > TOUCHES:
        return True  # so much of the box around both is in both
    if half * half > TOUCHES and upper.comes_near(lower, half):
        return True  # two rounds about points so near share more than their radius squared
    if (upper.section ^ lower.section).area() > TOUCHES:
        return True
    return bool((moved(upper.section, half) ^ moved(lower.section, half)).area() > TOUCHES)


def _grown(parts: list[_Part], under: list[_Part], area: _Area, z: float, height: float) -> _Part:
    """The part that an area carries on, so high (mm): all that it lies on become one."""
    roots = list(dict.fromkeys(part.whole for part in under))
    if not roots:
        parts.append(_Part(0.0, (area, z)))
        roots = [parts[-1]]
    first, *others = roots
    for other in others:
        first.volume += other.volume
        other.joined = first
    first.volume += area.size * height
    return first
