"""What every kind of joint tells. A new kind is a class in a file of its own.

Only the proof must be given. What else a kind knows it says; where it says nothing,
pages and pictures show less, and nothing breaks.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.caging.certificate import Certificate, Uncertified
    from scadgen.findings.finding import Finding
    from scadgen.mechanism.giving import Giving
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.axis import Axis
    from scadgen.motion.chains import Chain
    from scadgen.motion.relief import Past
    from scadgen.motion.swing import Swing
    from scadgen.printing.nearness import Nearness
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

Vector = tuple[float, float, float]
Tell = Callable[[str], None]

#: Ways of what lies and of what stands, as hinges print.
ALONG, UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)
#: What bodies of a joint may be meant to meet by, in a word.
DETENT, STOP, HEEL, CATCH = "detent", "stop", "heel", "catch"


def silent(_: str) -> None:
    """Nobody is told what is being measured."""


@dataclass(frozen=True)
class Look:
    """Where a cut shows a joint best: at a position, through a place seen from the fixed body, mm.

    It is cut square to its axis there, and level.
    """

    at: float
    place: Vector


@dataclass(frozen=True, eq=False)
class Case:
    """What a proof knows beyond the mechanism: the plastic, if one is named; whom to tell; what is
    asked of it, if anything is."""

    plastic: Plastic | None = None
    tell: Tell = silent
    duty: Duty | None = None


@dataclass(frozen=True, eq=False)
class JointProof:
    """What was found of a joint. swing: of a turning joint, how far it turned. near: how near its
    two bodies come as they print, where that was measured.
    """

    joint: Joint
    findings: tuple[Finding, ...]
    swing: Swing | None = None
    near: Nearness | None = None


@dataclass(frozen=True, eq=False, kw_only=True)
class Joint(ABC):
    """How a body moves in another.

    fixed, moving: names of the two. asked: the positions from and to which it must be free, in
    ``unit``, 0 being how it prints; None for as far as it goes. with_others: how far it is moved
    while other joints are, too; None for as far as that. printed_at: what is added to positions
    where people read them; of a hinge that prints half shut, the turn at which it does.
    """

    #: Unit of its positions.
    unit: ClassVar[str] = "deg"
    #: Whether its two bodies are one piece as they print.
    fuses: ClassVar[bool] = False

    fixed: str
    moving: str
    asked: tuple[float, float] | None = None
    with_others: tuple[float, float] | None = None
    printed_at: float = 0.0
    #: Gaps between near edges of both sides over the whole motion, from and to mm: where a finger
    #: may be caught. Worked out when asked for.
    openings: Callable[[], Sequence[tuple[float, float]]] = field(default=tuple)
    #: The moving body by itself at a position (mm), as its own definition draws it. Pictures show
    #: it; without it they show what is carried.
    posed: Callable[[float], Manifold] | None = None

    @property
    def pair(self) -> tuple[str, str]:
        """The names of both bodies, the fixed one first."""
        return self.fixed, self.moving

    @property
    def ends(self) -> tuple[float, float]:
        """The positions from and to which it is shown to move: as asked, or none."""
        return self.asked or (0.0, 0.0)

    @property
    def asked_told(self) -> tuple[float, float] | None:
        """The positions that are asked as people read them."""
        return self.asked and (self.asked[0] + self.printed_at, self.asked[1] + self.printed_at)

    @property
    def meets(self) -> tuple[str, ...]:
        """What of its bodies is meant to meet, each in a word: printers must be asked of it."""
        return ()

    @property
    def gives(self) -> tuple[Giving, ...]:
        """What of its moving body bends out of the way: bodies must leave room for that."""
        return ()

    @property
    def look(self) -> Look | None:
        """Where a cut shows it best; None where that is as it prints, where its bearing is."""
        return None

    @property
    def axis(self) -> Axis | None:
        """The line about which it turns; None for a motion that is no turn about one line."""
        return None

    @property
    def fold_line(self) -> Vector | None:
        """The way of the lines that it folds about; None where it does not fold."""
        return None

    @property
    def lengthwise(self) -> tuple[Vector, ...]:
        """The ways in which its length may run, as it prints: two where none is known."""
        return (self.axis.unit,) if self.axis else (ALONG, UP)

    @property
    def chain(self) -> Chain | None:
        """The turns about parallel lines in which it bends; None where none are known."""
        return None

    @property
    def stop_words(self) -> str:
        """What ends the motion, for the spec sheet."""
        return "none that is told"

    @abstractmethod
    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        """Hold all that the joint promises against its bodies."""

    def cage(self, whole: Mechanism) -> Certificate | Uncertified | None:
        """The certificate that neither body can leave the other, or why there is none.

        None for a kind of joint of which that is not asked.
        """
        return None

    def moved(self, solid: Manifold, to: float) -> Manifold | None:
        """A solid on the moving side, drawn as it prints, carried to a position (mm).

        None where the joint cannot tell: then nothing is proven of what else hangs on that side.
        """
        return None

    @property
    def phases(self) -> int | None:
        """Sides of its round walls to a full turn, whose corners count; None for no round walls."""
        return None

    def past(self, whole: Mechanism, side: str) -> Past | None:
        """What moves past a body of the joint, at any positions, as seen from that body (mm).

        About an axis it is the other body, turned. None where the joint cannot tell: then a relief
        of that body is not proven.
        """
        if self.axis is None:
            return None
        axis = self.axis
        way, other = (1, self.moving) if side == self.fixed else (-1, self.fixed)
        solid = whole.body(other).solid
        return lambda angles: ([axis.turn(solid, way * angle)] for angle in angles)

    def bent(self, to: float) -> Manifold:
        """The one piece of both bodies at a position. Raises TypeError where they are two."""
        raise TypeError(f"{type(self).__name__}: its bodies print apart; {to:g} moves one of them.")
