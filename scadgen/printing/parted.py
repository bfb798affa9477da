"""Bodies that fall apart as they print: what joins their parts is less than a printer lays down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.cuts import TOLERANCE, Cuts
from scadgen.printing.outlines import moved, within

if TYPE_CHECKING:
    from manifold3d import CrossSection

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


@dataclass(eq=False)
class _Part:
    """A part of a body, as far as it has grown. first: where it begins."""

    volume: float
    first: tuple[CrossSection, float]
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
    below: list[tuple[CrossSection, _Part]] = []
    last: CrossSection | None = None
    for k in range(made.count(height)):
        section = made.section(body, k, height)
        here = []
        for number, area in enumerate(made.once(_laid, section, half)):
            under = (
                [below[number][1]]
                if section is last
                else [part for other, part in below if _lies(area, other, half)]
            )
            here.append((area, _grown(parts, under, area, k * height, height)))
        below, last = here, section
    whole = [part for part in parts if part.joined is None and part.volume > DROP]
    if len(whole) < 2:
        return None
    area, z = min(whole, key=lambda part: part.volume).first
    return Parted(body, len(whole), *within(area), z)


def _laid(section: CrossSection, half: float) -> list[CrossSection]:
    """Where middles of lines may lie in a section, so far (mm) from its outline: each area."""
    areas: list[CrossSection] = moved(section, -half).decompose()
    return areas


def _lies(upper: CrossSection, lower: CrossSection, half: float) -> bool:
    """Whether lines whose middles lie in an area come to lie on those of another."""
    left, front, right, back = upper.bounds()
    low_x, low_y, high_x, high_y = lower.bounds()
    across, along = max(left - high_x, low_x - right), max(front - high_y, low_y - back)
    if max(across, along) > 2 * half:
        return False
    if (upper ^ lower).area() > TOUCHES:
        return True
    return bool((moved(upper, half) ^ moved(lower, half)).area() > TOUCHES)


def _grown(
    parts: list[_Part], under: list[_Part], area: CrossSection, z: float, height: float
) -> _Part:
    """The part of which an area is the next layer: all that it lies on become one."""
    roots = list(dict.fromkeys(part.whole for part in under))
    if not roots:
        parts.append(_Part(0.0, (area, z)))
        roots = [parts[-1]]
    first, *others = roots
    for other in others:
        first.volume += other.volume
        other.joined = first
    first.volume += area.area() * height
    return first
