"""Meshes of whole hinges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, cast

from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.trees.solid import union

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.trees.raised import Raised
    from scadgen.trees.solid import Shape
    from scadgen.trees.to_mesh import Raise
    from scadgen.trees.to_numpy import Numbers, Value


def mesh(hinge: Hinge, part: str = "both", angle: float | None = None) -> Manifold:
    """Solid of one ``part`` of the hinge (mm), drawn at ``angle`` degrees or at its own angle.

    The parts are those of the emitted module. Raises ValueError for a part the family has not.
    """
    from scadgen.trees.to_mesh import to_mesh

    return cast("Manifold", to_mesh(*_drawn(hinge, part, angle)))


def meshes(hinge: Hinge, parts: Iterable[str], angle: float) -> list[Manifold]:
    """Several parts at one angle: what they have in common is drawn once."""
    from scadgen.trees.to_mesh import to_mesh

    values = numbers(hinge).within(angle=angle)
    values.drawn = {}
    return [to_mesh(_drawn(hinge, part, angle)[0], values) for part in parts]


def bent_meshes(hinge: Hinge, part: str, angles: Sequence[float]) -> Sequence[Manifold]:
    """One part at several angles, which are drawn at once."""
    import numpy as np

    from scadgen.trees.to_mesh import to_meshes

    return to_meshes(*_drawn(hinge, part, np.array(angles)), len(angles))


def unmerged_meshes(hinge: Hinge, part: str, angles: Sequence[float]) -> list[list[Manifold]]:
    """Solids whose union is the part (mm) at each of the angles, in less time: as far from anything
    as it."""
    import numpy as np

    from scadgen.trees.unmerged import unmerged

    return unmerged(*_drawn(hinge, part, np.array(angles)), len(angles))


def raised_parts(
    hinge: Hinge, part: str, angles: Sequence[float]
) -> Sequence[Sequence[Raised | Manifold]]:
    """The same solids, not made yet where each is outlines raised and moved."""
    import numpy as np

    from scadgen.trees.unmerged import unmerged

    shape, values = _drawn(hinge, part, np.array(angles))
    return unmerged(shape, values, len(angles), _raise(shape))


def raised_alike(hinge: Hinge, parts: Iterable[str], angle: float) -> list[Raised | Manifold]:
    """Several parts at one angle, as `meshes` draws them; not made yet where all are outlines
    raised and moved."""
    from scadgen.trees.to_mesh import to_meshes

    values = numbers(hinge).within(angle=angle)
    values.drawn = {}
    shapes = [_drawn(hinge, part, angle)[0] for part in parts]
    raised = _raise(*shapes)
    return [to_meshes(shape, values, 1, raised)[0] for shape in shapes]


def _raise(*shapes: Shape) -> Raise:
    from scadgen.trees.raised import Raised, only_raised
    from scadgen.trees.to_mesh import extruded

    return Raised.of if all(map(only_raised, shapes)) else extruded


def _drawn(hinge: Hinge, part: str, angle: Value | None) -> tuple[Shape, Numbers]:
    """The shape of a part, and the numbers with which it is drawn."""
    family = definition(type(hinge))
    solids = [piece.solid for piece in family.pieces if part in piece.parts]
    if not solids:
        raise ValueError(f"{hinge.family}: part = {part!r}; it must be one of {family.parts}")
    values = numbers(hinge) if angle is None else numbers(hinge).within(angle=angle)
    return union(*solids), values


def printed_bodies(hinge: Hinge) -> dict[str, Manifold]:
    """Each body that prints, under the name of the part that draws it alone, if one does."""
    drawn = [piece.parts for piece in definition(type(hinge)).pieces if "both" in piece.parts]
    return {part if alone else "whole": mesh(hinge, part) for *alone, part in drawn}


def drawn_alone(hinge: Hinge) -> tuple[str, ...]:
    """For each body that prints, the part that draws it alone; "both" where it is one piece."""
    printed = [piece.parts for piece in definition(type(hinge)).pieces if "both" in piece.parts]
    return tuple(next((part for part in parts if part != "both"), "both") for parts in printed)
