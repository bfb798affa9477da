"""Holes through the sides of a hinge, as a proof wants them told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.trees.solid import Shape


@dataclass(frozen=True, eq=False)
class Drilled:
    """Holes that go through each body of a hinge.

    pins: one as wide as its hole through each, as it prints. count: in each body. width: of a hole,
    mm. plain: the same hinge without holes.
    """

    pins: Shape
    count: int
    width: float
    plain: Hinge
