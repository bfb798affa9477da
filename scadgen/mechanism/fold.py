"""The fold: two sides of one piece that bend about a web between them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import TYPE_CHECKING, ClassVar

from scadgen.mechanism.joint import Case, Joint, JointProof, Vector
from scadgen.motion.axis import cross

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.chains import Chain


@dataclass(frozen=True, eq=False, kw_only=True)
class Fold(Joint):
    """A flexure: both sides and the web between them are one piece.

    line: the way of the lines that it folds about, in the neutral plane. face: the way its face
    looks as it prints. shape: the whole piece at a bend (degrees), mm. unmerged: solids whose union
    that is, in less time. border: the moving side at a bend, mm. clearance: gap that it needs
    around it, mm. links: the chain of turns in which it bends, and what holds its web; drawn once.
    """

    fuses: ClassVar[bool] = True

    line: Vector
    face: Vector
    shape: Callable[[float], Manifold]
    unmerged: Callable[[float], Sequence[Manifold]]
    border: Callable[[float], Manifold]
    clearance: float
    links: Callable[[], Chain | None] | None = None

    @cached_property
    def chain(self) -> Chain | None:
        return self.links and self.links()

    @property
    def fold_line(self) -> Vector:
        return self.line

    @property
    def lengthwise(self) -> tuple[Vector, ...]:
        return (self.line,)

    @property
    def stop_words(self) -> str:
        return "none: bent further, it is strained further than it was made for"

    def bent(self, to: float) -> Manifold:
        return self.shape(to)

    def past(self, whole: Mechanism, side: str) -> Callable[[float], Sequence[Manifold]]:
        """All that bends away from a side.

        The web is one piece with the side: what of it is within the clearance of the side counts as
        the side's own. That is no air for a relief to keep, and a root may lie in a maker's body.
        """
        from scadgen.motion.relief import rooted

        here, way = whole.body(side).solid, 1 if side == self.fixed else -1
        x, y, z = (way * value for value in cross(self.face, self.line))
        still = rooted(here, (x, y, z), self.clearance)

        def bent(angle: float) -> Sequence[Manifold]:
            there = self._parts(angle)
            if side == self.moving:
                there = self.carried_back(there, here, angle)
            return [part - still for part in there]

        return bent

    @cached_property
    def _parts(self) -> Callable[[float], Sequence[Manifold]]:
        """What bends, drawn once for both sides."""
        return cache(self.unmerged)

    def carried_back(
        self, bent: Sequence[Manifold], here: Manifold, angle: float
    ) -> Sequence[Manifold]:
        """What is bent, carried along with its moving side to where that is as it prints."""
        back = [-angle * value for value in self.line]
        start, end = centroid(self.border(angle).rotate(back)), centroid(here)
        way = [b - a for a, b in zip(start, end, strict=True)]
        return [part.rotate(back).translate(way) for part in bent]

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        return JointProof(self, tuple(self._findings(whole, case)))

    def _findings(self, whole: Mechanism, case: Case) -> Iterator[Finding]:
        from scadgen.findings.finding import Finding
        from scadgen.findings.on_bending import bend_in_layers
        from scadgen.findings.on_motion import sound
        from scadgen.motion.rest import body

        (piece,) = (piece for piece in whole.pieces if set(self.pair) <= set(piece.bodies))
        still = body(piece.solid)
        yield sound(piece.title, still)
        yield bend_in_layers(self.line, self.face, case.plastic)
        for angle in self.asked or ():
            bent = body(self.bent(angle))
            yield Finding(
                f"bent by {angle:g} deg",
                bent.pieces == 1 and bent.watertight and bent.openings == still.openings,
                f"{bent.pieces} piece, {bent.openings} of {still.openings} openings through it "
                "still open.",
            )


def centroid(solid: Manifold) -> Vector:
    """Centre of gravity, mm."""
    import numpy as np

    mesh = solid.to_mesh64()
    a, b, c = mesh.vert_properties[:, :3][mesh.tri_verts.astype(int)].transpose(1, 0, 2)
    volumes = np.einsum("nk,nk->n", a, np.cross(b, c))
    x, y, z = ((a + b + c) * volumes[:, None]).sum(0) / (4 * volumes.sum())
    return float(x), float(y), float(z)
