"""What bends out of the way as a joint moves, and the room that it takes.

A joint by itself has that room. Bodies into which it is merged may stand in it, or weld what bends.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import Manifold


@dataclass(frozen=True, eq=False)
class Giving:
    """An arm of the moving body, drawn as it prints when asked for (mm).

    name: as findings call it. beside: itself, with all that it bends through: nothing else of its
    own body may be there, or it is welded. passing: what no other body may meet as the joint moves,
    bent or not. span: the positions from and to which it moves, in the joint's unit.
    """

    name: str
    beside: Callable[[], Manifold]
    passing: Callable[[], Manifold]
    span: tuple[float, float]
