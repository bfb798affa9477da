"""A sheet that bends, as a chain of turns about parallel lines that all follow one angle.

A flexure is drawn in straight links between lines that stay as far apart as they are, in its
neutral plane. Each line turns by its share of the bend, so the far side is carried by a chain of
turns, as exactly as it is drawn; and what is known of turns bounds how far it strays (``arms.py``):
along a direction each point's speed is the sum of its turns' speeds, and of no two turns the second
derivative is larger than the radius about the inner one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.motion.arms import Arm, Carried

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]


@dataclass(frozen=True, eq=False)
class Link:
    """A link of a chain. room: a box as it prints (mm) that holds it at every bend, with its gap.

    line, share: all lines before this one carry it by their shares, and this one by that.
    """

    room: Manifold
    line: int
    share: float


@dataclass(frozen=True, eq=False)
class Chain:
    """lines: parallel ones as printed, from the fixed side on. shares: of the bend, by which each
    turns; their sum is 1. links: what bends between the two sides.
    """

    lines: tuple[Axis, ...]
    shares: tuple[float, ...]
    links: tuple[Link, ...]

    def carried(
        self, carry: Callable[[Manifold], Manifold], carry_axis: Callable[[Axis], Axis]
    ) -> Chain:
        """The same chain where a frame has it."""
        links = tuple(Link(carry(one.room), one.line, one.share) for one in self.links)
        return Chain(tuple(map(carry_axis, self.lines)), self.shares, links)

    @cached_property
    def along(self) -> Array:
        """The way of its lines."""
        import numpy as np

        return np.array(self.lines[0].unit)

    @cached_property
    def origins(self) -> Array:
        """A point on each line as printed, (lines, 3), mm."""
        import numpy as np

        return np.array([line.origin for line in self.lines])

    def nodes(self, angles: Array) -> Array:
        """Where those points are at some bends (radians), (bends, lines, 3)."""
        import numpy as np

        passed = np.cumsum(self.shares)[:-1]
        ways = _turned(np.diff(self.origins, axis=0), angles[:, None] * passed, self.along)
        first = np.broadcast_to(self.origins[0], (len(angles), 1, 3))
        return np.concatenate([first, self.origins[0] + np.cumsum(ways, axis=1)], axis=1)

    @cached_property
    def back(self) -> Chain:
        """The chain as seen from the other side, which carries the fixed side."""
        return Chain(self.lines[::-1], self.shares[::-1], ())


@dataclass(frozen=True, eq=False)
class Bend:
    """A bend of an arm, which carries what is beyond it: which of the angles, and which way."""

    chain: Chain
    angle: int
    way: int = 1

    @property
    def axis(self) -> Axis:
        """A line that it folds about."""
        return self.chain.lines[0]

    def reversed(self) -> Bend:
        """What carries the other side."""
        return Bend(self.chain, self.angle, -self.way)

    def carry(self, places: Array, middles: Array) -> Carried:
        """Points (cells, points, 3) at the middles of cells (radians), as the bend has them."""
        import numpy as np

        count = len(self.chain.shares)
        weights = np.broadcast_to(self._order.shares, (places.shape[1], count))
        lines = np.full(places.shape[1], count - 1)
        return _carried(
            self._order, places, self.way * middles[:, self.angle], weights, lines, self.way
        )

    @cached_property
    def _order(self) -> Chain:
        return self.chain if self.way > 0 else self.chain.back

    def matrix(self, pose: Sequence[float]) -> Array:
        """The motion at a pose (degrees), (4, 4)."""
        order = self._order
        return _matrix(order, self.way * pose[self.angle], len(order.shares) - 1, 1.0)


@dataclass(frozen=True, eq=False)
class Limbs:
    """The innermost step of an arm that ends in what bends: each link carried by its own lines."""

    chain: Chain
    angle: int
    counts: tuple[int, ...]

    @property
    def axis(self) -> Axis:
        """A line that it folds about."""
        return self.chain.lines[0]

    def carry(self, places: Array, middles: Array) -> Carried:
        """Corners of the links (cells, corners, 3), at middles of cells, as the bend has them."""
        import numpy as np

        shares = np.array(self.chain.shares)
        rows = []
        for link in self.chain.links:
            row = np.where(np.arange(len(shares)) < link.line, shares, 0.0)
            row[link.line] = link.share
            rows.append(row)
        weights = np.repeat(rows, self.counts, axis=0)
        lines = np.repeat([link.line for link in self.chain.links], self.counts)
        return _carried(self.chain, places, middles[:, self.angle], weights, lines, 1)

    def matrices(self, pose: Sequence[float]) -> list[Array]:
        """The motion of each link at a pose (degrees), (4, 4)."""
        made = []
        for link in self.chain.links:
            turned = sum(self.chain.shares[: link.line]) + link.share
            made.append(_matrix(self.chain, pose[self.angle], link.line, turned))
        return made


@dataclass(frozen=True, eq=False)
class Web(Arm):
    """What bends between two sides: the rooms of its links, each carried by its own lines."""

    chain: Chain | None = None

    @classmethod
    def of(cls, chain: Chain, angle: int, outer: tuple[Any, ...]) -> Web:
        """The web of a chain that an arm carries, its bend being one of the angles."""
        from manifold3d import Manifold

        counts = tuple(len(_corners(link.room)) for link in chain.links)
        whole = Manifold.compose([link.room for link in chain.links])
        return cls(whole, (*outer, Limbs(chain, angle, counts)), chain)

    @cached_property
    def corners(self) -> Array:
        """The corners of all rooms."""
        import numpy as np

        assert self.chain is not None
        return np.concatenate([_corners(link.room) for link in self.chain.links])

    def placed(self, pose: Sequence[float]) -> Manifold:
        """The rooms of the links at a pose (degrees)."""
        import numpy as np
        from manifold3d import Manifold, OpType

        assert self.chain is not None
        whole = np.eye(4)
        *outer, limbs = self.steps
        for step in outer:
            whole = whole @ step.matrix(pose)
        rooms = [
            link.room.transform((whole @ motion)[:3])
            for link, motion in zip(self.chain.links, limbs.matrices(pose), strict=True)
        ]
        return Manifold.batch_boolean(rooms, OpType.Add)


def _corners(room: Manifold) -> Array:
    import numpy as np

    return np.asarray(room.hull().to_mesh64().vert_properties[:, :3], float)


def _turned(vectors: Array, angles: Array, along: Array) -> Array:
    """Vectors turned about a direction by angles (radians), of one shape but for the last axis."""
    import numpy as np

    flat = (vectors @ along)[..., None] * along
    cos, sin = np.cos(angles)[..., None], np.sin(angles)[..., None]
    turned: Array = cos * (vectors - flat) + sin * np.cross(along, vectors) + flat
    return turned


def _carried(
    chain: Chain, places: Array, angles: Array, weights: Array, lines: Array, way: int
) -> Carried:
    """Points as a chain has them; weights: by point and line, its share of the bend."""
    import numpy as np

    along, nodes = chain.along, chain.nodes(angles)
    sums = weights.sum(1)
    there = nodes[:, lines] + _turned(places - chain.origins[lines], angles[:, None] * sums, along)
    speed = np.cross(along, sums[:, None] * there - np.einsum("kj,njc->nkc", weights, nodes))
    apart = there[:, :, None] - nodes[:, None]
    apart = apart - (apart @ along)[..., None] * along
    radii = np.sqrt(np.einsum("nkjc,nkjc->nkj", apart, apart))
    before = np.cumsum(weights, axis=1) - weights
    radius = np.einsum("kj,nkj->nk", weights, radii)
    second = np.einsum("kj,nkj->nk", weights * (weights + 2 * before), radii)
    turn = _turned(np.eye(3)[None], angles[:, None], along)
    return Carried(there, turn, way * speed, radius, second, chained=True)


def _matrix(chain: Chain, degrees: float, line: int, turned: float) -> Array:
    import numpy as np

    angle = np.radians(np.array([degrees]))
    turn = _turned(np.eye(3)[None], turned * angle[:, None], chain.along)[0].T
    whole = np.eye(4)
    whole[:3, :3] = turn
    whole[:3, 3] = chain.nodes(angle)[0, line] - turn @ chain.origins[line]
    return whole
