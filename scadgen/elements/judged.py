"""What finite elements say of the links of a mechanism under a load, as findings.

A link is held at its leaf and pushed where the other one bears, in every direction; the gaps are
those drawn. Each is cut into cubes of two sizes: by how much the answers differ is added to what is
judged, and where it is too much, the finding stays open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.bears import WAYS, Bears, acting, borne, stiffness
from scadgen.elements.fill import Array
from scadgen.elements.folding import FoldCut, FoldLoad, sheet_of
from scadgen.elements.gives import give, past_stop
from scadgen.elements.turning import Cut, Joint, Load, half_way
from scadgen.findings.finding import Finding, Place
from scadgen.mechanism.mechanism import titled

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.fold import Fold
    from scadgen.mechanism.joint import Joint as Moving
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.strength.materials import Plastic

#: Edges of the cubes (mm), and the reach over which stress is fitted: about a printed line and a
#: half. At a sharp inner corner what is found depends on it (assumed).
SIZES, REACH = (0.4, 0.27), 0.6
#: Cubes of a whole link at most, of which those that are held are left out; larger links are cut
#: more coarsely, and the larger cubes are then so many times as large as the finer ones, at least.
MOST, APART = 180_000, 1.3
#: Share by which two sizes may differ (assumed); what bears so many times what is asked even with
#: the difference added is left alone.
SETTLED, AMPLE = 0.15, 2.0
#: A place that bears this much more than is asked, or less, is marginal (assumed).
MARGINAL = 0.25
#: Named places as far away as this (mm) are not near.
NEAR = 6.0

#: A moment, as the way of a push.
STILL = "(0, 0, 0)"

Point = tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Asked:
    """What the bearing of a turning joint has to bear, and in what.

    aside: force square to the axis, in any direction, N. along: force along it, either way, N.
    tilts: moments about lines square to the axis that come with either, N mm.
    share: of its strength that the plastic bears as often as is asked. stiff: share of its modulus
    that is left as long and as warm as that. margin: how many times it must be stronger. part: what
    is loaded in place of the whole, in words; "" for the whole. turns, twist: of a flexure, moments
    that come with the two and with the load, as of a sample. hold: beyond this distance from the
    axis (mm) a link is held; None for half-way from the bearing to its end. grip: least overlap
    that holds the bodies together (mm); None where it is not known. leans: from the axis to where
    the moving link leans at the end of its turn, and to its far end (mm); None where no load pries
    it further. places: names and points near which something is, by body.
    """

    aside: float
    along: float
    plastic: Plastic
    share: float = 1.0
    margin: float = 1.0
    hold: float | None = None
    grip: float | None = None
    leans: tuple[float, float] | None = None
    places: Mapping[str, Sequence[tuple[str, Point]]] = field(default_factory=dict)
    turns: tuple[float, float] = (0.0, 0.0)
    twist: float = 0.0
    sizes: tuple[float, float] = field(default_factory=lambda: SIZES)
    reach: float = REACH
    stiff: float = 1.0
    part: str = ""
    tilts: tuple[float, float] = (0.0, 0.0)

    def loads(self) -> Iterator[Load]:
        """Each force alone, and both together."""
        aside, along = self.tilts
        if self.aside:
            yield Load("load", self.aside, 0, aside)
        if self.along:
            yield Load("pull", 0, self.along, along)
        if self.aside and self.along:
            yield Load("load and pull", self.aside, self.along, aside + along)


@dataclass(frozen=True, eq=False)
class Worst:
    """The worst of a link under a load: shares that are used, MPa and places, in three ways."""

    used: Array
    acts: Array
    points: Array
    towards: tuple[Array, ...]

    @property
    def way(self) -> int:
        """Which of the three is worst."""
        return int(self.used.argmax())


@dataclass(frozen=True, eq=False)
class Judged:
    """A turning joint whose links are solved: what is said of it, and what a picture shows."""

    whole: Mechanism
    joint: Moving
    cuts: tuple[Cut, Cut]
    asked: Asked

    def findings(self) -> Iterator[Finding]:
        """What is said of each link under each load."""
        return said(self.whole, self.joint, self.cuts, self.asked)

    def shares(self) -> list[tuple[str, Manifold, Array, Array]]:
        """For each link its title, its solid, places (mm), and the share of what may be asked that
        each place is asked for under all loads, in their worst direction."""
        strength, fine = borne(self.asked.plastic, self.asked.share), self.cuts[1]
        found = []
        for link, name in enumerate(self.joint.pair):
            body, points = self.whole.body(name), fine.answers[link].points
            most = np.zeros(len(points))
            for load in self.asked.loads():
                for way in load.ways():
                    used = strength.used(fine.stress(link, way)).max(axis=0)
                    most = np.maximum(most, used)
            found.append((body.title, body.solid, points, most * self.asked.margin))
        return found


def judged(
    whole: Mechanism, asked: Asked, tell: Callable[[str], None] = lambda _: None
) -> Iterator[Judged]:
    """Each turning joint of a mechanism, its links solved.

    Raises ValueError where no body turns in another, or where they bear nowhere; and
    ModuleNotFoundError, which names the extra, without its libraries.
    """
    turning = [joint for joint in whole.joints if joint.axis is not None and not joint.fuses]
    if not turning:
        raise ValueError(f"{whole.name}: no body turns in another: finite elements load bearings.")
    for one in turning:
        yield Judged(whole, one, cut_twice(whole, one, asked, tell), asked)


def cut_twice(
    whole: Mechanism, one: Moving, asked: Asked, tell: Callable[[str], None] = lambda _: None
) -> tuple[Cut, Cut]:
    """Both links of a joint, solved in cubes of two sizes.

    How zones share a push follows from the larger cubes: how far bodies give way is soon exact.
    """
    fixed, moving = (whole.body(name).solid for name in one.pair)
    assert one.axis is not None
    tell("where the links bear")
    loose = Joint(fixed, moving, one.axis, 0.0, stiffness(asked.plastic))
    radius = asked.hold or half_way((fixed, moving), loose.zoned[0] + loose.zoned[1], one.axis)
    joint = replace(loose, radius=radius, tilted=any(asked.tilts))
    first, second = sizes(joint, asked.sizes)
    coarse = joint.cut(first, asked.reach, tell)
    return coarse, joint.sharing(coarse.shares).cut(second, asked.reach, tell)


@dataclass(frozen=True, eq=False)
class Bent:
    """A flexure that is solved, in place of :class:`Judged`."""

    cuts: tuple[FoldCut, FoldCut]
    asked: Asked
    solid: Manifold

    def loads(self) -> Iterator[FoldLoad]:
        """The pulls across the fold and along it, each alone and both together."""
        (turned, further), twist = self.asked.turns, self.asked.twist
        for load in self.asked.loads():
            moment = turned * bool(load.aside) + further * bool(load.along)
            twisted = twist * bool(load.aside)
            yield FoldLoad(load.name, load.aside, load.along, moment, twisted)

    def findings(self) -> Iterator[Finding]:
        """What is said of it under each load."""
        strength = borne(self.asked.plastic, self.asked.share)
        places = self.asked.places.get("both", ())
        for load in self.loads():
            both = [worst(cut, 0, load, strength) for cut in self.cuts]
            title, moments = f"solid, sheet, {load.name}", load.moments
            side = f"border, {moments} N mm any way," if moments else "border"
            yield _finding(title, both, self.cuts, strength, self.asked, places, side)

    def shares(self) -> list[tuple[str, Manifold, Array, Array]]:
        """As :meth:`Judged.shares`, of what bends and a strip of both borders."""
        strength, fine = borne(self.asked.plastic, self.asked.share), self.cuts[1]
        used = [
            strength.used(fine.stress(0, way)).max(axis=0)
            for load in self.loads()
            for way in load.ways()
        ]
        most = np.max([*used, np.zeros(len(fine.points))], axis=0)
        return [("what bends of it", self.solid, fine.points, most * self.asked.margin)]


def bent(
    whole: Mechanism, fold: Fold, asked: Asked, tell: Callable[[str], None] = lambda _: None
) -> Bent:
    """A flexure, solved under pulls on its moving border."""
    sheet, found = sheet_of(whole, fold, stiffness(asked.plastic)), []
    for size in asked.sizes:
        tell(f"solid of the sheet, cubes of {size:.2g} mm")
        found.append(sheet.cut(size, asked.reach))
    return Bent((found[0], found[1]), asked, sheet.solid)


def said(whole: Mechanism, one: Moving, cuts: tuple[Cut, Cut], asked: Asked) -> Iterator[Finding]:
    """The findings on a joint whose links are solved."""
    strength = borne(asked.plastic, asked.share)
    several = f"{titled(whole, one.pair)}, " if len(whole.joints) > 1 else ""
    for load in asked.loads():
        if free := unborne(cuts[0], load):
            words = f"nothing bears a push of the moving link towards {free}: it is free that way."
            if free == STILL:
                words = "nothing bears what tilts the moving link: the bearing is too short."
            yield Finding(f"solid, {several}{load.name}", False, words)
            continue
        for link, name in enumerate(one.pair):
            both = [worst(cut, link, load, strength) for cut in cuts]
            title = f"solid, {several}{whole.body(name).title}, {load.name}"
            side = f"link, tilted by {load.tilt:.3g} N mm any way," if load.tilt else "link"
            places = asked.places.get(name, ())
            yield _finding(title, both, cuts, strength, asked, places, side)
        clearance = getattr(one, "clearance", None)
        title = f"solid, {several}give at the bearing, {load.name}"
        yield give(title, cuts, load, asked, clearance)
        if asked.leans and load.aside and clearance is not None:
            title = f"solid, {several}turn past the stop, {load.name}"
            yield past_stop(title, cuts, load, asked, clearance)


def unborne(cut: Cut, load: Load) -> str:
    """A way in which a load pushes and nothing bears, in words; empty where there is none."""
    ways = zip(cut.shares, cut.directions(), strict=True)
    for force, (share, way) in zip(load.parts, ways, strict=False):
        if force and not len(share):
            return f"({', '.join(f'{value + 0.0:g}' for value in way.round(3))})"
    return ""


def sizes(joint: Joint, wanted: Sequence[float]) -> list[float]:
    """Edges of cubes (mm), the larger ones first: those wanted, or larger for large links."""
    volume = max(float(joint.fixed.volume()), float(joint.moving.volume()))
    fine = max(min(wanted), (volume / MOST) ** (1 / 3))
    return [max(max(wanted), APART * fine), fine]


def worst(cut: Cut | FoldCut, link: int, load: Load | FoldLoad, strength: Bears) -> Worst:
    """The worst places of a link under a load in all its directions."""
    used, acts, towards = np.full(3, -1.0), np.zeros(3), [np.zeros(3)] * 3
    points, ways = np.zeros((3, 3)), cut.directions()
    for forces in load.ways():
        stress = cut.stress(link, forces)
        shares, values = strength.used(stress), acting(stress)
        at = shares.argmax(axis=1)
        for k in range(3):
            if shares[k, at[k]] > used[k]:
                used[k], acts[k] = shares[k, at[k]], values[k, at[k]]
                points[k] = cut.answers[link].points[at[k]]
                towards[k] = np.array(forces) @ np.array(ways[: len(forces)])
    return Worst(used, acts, points, tuple(towards))


def _finding(
    title: str,
    both: Sequence[Worst],
    cuts: Sequence[Cut | FoldCut],
    strength: Bears,
    asked: Asked,
    places: Sequence[tuple[str, Point]],
    side: str = "link",
) -> Finding:
    coarse, fine = both
    k, most = fine.way, float(fine.used.max())
    change = abs(most - float(coarse.used.max())) / max(most, 1e-12)
    factor = 1 / (most * (1 + change)) if most > 0 else np.inf
    x, y, z = map(float, fine.points[k])
    told = ", ".join(
        f"{fine.acts[way]:.3g} of {strength.each[way]:.3g} MPa {WAYS[way]}" for way in range(3)
    )
    force = " ".join(f"{value:+.3g}" for value in np.round(fine.towards[k], 6) + 0.0)
    sizes = " and ".join(f"{cut.size:.2g}" for cut in cuts)
    part = f"{asked.part}: " if asked.part else ""
    where = f"{WAYS[k]}{_near((x, y, z), places)}"
    words = (
        f"{part}{told}; worst {where} where the moving {side} is pushed by"
        f" ({force}) N; {factor:.3g} times what is asked in {asked.plastic.name}, with the"
        f" {change:.0%} added by which cubes of {sizes} mm differ."
    )
    settled = change <= SETTLED or factor >= AMPLE * asked.margin
    return Finding(
        title,
        factor >= asked.margin,
        words,
        measured=float(factor) if np.isfinite(factor) else None,
        needed=asked.margin,
        unit="times",
        slack=MARGINAL,
        change="thicken what is named, or round the corner there",
        place=Place((x, y, z)),
        leaves_open="" if settled else f"has not converged: {change:.0%} from cubes to finer ones",
    )


def _near(point: Point, places: Sequence[tuple[str, Point]]) -> str:
    at = ", ".join(f"{round(value, 1) + 0.0:g}" for value in point)
    name = nearest(point, places)
    beside = f", near: {name}," if name else ""
    return f" around ({at}) mm{beside}"


def nearest(point: Point, places: Sequence[tuple[str, Point]]) -> str:
    """The name of the place nearest to a point; empty where none is near."""
    apart = [(float(np.linalg.norm(np.subtract(point, there))), name) for name, there in places]
    near = min(apart, default=(np.inf, ""))
    return near[1] if near[0] <= NEAR else ""
