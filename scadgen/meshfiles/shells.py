"""From loose triangles to closed shells: corners put together, pieces told apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.boxes import near_pairs

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Corners this near each other on open edges are one corner, mm: what files round away.
WELD = 1e-3
#: Shells of less volume, mm3, are flat: nothing that a printer lays down.
FLAT = 1e-6


@dataclass(frozen=True, eq=False)
class Shell:
    """A connected surface.

    corners: (count, 3), mm. triangles: (count, 3) indices of corners, counter-clockwise from
        outside. volume: enclosed, mm3; negative for the wall of a hollow.
    open_edges: edges that no second triangle closes. twisted: edges whose triangles look
        opposite ways.
    """

    corners: Array
    triangles: Array
    volume: float
    open_edges: int
    twisted: int

    @property
    def closed(self) -> bool:
        """Whether the surface encloses something."""
        return self.open_edges == 0 and self.twisted == 0

    @property
    def box(self) -> tuple[Array, Array]:
        """Lowest and highest corner, mm."""
        return self.corners.min(0), self.corners.max(0)


def shells(soup: Array) -> list[Shell]:
    """The connected surfaces of loose triangles (count, 3, 3), largest volume first.

    Surfaces hang together by edges: two bodies that touch in a point stay two.
    """
    import numpy as np

    corners, triangles = _welded(soup)
    edges, owners = _edges(triangles)
    order = np.argsort(edges, kind="stable")
    same = edges[order][1:] == edges[order][:-1]
    labels = _linked(len(triangles), owners[order][:-1][same], owners[order][1:][same])
    by_label = np.argsort(labels, kind="stable")
    starts = np.flatnonzero(np.diff(labels[by_label])) + 1
    found = [_shell(corners, triangles[own]) for own in np.split(by_label, starts) if len(own)]
    return sorted(found, key=lambda shell: (-abs(shell.volume), *shell.box[0], *shell.box[1]))


def _welded(soup: Array) -> tuple[Array, Array]:
    """Corners and triangles: equal corners are one, and near ones on open edges too."""
    import numpy as np

    corners, place = np.unique(soup.reshape(-1, 3) + 0.0, axis=0, return_inverse=True)
    triangles = _real(place.reshape(-1, 3))
    loose = _on_open_edges(triangles)
    if len(loose):
        onto = np.arange(len(corners))
        onto[loose] = loose[_near_ones(corners[loose])]
        triangles = _real(onto[triangles])
    return corners, triangles


def _on_open_edges(triangles: Array) -> Array:
    """The corners of edges that an odd number of triangles share."""
    import numpy as np

    edges, _ = _edges(triangles)
    _, place, uses = np.unique(edges, return_inverse=True, return_counts=True)
    odd = (uses % 2 == 1)[place.reshape(-1)]
    starts, ends = triangles.ravel(), np.roll(triangles, -1, axis=1).ravel()
    return np.unique([starts[odd], ends[odd]])


def _near_ones(points: Array) -> Array:
    """For each point the first of those that hang together with it by steps of less than WELD."""
    import numpy as np

    found = [
        np.stack([i, j])[:, np.linalg.norm(points[i] - points[j], axis=1) < WELD]
        for i, j in near_pairs(np.stack([points, points], 1), None, WELD)
    ]
    one, other = np.concatenate([np.zeros((2, 0), int), *found], axis=1)
    return _linked(len(points), one, other)


def _real(triangles: Array) -> Array:
    """The triangles with three different corners."""
    import numpy as np

    kept: Array = triangles[(triangles != np.roll(triangles, 1, axis=1)).all(axis=1)]
    return kept


def _edges(triangles: Array) -> tuple[Array, Array]:
    """A number for each edge of each triangle, the same from both sides, and whose edge it is."""
    import numpy as np

    start, end = triangles, np.roll(triangles, -1, axis=1)
    number = np.minimum(start, end) * (triangles.max(initial=0) + 1) + np.maximum(start, end)
    return number.ravel(), np.repeat(np.arange(len(triangles)), 3)


def _unpaired(triangles: Array) -> tuple[int, int]:
    """Edges that an odd number of triangles share, and others that are not run both ways alike."""
    import numpy as np

    edges, _ = _edges(triangles)
    forward = (triangles < np.roll(triangles, -1, axis=1)).ravel()
    _, place, uses = np.unique(edges, return_inverse=True, return_counts=True)
    ways = np.bincount(place.reshape(-1), np.where(forward, 1, -1), len(uses))
    odd = uses % 2 == 1
    return int(odd.sum()), int((~odd & (ways != 0)).sum())


def _linked(count: int, one: Array, other: Array) -> Array:
    """A label for each of ``count`` things, the same for those that links connect."""
    import numpy as np

    labels = np.arange(count)
    while True:
        a, b = labels[one], labels[other]
        if (a == b).all():
            return labels
        least = np.minimum(a, b)
        np.minimum.at(labels, a, least)
        np.minimum.at(labels, b, least)
        while (labels[labels] != labels).any():
            labels = labels[labels]


def _shell(corners: Array, triangles: Array) -> Shell:
    import numpy as np

    used, place = np.unique(triangles, return_inverse=True)
    own, placed = corners[used], place.reshape(-1, 3)
    a, b, c = (own - own.mean(0))[placed].transpose(1, 0, 2)
    volume = float((np.cross(a, b) * c).sum() / 6)
    return Shell(own, placed, volume, *_unpaired(placed))
