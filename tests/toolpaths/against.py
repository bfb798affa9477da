"""The layer proof held against what slicing engines make of the same solids."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from scadgen.findings.on_printing import printing
from scadgen.hinge.family import Hinge
from scadgen.hinge.meshing import mesh
from scadgen.hinge.rules import HingeError
from scadgen.toolpaths import BRIDGE, Asked, Followed, follow
from tests.toolpaths.engines import Slicing

#: Toolpaths that leave so much spread per side, mm, leave no doubt that links are free.
TO_SPARE = 0.1


@dataclass(frozen=True)
class Compared:
    """A slice beside our verdict. ours: "proven", or what refuses it, in a few words.

    bodies: how many the plastic makes, of how many. spread: mm per side before links touch; None
    for one piece, or where more is left than is looked for. faults: what else toolpaths show.
    """

    family: str
    how: Slicing
    ours: str
    bodies: tuple[int, int]
    welds: int
    spread: float | None
    faults: tuple[str, ...]

    @property
    def proven(self) -> bool:
        return self.ours == "proven"

    @property
    def welded(self) -> bool:
        """Whether the plastic joins links, or leaves one in pieces."""
        return self.welds > 0 or self.bodies[0] != self.bodies[1]

    @property
    def miss(self) -> bool:
        """Whether the proof has passed what the toolpaths weld."""
        return self.proven and self.welded

    @property
    def false_alarm(self) -> bool:
        """Whether the proof has refused what the toolpaths leave free, with spread to spare."""
        free = not self.welded and (self.spread is None or self.spread >= TO_SPARE)
        return not self.proven and free and not self.faults

    @property
    def row(self) -> tuple[str, ...]:
        spread = "more" if self.spread is None else f"{self.spread:.2f}"
        theirs = "welded" if self.welded else "free"
        bodies = f"{self.bodies[0]} of {self.bodies[1]}"
        note = "MISS" if self.miss else "false alarm" if self.false_alarm else ""
        options = " ".join(f"{name}={value}" for name, value in self.how.more.items())
        return (
            *(self.family, f"{self.how.engine} {options}".strip(), f"{self.how.layer:g}"),
            *(f"{self.how.nozzle:g}", f"{self.how.walls}", self.ours, theirs, bodies, spread),
            *("; ".join(self.faults), note),
        )


HEAD = (
    *("family", "engine", "layer", "nozzle", "walls", "ours", "theirs", "bodies", "spread"),
    *("else", ""),
)


def hinge_for(cls: type[Hinge], how: Slicing) -> tuple[Hinge, str]:
    """The family's usual hinge for such a printer, and what its rules say against it.

    Where they refuse it, the hinge is that of the usual lines, as somebody may print it who does
    not ask.
    """
    try:
        return cls(layer=how.layer, line_width=how.line), ""
    except HingeError as error:
        return cls(), f"refused: {error.param}"


def ours(hinge: Hinge, how: Slicing) -> str:
    """What the proof says of a hinge's layers: all that does not turn on how it moves."""
    solids = [piece.solid for piece in hinge.mechanism().pieces]
    bridge, line = hinge.longest_bridge(), hinge.line_width
    told = printing(solids, (how.layer,), bridge, lambda words: None, line_width=line)
    failed = [finding.name for finding in told if not finding.passed]
    return f"fails: {failed[0]}" if failed else "proven"


def theirs(hinge: Hinge, how: Slicing) -> Followed:
    """What an engine's toolpaths make of a hinge."""
    with tempfile.TemporaryDirectory() as folder:
        code = how.slice(mesh(hinge), Path(folder))
        return follow(code, Asked(hinge.mechanism(), bridge=max(hinge.longest_bridge(), BRIDGE)))


def compared(cls: type[Hinge], how: Slicing) -> Compared:
    """A slice of the family's usual hinge, beside our verdict."""
    return beside(*hinge_for(cls, how), how)


def beside(hinge: Hinge, refused: str, how: Slicing) -> Compared:
    """A slice of a hinge beside our verdict; ``refused``: what its rules say against it."""
    return judged(hinge, refused, how, theirs(hinge, how))


def judged(hinge: Hinge, refused: str, how: Slicing, found: Followed) -> Compared:
    """What was followed of a slice, beside our verdict."""
    assert found.links is not None
    kinds = {
        "hangs": bool(found.hanging),
        "lost walls": any(one.lost for one in found.misfits),
        "plastic outside": any(not one.lost for one in found.misfits),
        "not on the bed": not all(found.on_bed),
    }
    return Compared(
        family=hinge.family,
        how=how,
        ours=refused or ours(hinge, how),
        bodies=(len(found.lumps), len(found.links.names)),
        welds=len(found.welds),
        spread=min((near.spread for near in found.near), default=None),
        faults=tuple(name for name, there in kinds.items() if there),
    )


def table(rows: Iterable[Compared]) -> str:
    """The slices as a table in Markdown."""
    every = [HEAD, tuple("---" for _ in HEAD), *(one.row for one in rows)]
    return "\n".join(f"| {' | '.join(row)} |" for row in every)
