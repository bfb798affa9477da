"""The proof of one hinge: every measure held against what the hinge promises."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Any

from scadgen.kinds.flexure import Flexure
from scadgen.kinds.pivot import Pivot
from scadgen.meshing import mesh

from .axis import Axis
from .hold import hold
from .layers import layers
from .rest import Body, body, rest
from .swing import swing

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.family import Hinge

LAYER_HEIGHTS = (0.1, 0.2, 0.3)
#: How far a gap may fall short of the clearance, mm: rounding of coordinates, no allowance.
ROUNDING = 1e-4
#: How closely a stop must come to the end of the swing that is asked, degrees.
REACHED = 0.05
#: How closely flat faces must meet at the angle of the stop, degrees.
STOPPED = 0.2
#: This near the end of the swing, degrees, the faces that stop it close in.
CLOSING = 5.0


@dataclass(frozen=True)
class Finding:
    """One thing that was measured: its ``name``, whether it passed, and the numbers in words."""

    name: str
    passed: bool
    words: str


@dataclass(frozen=True)
class Verdict:
    """All findings on one hinge, and what else its family wants to be known, by name and unit."""

    family: str
    findings: tuple[Finding, ...]
    figures: dict[str, float] = field(default_factory=dict)

    @property
    def passed(self) -> bool:
        """Whether every finding passed."""
        return all(finding.passed for finding in self.findings)

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        return asdict(self) | {"passed": self.passed}


def check(
    hinge: Hinge,
    layer_heights: Sequence[float] | None = None,
    progress: Callable[[str], None] | None = None,
) -> Verdict:
    """Prove ``hinge`` on its solids, printed in layers of each of the heights (mm).

    Without heights those that are usual are tried, up to the hinge's own thickest layer.
    ``progress`` is told in a word what is being measured. Raises TypeError for a hinge that is
    neither a pivot nor a flexure.
    """
    tell = progress or (lambda _: None)
    usual = [height for height in LAYER_HEIGHTS if height < hinge.layer]
    heights = layer_heights or [*usual, hinge.layer]
    if isinstance(hinge, Pivot):
        found = _pivot(hinge, heights, tell)
    elif isinstance(hinge, Flexure):
        found = _flexure(hinge, heights, tell)
    else:
        raise TypeError(f"{hinge.family} is neither a pivot nor a flexure")
    return Verdict(hinge.family, tuple(found), hinge.figures())


def _pivot(
    hinge: Pivot, heights: Sequence[float], tell: Callable[[str], None]
) -> Iterator[Finding]:
    fixed, moving = mesh(hinge, "fixed", angle=0), mesh(hinge, "moving", angle=0)
    axis = Axis(*hinge.axis())
    tell("bodies")
    still = rest(fixed, moving)
    yield _sound("fixed link", still.fixed)
    yield _sound("moving link", still.moving)
    least = hinge.clearance - ROUNDING
    words = f"{still.gap:.3f} mm at rest; the clearance is {hinge.clearance:g} mm."
    yield Finding("gap at rest", still.overlap == 0 and still.gap >= least, words)
    tell("swing")
    low, high = hinge.lowest(), hinge.swing
    away = (low + CLOSING if low < 0 else low, high - CLOSING)
    turn = swing(fixed, moving, axis, facets=hinge.facets, within=away)
    yield Finding(
        "swing",
        turn.low <= low + REACHED and turn.high >= high - REACHED,
        f"free from {turn.low:.1f} to {turn.high:.1f} deg; {low:g} to {high:g} deg are asked.",
    )
    if hinge.stop_at:
        yield Finding(
            "stop",
            abs(turn.high - hinge.stop_at) <= STOPPED,
            f"flat faces meet at {turn.high:.2f} deg; the stop is set to {hinge.stop_at:g} deg.",
        )
    words = f"{turn.gap:.3f} mm at {turn.gap_at:.0f} deg; the clearance is {hinge.clearance:g} mm."
    yield Finding("gap on the way", turn.gap >= least, words)
    tell("hold")
    for angle in (0.0, high - CLOSING):
        grip = hold(fixed, axis.turn(moving, angle), axis)
        pull = grip.freest
        yield Finding(
            f"hold at {angle:g} deg",
            grip.held,
            f"pulled {pull.towards}, it is {pull.end} after {pull.travel:.2f} mm, the worst of "
            f"{len(grip.pulls)} ways.",
        )
    yield from _printing((fixed, moving), heights, hinge.longest_bridge(), tell)


def _flexure(
    hinge: Flexure, heights: Sequence[float], tell: Callable[[str], None]
) -> Iterator[Finding]:
    tell("bodies")
    flat = mesh(hinge, angle=0)
    yield _sound("sheet", body(flat))
    holes = flat.genus()
    for angle in (hinge.lowest(), hinge.swing):
        bent = mesh(hinge, angle=angle)
        whole = body(bent)
        yield Finding(
            f"bent by {angle:g} deg",
            whole.pieces == 1 and whole.watertight and bent.genus() == holes,
            f"{whole.pieces} piece, {bent.genus()} of {holes} openings through it still open.",
        )
    yield from _printing((flat,), heights, hinge.longest_bridge(), tell)


def _sound(name: str, found: Body) -> Finding:
    tight = "watertight" if found.watertight else "not watertight"
    pieces = f"{found.pieces} piece{'s' * (found.pieces != 1)}"
    words = f"{pieces}, {found.voids} closed hollows, {tight}, {found.volume:.0f} mm3."
    return Finding(name, found.pieces == 1 and found.voids == 0 and found.watertight, words)


def _printing(
    bodies: Sequence[Manifold],
    heights: Sequence[float],
    longest_bridge: float,
    tell: Callable[[str], None],
) -> Iterator[Finding]:
    for height in heights:
        tell(f"layers of {height:g} mm")
        cut = layers(bodies, height)
        name = f"layers of {height:g} mm"
        hanging = f"{cut.droop:.2f} mm2 droop, {cut.islands} islands"
        spans = f"bridges up to {cut.span:.1f} of {longest_bridge:g} mm"
        fused = f"{cut.fused:.2f} mm2 fused"
        yield Finding(
            name,
            cut.droop == 0 and cut.fused == 0 and cut.span <= longest_bridge and min(cut.bed) > 0,
            f"{hanging}; {spans}; {fused}; {min(cut.bed):.0f} mm2 or more of each body on the bed.",
        )
