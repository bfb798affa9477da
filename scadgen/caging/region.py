"""Regions of poses around rest, and the one whose boundary seems blocked best."""

from __future__ import annotations

from dataclasses import astuple, dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.caging.poses import ALONG, ASIDE, TILT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from scadgen.caging.witnesses import Witnesses

Array = np.ndarray[Any, Any]

#: A straight shift, mm, or a tilt that moves places as far, is tried from the first of these on to
#: the longest, mm, or the steepest, rad, in so many steps, each longer by the same factor.
FIRST, LONGEST, STEEPEST, TRIED = 0.05, 10.0, 0.6, 48
#: Sizes of regions that are tried, as multiples of the way to the first contact along each.
TIMES = (1.1, 1.35, 1.7, 2.2, 2.8, 3.5)
#: Ways of the tilt that are looked at, from towards the shift to against it.
WAYS = 5
#: Within so much of its size from a region's boundary, a pose tells of the boundary.
ABOUT = 0.12
#: Poses in a sample of the largest region.
SAMPLE = 128


@dataclass(frozen=True)
class Region:
    """Shifts of the centre up to ``aside`` square to the axis, from ``-below`` to ``above`` along
    it (mm), and tilts up to ``tilt`` (rad)."""

    aside: float
    below: float
    above: float
    tilt: float

    def faces(self) -> tuple[Array, Array]:
        """The cells (4, 4) that its boundary is made of: their middles, and half their sizes."""
        middle, half = (self.above - self.below) / 2, (self.above + self.below) / 2
        aside, tilt, way = self.aside / 2, self.tilt / 2, np.pi / 2
        middles = [
            *((self.aside, middle, tilt, way), (aside, -self.below, tilt, way)),
            *((aside, self.above, tilt, way), (aside, middle, self.tilt, way)),
        ]
        halves = [(0, half, tilt, way), (aside, 0, tilt, way), (aside, 0, tilt, way)]
        return np.array(middles), np.array([*halves, (aside, half, 0, way)])


@dataclass(frozen=True, eq=False)
class Free:
    """A straight shift or tilt on which nothing was met; ``words`` says along which."""

    words: str


def contacts(seen: Witnesses) -> Region | Free:
    """How far straight shifts and a tilt go before the cores overlap, or the way that is free."""
    ends = []
    slightly = FIRST / float(seen.levers.max())
    for which, sign, ends_at, words in (
        (ASIDE, 1, (FIRST, LONGEST), "square to the axis"),
        (ALONG, -1, (FIRST, LONGEST), "against the axis"),
        (ALONG, 1, (FIRST, LONGEST), "along the axis"),
        (TILT, 1, (slightly, STEEPEST), "in tilt"),
    ):
        poses = np.zeros((TRIED, 4))
        poses[:, which] = sign * np.geomspace(*ends_at, TRIED)
        met = seen.shared(poses) > 0
        if not met.any():
            return Free(words)
        ends.append(float(abs(poses[met.argmax(), which])))
    return Region(*ends)


class Choice:
    """Regions in order of how well their boundaries seem blocked."""

    def __init__(self, seen: Witnesses, first: Region) -> None:
        self._sizes, self._blocked = _tried(seen, first)

    def regions(self) -> Iterator[tuple[Region, float]]:
        """The best region left, and the radius that seems to block it (mm)."""
        while (best := int(self._blocked.argmax())) >= 0 and self._blocked[best] > 0:
            seems = float(self._blocked[best])
            self._blocked[best] = 0
            yield Region(*self._sizes[best].tolist()), seems

    def learn(self, pose: Array, radius: float) -> None:
        """A pose is blocked by no more: nor are regions whose boundary runs near it."""
        aside, below, above, tilt = self._sizes.T
        along = pose[ALONG] / np.where(pose[ALONG] < 0, -below, above)
        far = np.maximum(np.maximum(pose[ASIDE] / aside, along), pose[TILT] / tilt)
        near = np.abs(far - 1) < ABOUT
        self._blocked[near] = np.minimum(self._blocked[near], radius)


def sample(first: Region) -> Array:
    """Poses (n, 4) spread over the largest region that is tried, the same each time."""
    rng = np.random.default_rng(1)
    aside, below, above, tilt = TIMES[-1] * np.array(astuple(first))
    low, high = (0, -below, 0, 0), (aside, above, tilt, np.pi)
    return rng.uniform(low, high, (SAMPLE, 4))


def _tried(seen: Witnesses, first: Region) -> tuple[Array, Array]:
    """Sizes (n, 4) of regions and what blocks their boundaries, looked at on a grid of poses."""
    times = np.array(TIMES)
    many = len(times)
    asides, tilts = (np.append(0, size * times) for size in (first.aside, first.tilt))
    alongs = np.concatenate([-first.below * times[::-1], [0], first.above * times])
    ways = np.linspace(0, np.pi, WAYS)
    axes = np.meshgrid(asides, alongs, tilts, ways, indexing="ij")
    shared = seen.shared(np.stack(axes, axis=-1).reshape(-1, 4))
    least = shared.reshape(axes[0].shape).min(3)

    up_to_tilt = np.minimum.accumulate(least, axis=2)
    up_to_aside = np.minimum.accumulate(least, axis=0)
    both = np.minimum.accumulate(up_to_tilt, axis=0)
    side, lean = _between(up_to_tilt, many), _between(up_to_aside, many)
    floor, roof = both[:, many - 1 :: -1, None], both[:, None, many + 1 :]
    found = np.minimum(np.minimum(side, lean), np.minimum(floor, roof))[1:, :, :, 1:]
    sizes = np.meshgrid(
        first.aside * times, first.below * times, first.above * times, first.tilt * times,
        indexing="ij",
    )  # fmt: skip
    return np.stack(sizes, axis=-1).reshape(-1, 4), found.ravel()


def _between(least: Array, many: int) -> Array:
    """The least between each shift against the axis and each along it: (n, below, above, m)."""
    down = np.minimum.accumulate(least[:, many::-1], axis=1)[:, 1:]
    up = np.minimum.accumulate(least[:, many:], axis=1)[:, 1:]
    between: Array = np.minimum(down[:, :, None], up[:, None, :])
    return between
