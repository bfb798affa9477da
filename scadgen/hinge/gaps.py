"""What a family says of its fit: gaps that must stay open, grips that must last, webs that must
bend.

Sizes are expressions of the family's fields, as in its rules. They are read with the values that a
printer leaves of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from scadgen.trees.expr import Sym


@dataclass(frozen=True, eq=False)
class Gap:
    """A place where two bodies, or two parts of one, stand near each other as printed.

    name: the place, in words.
    size: from wall to wall, square to them, mm.
    lean: of both walls from the vertical, degrees: 0 an upright wall, 45 a cone, 90 a floor under
        a roof. The body that is above leans out over the other.
    curved: whether round walls lean by all angles from 0 to ``lean``.
    bore: whether one wall is the inside of a hole, seen from above: holes come out small.
    bed: for walls that start on the bed the chamfer of either, mm; None for others.
    at: height above the bed, mm, at which a gap with a lean above 45 begins: that of the floor, or
        of the corner above. Rounding to layers depends on it; None takes the worst.
    hangs: whether the roof is flat and nothing carries it.
    bridge: span of a flat roof that is carried at both ends, mm; None for none.
    """

    name: str
    size: float
    lean: float = 0
    curved: bool = False
    bore: bool = False
    bed: tuple[float, float] | None = None
    at: float | None = None
    hangs: bool = False
    bridge: float | None = None


@dataclass(frozen=True, eq=False)
class Grip:
    """An overlap by which one body holds the other.

    name: the overlap, in words.
    left: what is left of it after all play, mm. It is read with the ``clearance`` that a printer
        leaves.
    needed: how much of it the rules ask for, mm.
    lean, bore: of the walls that give the play, as in a gap.
    of: what the joint calls it, where bodies are meant to meet there.
    """

    name: str
    left: float
    needed: float
    lean: float = 0
    bore: bool = False
    of: str = ""


@dataclass(frozen=True, eq=False)
class Web:
    """Plastic that starts on the bed and bends or breaks; it comes out as whole layers.

    name: of the web, in words.
    size: the field of its thickness, mm.
    most: thickest that still bends, or breaks, as it must, mm.
    cut_from: thickness of what a 45-degree notch from above leaves ``size`` of, mm; None without a
        notch. The walls of the notch grow towards each other.
    """

    name: str
    size: float
    most: float
    cut_from: float | None = None

    @property
    def field(self) -> str:
        """The name of the field of its thickness."""
        if not isinstance(self.size, Sym):
            raise TypeError("a web's size is one parameter: pass the field itself, as self.web")
        return self.size.name
