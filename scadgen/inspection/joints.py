"""The joints between the bodies of a model: which pairs have a bearing, and about which axis."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.findings.on_motion import SEARCHED
from scadgen.inspection import pivot
from scadgen.inspection.bodies import FoundBody
from scadgen.motion.contact import meet
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    from scadgen.inspection.asked import Asked
    from scadgen.inspection.pivot import FoundAxis
    from scadgen.mechanism.joint import Tell

#: A bearing keeps its body from most ways square to the axis: so many of those that are tried, when
#: shifted by so many gaps and so much more, mm.
WAYS, KEPT = 8, 5
GAPS, MORE = 3.0, 1.0


@dataclass(frozen=True, eq=False)
class Bearing:
    """Two bodies, the fixed one first, and the axis about which the other turns in it."""

    fixed: FoundBody
    moving: FoundBody
    axis: FoundAxis


def bearings(found: Sequence[FoundBody], asked: Asked, tell: Tell) -> list[Bearing]:
    """The pairs of bodies that one turns in the other: those asked for, or all that there are.

    Raises JobError where there is none, and says which bodies there are and what is near what.
    """
    if asked.bodies or asked.axis or len(found) == 2:
        return [_told(found, asked, tell)]
    near = list(_near(found))
    made = []
    for one, other, gap in near:
        tell(f"axis of {one.number} and {other.number}")
        bearing = _bearing(one, other, gap)
        if bearing:
            made.append(bearing)
    if asked.fixed is not None:
        _refuse_fixed(asked, {b.number for each in made for b in (each.fixed, each.moving)})
        made = [_kept(bearing, asked.fixed) for bearing in made]
    if not made:
        raise JobError(_none(found, near))
    return made


def _told(found: Sequence[FoundBody], asked: Asked, tell: Tell) -> Bearing:
    numbers = asked.bodies or (1, 2)
    if len(set(numbers)) != 2 or not set(numbers) <= {one.number for one in found}:
        given = ",".join(map(str, numbers))
        raise JobError(
            f"bodies = {given}; it must be two different bodies, 1 to {len(found)}. "
            "This works: 1,2."
        )
    pair = [found[number - 1] for number in numbers]
    if asked.fixed is None:
        pair = _ordered(pair)
    else:
        _refuse_fixed(asked, set(numbers))
        pair.sort(key=lambda one: one.number != asked.fixed)
    tell("axis")
    solids = pair[0].solid, pair[1].solid
    axis = pivot.told(asked.axis, *solids) if asked.axis else pivot.found(*solids)
    return Bearing(pair[0], pair[1], axis)


def _refuse_fixed(asked: Asked, numbers: set[int]) -> None:
    if asked.fixed not in numbers:
        given = " or ".join(map(str, sorted(numbers))) or "none, as no pair has a bearing"
        raise JobError(f"fixed = {asked.fixed}; it must be one of the bodies that turn, {given}.")


def _ordered(pair: Sequence[FoundBody]) -> list[FoundBody]:
    """The one with more on the bed first, or else the larger one."""
    return sorted(pair, key=lambda one: (-round(one.bed, 1), -one.volume))


def _kept(bearing: Bearing, fixed: int | None) -> Bearing:
    if bearing.moving.number != fixed:
        return bearing
    return Bearing(bearing.moving, bearing.fixed, bearing.axis)


def _near(found: Sequence[FoundBody]) -> Iterator[tuple[FoundBody, FoundBody, float]]:
    """The pairs of bodies that come as near to each other as a bearing does, with their gap, mm."""
    for one, other in itertools.combinations(found, 2):
        a, b = one.box, other.box
        if any(a[k] > b[k + 3] + SEARCHED or b[k] > a[k + 3] + SEARCHED for k in range(3)):
            continue
        gap = float(one.solid.min_gap(other.solid, SEARCHED))
        if gap < SEARCHED:
            yield one, other, gap


def _bearing(one: FoundBody, other: FoundBody, gap: float) -> Bearing | None:
    """The pair as a bearing, if it is one."""
    fixed, moving = _ordered([one, other])
    try:
        axis = pivot.found(fixed.solid, moving.solid)
    except JobError:
        return None
    if axis.sure == "doubtful" or not _holds_aside(fixed, moving, axis, gap):
        return None
    return Bearing(fixed, moving, axis)


def _holds_aside(fixed: FoundBody, moving: FoundBody, axis: FoundAxis, gap: float) -> bool:
    """Whether one body keeps the other from most ways square to the axis.

    Round walls that merely stand beside each other on one axis are no bearing.
    """
    u, v, _ = axis.axis.frame
    far = GAPS * gap + MORE
    met = 0
    for k in range(WAYS):
        c, s = math.cos(2 * math.pi * k / WAYS), math.sin(2 * math.pi * k / WAYS)
        shift = tuple(far * (c * a + s * b) for a, b in zip(u, v, strict=True))
        met += meet(fixed.solid, moving.solid.translate(shift))
    return met >= KEPT


def _none(found: Sequence[FoundBody], near: Sequence[tuple[FoundBody, FoundBody, float]]) -> str:
    pairs = ", ".join(f"{a.number} and {b.number} ({gap:.2f} mm apart)" for a, b, gap in near)
    there = f"near each other are {pairs}" if near else "none of them are near each other"
    bodies = "; ".join(f"body {one.number}: {one.words}" for one in found)
    return (
        f"no joint found: no pair of the {len(found)} bodies has round walls about one line in "
        f"which one keeps the other; {there}. There are {bodies}. Name a pair by bodies and its "
        "axis by axis: a point on it in mm, and its direction."
    )
