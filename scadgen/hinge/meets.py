"""What a family says of bodies that are meant to meet: clicks and stops.

As in ``gaps``, sizes are expressions of the family's fields; they are read with what a printer
makes of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from scadgen.hinge.gaps import Gap


@dataclass(frozen=True, eq=False)
class Click:
    """Noses at both ends of a hinge, on arms that give way past bumps, all with flanks of 45
    degrees; between two bumps a nose sits with its arm straight.

    of: what the joint calls it. asked: whether the hinge has it; the rest is read only then.
    lift: by how much each nose must be lifted past a bump, the links midway in their play, mm.
    play: way of the links, to either side, that takes as much from one nose and gives it the other.
    least: lift that the rules ask to be left of it at the end of that play, mm.
    spare: how much further an arm can give way than by the lift, before a body stops it, mm.
    gaps: what must print open for it: a nose beside bumps, an arm beside its leaf.
    rides: whether the noses ride a ridge instead, and hold by friction.
    """

    of: str
    asked: bool
    lift: float
    play: float
    least: float
    spare: float
    gaps: tuple[Gap, ...]
    rides: bool = False


@dataclass(frozen=True, eq=False)
class Stop:
    """Flat faces of both links that end a turn.

    of: what the joint calls it. asked: whether the hinge has it. near: from the axis to the near
    end of the faces, where they meet first, mm. layered: whether the faces are made of whole
    layers, and not upright.
    """

    of: str
    asked: bool
    near: float
    layered: bool
