"""The fold: two sides of one piece that bend about a web between them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, partial
from typing import TYPE_CHECKING, ClassVar

from scadgen.mechanism.joint import Case, Joint, JointProof, Vector
from scadgen.motion.axis import cross

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.chains import Chain
    from scadgen.motion.relief import Past
    from scadgen.motion.stack import Beside, Stack
    from scadgen.trees.raised import Raised


@dataclass(frozen=True, eq=False, kw_only=True)
class Fold(Joint):
    """A flexure: both sides and the web between them are one piece.

    line: the way of the lines that it folds about, in the neutral plane. face: the way its face
    looks as it prints. shape: the whole piece at a bend (degrees), mm. unmerged: solids whose union
    that is at each of some bends, in less time, or outlines that such are raised from. border: the
    moving side at them, mm. clearance: gap that it needs around it, mm. links: the chain of turns
    in which it bends, and what holds its web; drawn once.
    """

    fuses: ClassVar[bool] = True

    line: Vector
    face: Vector
    shape: Callable[[float], Manifold]
    unmerged: Callable[[Sequence[float]], Sequence[Sequence[Raised | Manifold]]]
    border: Callable[[Sequence[float]], Sequence[Manifold]]
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

    def past(self, whole: Mechanism, side: str) -> Past:
        """All that bends away from a side.

        The web is one piece with the side: what of it is within the clearance of the side counts as
        the side's own. That is no air for a relief to keep, and a root may lie in a maker's body.
        """
        from scadgen.motion.relief import SKIN, rooted
        from scadgen.motion.stack import Beside, Prism, Stack, across, made

        here, way = whole.body(side).solid, 1 if side == self.fixed else -1
        x, y, z = (way * value for value in cross(self.face, self.line))
        own, rest = Prism.of(here, self.line), None
        if own:
            outline = rooted(own.outline, across((x, y, z), self.line)[:2], self.clearance)
            rest = Prism(outline, own.low - SKIN, own.high + SKIN)
        still = cache(partial(rooted, here, (x, y, z), self.clearance))

        def left(
            there: Stack | Sequence[Manifold],
        ) -> Stack | Beside | Sequence[Manifold]:
            def solids() -> Sequence[Manifold]:
                return [part - still() for part in made(there)]

            if rest is None:
                return solids()
            if isinstance(there, Stack):
                return there.without(rest) or solids()
            return Beside.of(there, self.line, rest, solids) or solids()

        def bent(angles: Sequence[float]) -> Iterator[Stack | Beside | Sequence[Manifold]]:
            every: Iterable[Stack | Sequence[Manifold]] = self.parts(angles)
            if side == self.moving:
                every = self.carried_back(every, here, angles)
            return map(left, every)

        return bent

    def parts(self, angles: Sequence[float]) -> list[Stack | Sequence[Manifold]]:
        """What bends, at each of the bends: those not drawn yet are drawn together."""
        from scadgen.motion.stack import Stack
        from scadgen.trees.raised import solid_of

        new = [angle for angle in dict.fromkeys(angles) if angle not in self._drawn]
        if new:
            for angle, parts in zip(new, self.unmerged(new), strict=True):
                self._drawn[angle] = Stack.of(parts, self.line) or [
                    solid_of(part) for part in parts
                ]
        return [self._drawn[angle] for angle in angles]

    @cached_property
    def _drawn(self) -> dict[float, Stack | Sequence[Manifold]]:
        return {}

    def carried_back(
        self,
        bent: Iterable[Stack | Sequence[Manifold]],
        here: Manifold,
        angles: Sequence[float],
    ) -> Iterator[Stack | Sequence[Manifold]]:
        """What is bent, carried along with its moving side to where that is as it prints."""
        from scadgen.motion.stack import Stack

        end = centroid(here)
        for there, border, angle in zip(bent, self.border(angles), angles, strict=True):
            back = [-angle * value for value in self.line]
            x, y, z = (b - a for a, b in zip(centroid(border.rotate(back)), end, strict=True))
            if isinstance(there, Stack):
                yield there.carried(-angle, (x, y, z))
            else:
                yield [part.rotate(back).translate((x, y, z)) for part in there]

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        return JointProof(self, tuple(self._findings(whole, case)))

    def _findings(self, whole: Mechanism, case: Case) -> Iterator[Finding]:
        from scadgen.findings.finding import Finding
        from scadgen.findings.on_bending import bend_in_layers
        from scadgen.findings.on_motion import sound
        from scadgen.motion.rest import body
        from scadgen.motion.stack import body_together

        (piece,) = (piece for piece in whole.pieces if set(self.pair) <= set(piece.bodies))
        still = body(piece.solid)
        yield sound(piece.title, still)
        yield bend_in_layers(self.line, self.face, case.plastic)
        asked = self.asked or ()
        for angle, parts in zip(asked, self.parts(asked), strict=True):
            bent = body_together(parts)
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
