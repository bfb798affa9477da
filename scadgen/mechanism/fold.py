"""The fold: two sides of one piece that bend about a web between them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from scadgen.mechanism.joint import Case, Joint, JointProof, Vector

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.mechanism import Mechanism


@dataclass(frozen=True, eq=False, kw_only=True)
class Fold(Joint):
    """A flexure: both sides and the web between them are one piece.

    line: the way of the lines that it folds about, in the neutral plane. face: the way its face
    looks as it prints. shape: the whole piece at a bend (degrees), mm.
    """

    fuses: ClassVar[bool] = True

    line: Vector
    face: Vector
    shape: Callable[[float], Manifold]

    @property
    def fold_line(self) -> Vector:
        return self.line

    @property
    def stop_words(self) -> str:
        return "none: bent further, it is strained further than it was made for"

    def bent(self, to: float) -> Manifold:
        return self.shape(to)

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
