"""Lines gathered until a layer is whole."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from scadgen.toolpaths.lines import Laid, Sent, Stood
from scadgen.toolpaths.roles import Role, role_of

if TYPE_CHECKING:
    import numpy

    Array = numpy.ndarray[Any, Any]

#: A line shorter than this, mm, is as wide as its run on average: its volume is rounded.
SHORT = 1.0
#: By so much of its height a line with round sides is less than a rectangle.
SIDES = 1 - math.pi / 4
#: Widths in a file that tells none are told to so much, mm.
GRAIN = 0.005


class Gathered:
    """The lines of the layer that is being read.

    width, height: as comments told last, mm; 0 for none. role: of the next lines. broken: whether
    the next line begins a new run.
    """

    def __init__(self, rectangular: bool) -> None:
        self.rectangular = rectangular
        self.z = 0.0
        self.below = 0.0
        self.width = self.height = 0.0
        self.role = Role.UNKNOWN
        self.round = False
        self.broken = True
        self._last = b""
        self._path = 0
        self._clear()

    def _clear(self) -> None:
        self._points: list[tuple[float, float, float, float]] = []
        self._told: list[tuple[float, float, float, int, int, int]] = []
        self._whole: list[tuple[Array, Array]] = []
        self._stood: list[Stood] = []

    @property
    def any(self) -> bool:
        """Whether there is a line yet."""
        return bool(self._points or self._whole)

    def remark(self, words: bytes) -> None:
        """What stands behind a move; some programs tell there what the line is for."""
        if words == self._last:
            return
        self._last = words
        role = role_of(words.decode("utf-8", "replace"))
        if role is not Role.UNKNOWN:
            self.role, self.round = role, role is Role.BRIDGE

    def add(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        volume: float,
        source: int,
    ) -> None:
        """One line; ``volume`` (mm3) tells its width where no comment does."""
        height = self._begun()
        self._points.append((*start, *end))
        self._told.append((self.width, height, volume, int(self.role), self._path, source))

    def stand(self, at: tuple[float, float], volume: float, source: int) -> None:
        """Plastic (mm3) that is pushed out on one spot."""
        if self.role is not Role.BESIDE:
            self._stood.append(Stood(*at, volume, source))

    def add_run(self, points: Array, volumes: Array, source: int) -> None:
        """Lines from point to point (n + 1, 2), each with its volume (mm3) and line of the file."""
        import numpy as np

        height = self._begun()
        self._settle()
        told = np.empty((len(volumes), 6))
        told[:] = (self.width, height, 0, self.role, self._path, 0)
        told[:, 2] = volumes
        told[:, 5] = np.arange(source, source + len(volumes))
        ways = np.empty((len(volumes), 4))
        ways[:, :2], ways[:, 2:] = points[:-1], points[1:]
        self._whole.append((ways, told))

    def _begun(self) -> float:
        """The height of the next line, mm, whose run is counted."""
        if self.broken:
            self._path += 1
            self.broken = False
        return math.inf if self.round and not self.width else self.height

    def _settle(self) -> None:
        """Single lines as arrays behind what there is."""
        import numpy as np

        if self._points:
            self._whole.append((np.array(self._points), np.array(self._told)))
            self._points, self._told = [], []

    def taken(self) -> Laid | None:
        """The layer as arrays, and a new one begun; None without a line."""
        import numpy as np

        self._settle()
        if not self._whole:
            return None
        points, told = (np.concatenate(some) for some in zip(*self._whole, strict=True))
        stood = tuple(self._stood)
        self._clear()
        width, height, volume = told[:, 0], told[:, 1], told[:, 2]
        role, path, source = (told[:, k].astype(np.int64) for k in (3, 4, 5))
        start, end = points[:, :2], points[:, 2:]
        thread = np.isinf(height)
        height = np.where(height == 0, max(self.z - self.below, 1e-3), height)
        if not width.all():
            section = _sections(start, end, volume, path)
            height = np.where(thread, np.sqrt(4 * section / math.pi), height)
            reckoned = np.where(thread, height, self._wide(section, height))
            width = np.where(width > 0, width, reckoned)
        lengths = np.hypot(*(end - start).T)
        takes = lengths * (width - (0 if self.rectangular else height * SIDES)) * height
        takes[told[:, 0] == 0] = 0  # their widths follow from what is sent
        sent = tuple(_sent(role, volume, takes))
        self.below = self.z
        return Laid(self.z, start, end, width, height, role, path, source, sent, stood)

    def _wide(self, section: Array, height: Array) -> Array:
        """Width of a line from its section (mm2) and height: with round sides, or a rectangle."""
        import numpy as np

        wide = section / height + (0 if self.rectangular else height * SIDES)
        return np.asarray(np.maximum(np.round(wide / GRAIN), 1) * GRAIN)


def _sent(role: Array, volume: Array, takes: Array) -> Iterator[Sent]:
    """What is sent for lines of each use whose widths are told, and what they take (mm3)."""
    import numpy as np

    both = [np.bincount(role, some * (takes > 0)).tolist() for some in (volume, takes)]
    for use, (sent, taken) in enumerate(zip(*both, strict=True)):
        if taken:
            yield Sent(Role(use), sent, taken)


def _sections(start: Array, end: Array, volume: Array, path: Array) -> Array:
    """Section of each line, mm2; short ones have that of their run."""
    import numpy as np

    lengths = np.hypot(*(end - start).T)
    _, run = np.unique(path, return_inverse=True)
    whole = np.bincount(run, volume) / np.maximum(np.bincount(run, lengths), 1e-9)
    own = volume / np.maximum(lengths, 1e-9)
    return np.asarray(np.where(lengths >= SHORT, own, whole[run]))
