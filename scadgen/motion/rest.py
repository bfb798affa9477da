"""Two bodies as they stand: whole, sound and apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.motion.contact import NEAR, TOUCHING, gap_between, overlap

if TYPE_CHECKING:
    from manifold3d import Manifold


@dataclass(frozen=True)
class Soundness:
    """What one body is by itself.

    pieces: separate pieces; a sound body has one. Slivers that rounding leaves are no pieces.
    voids: closed hollows inside it that no printer could empty.
    openings: through the body, counting the holes of its pieces.
    watertight: a closed surface without error that holds some volume.
    volume: mm3.
    """

    pieces: int
    voids: int
    openings: int
    watertight: bool
    volume: float

    @property
    def closed(self) -> bool:
        """Whether its skin is in one piece, and closed."""
        return self.watertight and self.pieces == 1 and self.voids == 0


@dataclass(frozen=True, kw_only=True)
class Apart:
    """How far two bodies are apart as they stand.

    overlap: the volume they share, mm3; 0 when apart.
    gap: smallest distance between them, mm; 0 when they touch or overlap, and never more than the
        distance searched, so that a gap equal to it means "at least this".
    """

    overlap: float
    gap: float


@dataclass(frozen=True, kw_only=True)
class Rest(Apart):
    """Two bodies as they stand, and each by itself."""

    fixed: Soundness
    moving: Soundness


def rest(fixed: Manifold, moving: Manifold, *, search: float = 2.0, about: float = NEAR) -> Rest:
    """Measure two bodies as they stand; `search` (mm, above 0) is the widest gap looked for.

    about: what the gap may well be, mm: it takes less time where it is no wider.
    """
    one, other = body(fixed), body(moving)
    gap = gap_between(fixed, moving, search, about)
    apart = gap > 0 and one.closed and other.closed and not nested(fixed, moving)
    shared = 0.0 if apart else overlap(fixed, moving)
    return Rest(fixed=one, moving=other, overlap=shared, gap=gap)


def nested(one: Manifold, other: Manifold) -> bool:
    """Whether the box around one of two solids lies in that around the other.

    Else neither of two skins in one piece that are apart lies inside the other.
    """
    return boxed(one, other) or boxed(other, one)


def boxed(solid: Manifold, other: Manifold) -> bool:
    """Whether the box around a solid lies in that around the other."""
    small, big = solid.bounding_box(), other.bounding_box()
    return all(big[k] <= small[k] and small[k + 3] <= big[k + 3] for k in range(3))


def body(solid: Manifold) -> Soundness:
    """Count a solid's pieces and see that its surface is closed."""
    from manifold3d import Error

    parts = [part for part in solid.decompose() if abs(part.volume()) > TOUCHING]
    pieces = sum(part.volume() > 0 for part in parts)
    return Soundness(
        pieces=pieces,
        voids=len(parts) - pieces,
        openings=sum(part.genus() for part in parts),
        watertight=solid.status() == Error.NoError and solid.volume() > 0,
        volume=solid.volume(),
    )
