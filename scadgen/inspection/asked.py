"""What is asked of a model from elsewhere, and what is known about it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from scadgen.findings.on_motion import SEARCHED
from scadgen.openscad.bounds import Bounds
from scadgen.printing.lines import LINE_WIDTH
from scadgen.proof.heights import LAYER_HEIGHTS, layer_height, line_of, refuse_too_high
from scadgen.tables.documents import JobError
from scadgen.tables.kinds import Number
from scadgen.tables.limits import Limits

#: Longest bridge that printers are taken to manage, mm (common practice, no source).
BRIDGE = 10.0
#: Widest place in which a contact may be meant, mm.
WIDEST_CONTACT = 200.0


@dataclass(frozen=True)
class Touch:
    """A contact that is meant: where, mm, within which radius, mm, and at which turn, degrees."""

    angle: float
    x: float
    y: float
    z: float
    radius: float

    def __post_init__(self) -> None:
        """Raises JobError for a place that is none."""
        if not all(map(math.isfinite, (self.angle, self.x, self.y, self.z))):
            raise JobError("contact: its angle and its place must be finite numbers, deg and mm.")
        Number(Limits("mm", 0.01, WIDEST_CONTACT, 1.0)).read("contact radius", self.radius)


@dataclass(frozen=True)
class Asked:
    """What is asked of a model, and what is known about it.

    layers: layer heights, mm. line_width: of a printed line, mm. bridge: longest span that the
        printers bridge, mm. clearance: least gap, mm; without it, as much as does not fuse. swing:
        turn that must be free, from and to degrees; without it, as much as there is. axis: a point
        (mm) and a direction; without it, it is found. bodies: numbers of the two to measure;
        without them every pair with a bearing. fixed: which of them stays. loose: numbers of bodies
        that nothing is meant to hold. contacts: places in which bodies are meant to touch. scale:
        mm to a unit of the file. settings: values that an OpenSCAD file is rendered with, as its
        text. bounds: what OpenSCAD may take and read.
    """

    layers: Sequence[float] = LAYER_HEIGHTS
    line_width: float = LINE_WIDTH
    bridge: float = BRIDGE
    clearance: float | None = None
    swing: tuple[float, float] | None = None
    axis: Sequence[float] | None = None
    bodies: tuple[int, int] | None = None
    fixed: int | None = None
    loose: Sequence[int] = ()
    contacts: Sequence[Touch] = ()
    scale: float = 1.0
    settings: Mapping[str, str] = field(default_factory=dict)
    bounds: Bounds = field(default_factory=Bounds)

    def __post_init__(self) -> None:
        """Raises JobError for a value that nothing can be held against."""
        line = line_of("line", self.line_width)
        refuse_too_high("layers", [layer_height("layers", h, line) for h in self.layers], line)
        if not self.layers:
            raise JobError("layers: none; name at least one height in mm. This works: 0.2.")
        Number(Limits("mm", 0, math.inf, BRIDGE)).read("bridge", self.bridge)
        if self.clearance is not None and not 0 < self.clearance <= SEARCHED:
            raise JobError(
                f"clearance = {self.clearance:g} mm; it must be above 0 and at most "
                f"{SEARCHED:g} mm, as far as is looked. This works: 0.3."
            )
        if self.swing is not None and not -360 <= self.swing[0] <= 0 <= self.swing[1] <= 360:
            low, high = self.swing
            raise JobError(
                f"swing = {low:g},{high:g} deg; it must begin at -360 to 0 and end at 0 to 360, "
                "as the turn starts where the model stands. This works: -90,90."
            )

    @property
    def of_a_pair(self) -> list[str]:
        """What was asked that only two bodies can answer."""
        names = ("clearance", "swing", "axis", "bodies", "fixed")
        return [name for name in names if getattr(self, name) is not None]
