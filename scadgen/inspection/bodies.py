"""The bodies of a model: shells with the hollows that belong to them, as sound solids."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from scadgen.meshfiles.crossing import crossing
from scadgen.meshfiles.shells import FLAT, Shell, shells
from scadgen.motion.contact import overlap
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Most shells that are sorted into bodies.
MOST = 500
#: Height above the lowest point at which a body's contact with the bed is measured, mm.
LOW = 0.05


@dataclass(frozen=True, eq=False)
class FoundBody:
    """One body of a model.

    number: its place by volume, from 1 on. solid: mm, where the file has it. volume: mm3.
    bed: area on the bed on which the whole model stands, mm2. hollows: closed ones inside it.
    shells: overlapping outer surfaces that print as this one body.
    """

    number: int
    solid: Manifold
    volume: float
    bed: float
    hollows: int
    shells: int = 1

    @property
    def box(self) -> tuple[float, ...]:
        """Lowest x, y, z, then highest, mm."""
        return tuple(self.solid.bounding_box())

    @property
    def words(self) -> str:
        """Size and place."""
        low, high = self.box[:3], self.box[3:]
        size = " x ".join(f"{b - a:.1f}" for a, b in zip(low, high, strict=True))
        middle = ", ".join(f"{(a + b) / 2:.1f}" for a, b in zip(low, high, strict=True))
        return f"{self.volume:.0f} mm3, {size} mm around ({middle}), {self.bed:.0f} mm2 on the bed"


def bodies(soup: Array) -> tuple[list[FoundBody], list[str]]:
    """The bodies in loose triangles (count, 3, 3; mm), largest first, and what is to be said.

    Shells inside out are turned round. With more than two, shells that overlap are one body, as a
    slicer prints them; two alone stay two, so that a hinge whose links meet is measured. Raises
    JobError for surfaces that are open, cross themselves or enclose nothing.
    """
    found = shells(soup)
    real = [shell for shell in found if not shell.closed or abs(shell.volume) > FLAT]
    notes = [f"{len(found) - len(real)} flat shells without volume were left out."]
    if not real:
        raise JobError("no body in it: its triangles enclose nothing.")
    if len(real) > MOST:
        raise JobError(
            f"{len(real)} loose pieces; at most {MOST} are sorted into bodies. "
            "Leave only the hinge in the file."
        )
    _refuse_open(real)
    outer, hollows, turned = _nested(real)
    notes += [f"{turned} shells were inside out and were turned round."]
    solids = [
        (_solid([shell, *inside]), len(inside), 1)
        for shell, inside in zip(outer, hollows, strict=True)
    ]
    if len(solids) > 2:
        solids = _joined(solids)
    floor = min(solid.bounding_box()[2] for solid, _, _ in solids)
    made = [
        FoundBody(0, solid, solid.volume(), solid.slice(floor + LOW).area(), inside, parts)
        for solid, inside, parts in solids
    ]
    made.sort(key=lambda body: (-round(body.volume, 6), body.box))
    numbered = [replace(body, number=number) for number, body in enumerate(made, 1)]
    notes += [
        f"body {body.number} is {body.shells} shells that overlap: they print as one."
        for body in numbered
        if body.shells > 1
    ]
    return numbered, [note for note in notes if not note.startswith("0 ")]


def _refuse_open(found: Sequence[Shell]) -> None:
    for number, shell in enumerate(found, 1):
        which = f"body {number} of {len(found)} (around {_place(sum(shell.box) / 2)})"
        if shell.open_edges:
            raise JobError(
                f"{which} is not watertight: {shell.open_edges} open edges. Close its surface; "
                "a slicer's repair or OpenSCAD's own export does."
            )
        if shell.twisted:
            raise JobError(
                f"{which} is not watertight: at {shell.twisted} edges its triangles look opposite "
                "ways. Make all of them look outwards (most editors: 'recalculate normals')."
            )
        crossed = crossing(shell.corners, shell.triangles)
        if crossed:
            raise JobError(
                f"{which} crosses itself: {crossed[0]} pairs of triangles, one of them at "
                f"{_place(crossed[1])}. Join its parts by a union first."
            )


def _place(point: Any) -> str:
    return "({:.2f}, {:.2f}, {:.2f})".format(*point)


def _nested(found: Sequence[Shell]) -> tuple[list[Shell], list[list[Shell]], int]:
    """Outer shells, the hollows in each, and how many shells had to be turned round."""
    outer = [shell for shell in found if shell.volume > 0]
    solids = [_solid([shell]) for shell in outer]
    hollows: list[list[Shell]] = [[] for _ in outer]
    turned = []
    for shell in found:
        if shell.volume > 0:
            continue
        inside = _solid([_turned(shell)])
        homes = [
            k
            for k, solid in enumerate(solids)
            if solid.volume() > inside.volume() and (inside - solid).volume() < FLAT
        ]
        if homes:
            hollows[min(homes, key=lambda k: outer[k].volume)].append(shell)
        else:
            turned.append(_turned(shell))
    return [*outer, *turned], [*hollows, *([] for _ in turned)], len(turned)


def _turned(shell: Shell) -> Shell:
    return replace(shell, triangles=shell.triangles[:, ::-1], volume=-shell.volume)


def _solid(parts: Sequence[Shell]) -> Manifold:
    import numpy as np
    from manifold3d import Error, Manifold, Mesh64

    starts = np.cumsum([0, *(len(part.corners) for part in parts)])
    triangles = [part.triangles + start for part, start in zip(parts, starts, strict=False)]
    mesh = Mesh64(
        np.ascontiguousarray(np.concatenate([part.corners for part in parts])),
        np.ascontiguousarray(np.concatenate(triangles).astype(np.uint64)),
    )
    solid = Manifold(mesh)
    if solid.status() != Error.NoError or solid.is_empty():
        raise JobError(
            f"the body around {_place(sum(parts[0].box) / 2)} makes no solid "
            f"({solid.status().name}). Repair it in a slicer or a mesh editor."
        )
    return solid


def _joined(solids: list[tuple[Manifold, int, int]]) -> list[tuple[Manifold, int, int]]:
    """Solids that overlap brought together."""
    waiting, done = list(solids), []
    while waiting:
        solid, inside, parts = waiting.pop(0)
        meeting = [one for one in waiting if overlap(solid, one[0]) > FLAT]
        if not meeting:
            done.append((solid, inside, parts))
            continue
        waiting = [one for one in waiting if one not in meeting]
        for other, more, others in meeting:
            solid, inside, parts = solid + other, inside + more, parts + others
        waiting.append((solid, inside, parts))
    return done
