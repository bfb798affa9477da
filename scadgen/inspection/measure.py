"""``inspect``: a model held against what a hinge needs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from scadgen.findings import on_motion
from scadgen.findings.finding import Finding, Verdict
from scadgen.inspection import pivot
from scadgen.inspection.bodies import FoundBody, bodies
from scadgen.inspection.nearest import Closest, closest, corners
from scadgen.inspection.result import Inspection
from scadgen.meshfiles.reading import read
from scadgen.motion.contact import meet
from scadgen.motion.rest import body, rest
from scadgen.motion.swing import Swing, swing
from scadgen.openscad.engine import TIME_LIMIT, rendered
from scadgen.printing.layers import TOUCH
from scadgen.proof.heights import LAYER_HEIGHTS, layer_height
from scadgen.proof.verdict import CLOSING
from scadgen.tables.documents import JobError, number_within

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.inspection.pivot import FoundAxis
    from scadgen.motion.axis import Axis

#: Gap that is needed where none is asked, mm.
LEAST_GAP = TOUCH
#: Turn without which nothing is a hinge, degrees, where none is asked (assumed).
LEAST_TURN = 10.0
#: Pose in which the hold is tried, too, where nothing stops the turn and none is asked, degrees.
OPEN = 90.0
#: Side, mm, below which a body may well be in inches.
SUSPECT = 10.0
#: Longest bridge that printers are taken to manage, mm (common practice, no source).
BRIDGE = 10.0


@dataclass(frozen=True)
class Asked:
    """What is asked of a model, and what is known about it.

    layers: layer heights, mm. bridge: longest span that the printers bridge, mm. clearance: least
        gap, mm; without it, as much as does not fuse. swing: turn that must be free, from and to
        degrees; without it, as much as there is. axis: a point (mm) and a direction; without it,
        it is found. bodies: numbers of the two to measure; fixed: which of them stays. scale: mm to
        a unit of the file. settings: values that an OpenSCAD file is rendered with, as its text.
        time_limit: for OpenSCAD, seconds.
    """

    layers: Sequence[float] = LAYER_HEIGHTS
    bridge: float = BRIDGE
    clearance: float | None = None
    swing: tuple[float, float] | None = None
    axis: Sequence[float] | None = None
    bodies: tuple[int, int] | None = None
    fixed: int | None = None
    scale: float = 1.0
    settings: Mapping[str, str] = field(default_factory=dict)
    time_limit: float = TIME_LIMIT

    def __post_init__(self) -> None:
        """Raises JobError for a value that nothing can be held against."""
        for height in self.layers:
            layer_height("layers", height)
        if not self.layers:
            raise JobError("layers: none; name at least one height in mm. This works: 0.2.")
        number_within("bridge", self.bridge, 0, math.inf, "mm", BRIDGE)
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


#: Widest gap that is looked for, mm: that of ``rest`` and ``swing``.
SEARCHED = 2.0


def inspect(
    model: str | Path | Sequence[Manifold],
    asked: Asked | None = None,
    tell: on_motion.Tell | None = None,
) -> Inspection:
    """Measure a model: a file (STL, 3MF, OBJ, or .scad through OpenSCAD), or solids in mm.

    With one body only its printing is judged: there is nothing to turn and to hold. ``tell`` is
    told in a word what is being measured. Raises JobError for a file that makes no sound bodies, a
    pair without an axis, and demands that the model has not the bodies for.
    """
    asked, say = asked or Asked(), tell or (lambda _: None)
    name = Path(model).name if isinstance(model, (str, Path)) else "solids"
    try:
        found, notes = bodies(_soup(model, asked, say))
        notes = [*_unit_note(found), *notes]
        if len(found) == 1:
            return _alone(name, found[0], notes, asked, say)
        return _hinge(name, found, notes, asked, say)
    except JobError as error:
        if isinstance(model, (str, Path)):
            error.path = Path(model)
        raise


def _unit_note(found: Sequence[FoundBody]) -> Iterator[str]:
    sides = [
        high - low for one in found for low, high in zip(one.box[:3], one.box[3:], strict=True)
    ]
    if max(sides) < SUSPECT:
        yield f"its largest side is {max(sides):.3g} mm; if those are inches, use --scale 25.4."


def _soup(model: str | Path | Sequence[Manifold], asked: Asked, say: on_motion.Tell) -> Any:
    import numpy as np

    say("reading")
    path = Path(model) if isinstance(model, (str, Path)) else None
    rendering = path is not None and path.suffix.lower() == ".scad"
    if asked.settings and not rendering:
        raise JobError("--set: only an OpenSCAD file has values to set.")
    if path is None:
        return np.concatenate([np.zeros((0, 3, 3)), *map(corners, cast(Any, model))]) * asked.scale
    if not rendering:
        return read(path, asked.scale)
    say("OpenSCAD")
    with rendered(path, asked.settings, asked.time_limit) as stl:
        return read(stl, asked.scale)


def _alone(
    name: str, only: FoundBody, notes: list[str], asked: Asked, say: on_motion.Tell
) -> Inspection:
    if asked.of_a_pair:
        raise JobError(
            f"it is one body, and {', '.join(asked.of_a_pair)} needs two: swing and hold are "
            "measured between bodies. Of a hinge of one piece the printing is judged: ask without."
        )
    notes = [*notes, "one body: no swing and no hold to measure; only its printing is judged."]
    findings = (
        on_motion.sound("body", body(only.solid)),
        *_printing({"the body": only}, [only], asked, say),
    )
    return Inspection(Verdict(name, findings), (only,), (), None, None, None, tuple(notes))


def _hinge(
    name: str, found: list[FoundBody], notes: list[str], asked: Asked, say: on_motion.Tell
) -> Inspection:
    pair = _pair(found, asked)
    fixed, moving = (one.solid for one in pair)
    left = [f"body {one.number}" for one in found if one not in pair]
    if left:
        notes = [*notes, f"{', '.join(left)} left out: choose two by --bodies."]
    say("axis")
    axis = pivot.told(asked.axis, fixed, moving) if asked.axis else pivot.found(fixed, moving)
    say("swing")
    turn = swing(fixed, moving, axis.axis, facets=axis.facets, within=_within(asked))
    findings = list(_findings(fixed, moving, axis, turn, asked, say))
    named = dict(zip(("the fixed link", "the moving link"), pair, strict=True))
    findings += _printing(named, found, asked, say)
    near = None if meet(fixed, moving) else _closest(fixed, moving, axis.axis, turn)
    numbers = tuple(one.number for one in pair)
    verdict = Verdict(name, tuple(findings))
    return Inspection(verdict, tuple(found), numbers, axis, turn, near, tuple(notes))


def _pair(found: Sequence[FoundBody], asked: Asked) -> list[FoundBody]:
    """The fixed body, then the moving one."""
    numbers = asked.bodies or (1, 2)
    if len(set(numbers)) != 2 or not set(numbers) <= {one.number for one in found}:
        given = ",".join(map(str, numbers))
        raise JobError(
            f"--bodies {given}: it must be two different bodies, 1 to {len(found)}. "
            "This works: --bodies 1,2."
        )
    pair = [found[number - 1] for number in numbers]
    if asked.fixed is not None and asked.fixed not in numbers:
        given = " or ".join(map(str, numbers))
        raise JobError(f"--fixed {asked.fixed}: it must be one of the two bodies, {given}.")
    if asked.fixed is not None:
        return sorted(pair, key=lambda one: one.number != asked.fixed)
    return sorted(pair, key=lambda one: (-round(one.bed, 1), -one.volume))


def _within(asked: Asked) -> tuple[float, float] | None:
    """Where the gap is sampled: away from the stops, whose faces close in."""
    if asked.swing is None:
        return None
    low, high = asked.swing
    return min(low + CLOSING, 0.0), max(high - CLOSING, 0.0)


def _findings(
    fixed: Manifold,
    moving: Manifold,
    axis: FoundAxis,
    turn: Swing,
    asked: Asked,
    say: on_motion.Tell,
) -> Iterator[Finding]:
    still = rest(fixed, moving)
    yield on_motion.sound("fixed link", still.fixed)
    yield on_motion.sound("moving link", still.moving)
    gap = asked.clearance or LEAST_GAP
    at_rest, on_the_way = on_motion.gap_at_rest(still, gap), on_motion.gap_on_the_way(turn, gap)
    if asked.clearance is None:
        least = f"none is asked, less than {LEAST_GAP:g} mm fuses."
        more = " or more" * (still.gap >= SEARCHED)
        at_rest = replace(at_rest, words=f"{still.gap:.3f} mm{more} at rest; {least}")
        words = f"{turn.gap:.3f} mm at {turn.gap_at:.0f} deg; {least}"
        on_the_way = replace(on_the_way, words=words)
    yield at_rest
    yield on_motion.free_turn(turn, *asked.swing) if asked.swing else _some_turn(turn)
    yield on_the_way
    say("hold")
    for angle in _poses(turn, asked):
        try:
            yield from on_motion.holding(fixed, moving, axis.axis, (angle,))
        except ValueError:
            words = "not measured: the bodies overlap when turned to there."
            yield Finding(f"hold at {angle:g} deg", False, words)


def _some_turn(turn: Swing) -> Finding:
    whole = turn.high - turn.low
    return Finding(
        "swing",
        whole >= LEAST_TURN,
        f"free from {turn.low:.1f} to {turn.high:.1f} deg; none is asked, less than "
        f"{LEAST_TURN:g} deg altogether is no hinge.",
        measured=whole,
        needed=LEAST_TURN,
        unit="deg",
    )


def _poses(turn: Swing, asked: Asked) -> tuple[float, ...]:
    """Where the hold is tried: as it stands, and opened, a little before the end."""
    if asked.swing:
        low, high = asked.swing
        end = high if high >= -low else low
    else:
        far_low, far_high = (
            far if stopped else math.copysign(OPEN + CLOSING, far)
            for far, stopped in ((turn.low, turn.stopped_low), (turn.high, turn.stopped_high))
        )
        end = far_high if far_high >= -far_low else far_low
    opened = round(end - math.copysign(min(CLOSING, abs(end)), end))
    return (0.0, float(opened)) if opened else (0.0,)


def _printing(
    some: Mapping[str, FoundBody], found: Sequence[FoundBody], asked: Asked, say: on_motion.Tell
) -> Iterator[Finding]:
    """Layers, with the model put on the bed as a slicer does."""
    floor = min(one.box[2] for one in found)
    standing = [one.solid.translate((0, 0, -floor)) for one in some.values()]
    names = tuple(some)
    yield from on_motion.printing(standing, asked.layers, asked.bridge, say, names=names)


def _closest(fixed: Manifold, moving: Manifold, axis: Axis, turn: Swing) -> Closest | None:
    """Where the gap is smallest: on the way, or at rest if it is no smaller there."""
    angle = turn.gap_at
    if fixed.min_gap(moving, SEARCHED) <= turn.gap + on_motion.ROUNDING:
        angle = 0.0
    turned = axis.turn(moving, angle)
    return None if meet(fixed, turned) else closest(fixed, turned, angle)
