"""Joints that turn at once: between which turns bodies that share no joint never meet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_motion import LEAST_GAP
from scadgen.mechanism.mechanism import Piece, titled
from scadgen.proof.others import strangers

if TYPE_CHECKING:
    from scadgen.mechanism.joint import Case, Joint, JointProof
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.arms import Arm, Step
    from scadgen.motion.at_once import AtOnce, Budget, Span
    from scadgen.motion.chains import Bend

NAME = "all joints together"
BENDS = "joints that bend, together"
#: Most cells that are looked at for all pairs of bodies, and most distances that are measured.
CELLS, MEASURED = 60_000, 5_000
#: A whole turn; what turns further is back where it was, degrees.
ROUND = 180.0


@dataclass(frozen=True, eq=False)
class Group:
    """All turning joints between the same two bodies: one angle. span: from and to, degrees."""

    joint: Joint
    span: Span
    alone: Span

    def step(self, angle: int, way: int) -> Step | Bend:
        """Its turn or bend as a step of an arm, by the number of its angle."""
        from scadgen.motion.arms import Step
        from scadgen.motion.chains import Bend

        if self.joint.chain is not None:
            return Bend(self.joint.chain, angle, way)
        assert self.joint.axis is not None
        return Step(self.joint.axis, angle, way)

    @property
    def start(self) -> float:
        """What is added to its angles where they are told, degrees."""
        return self.joint.printed_at

    def told(self, scale: float) -> tuple[float, ...]:
        """Its turn as it is told, narrowed to a share of it: rounded towards rest."""
        return tuple(_rounded(scale * end) + self.start for end in self.span)

    @property
    def far(self) -> float:
        """The end of its turn, degrees: the farther one."""
        low, high = self.alone
        return high if high >= -low else low


@dataclass(frozen=True, eq=False)
class Bending:
    """What bends between the two sides of a joint. bodies: the side that carries it."""

    group: Group
    title: str

    @property
    def bodies(self) -> tuple[str, ...]:
        """The body that carries it, as of a piece."""
        return (self.group.joint.fixed,)


@dataclass(frozen=True, eq=False)
class Path:
    """Two pieces and the turns that lead from the first to the second, each with its way.

    A piece may be what bends between two others.
    """

    pair: tuple[Piece | Bending, Piece | Bending]
    turns: tuple[tuple[Group, int], ...]

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """All that moves between them, each once."""
        webs = (end.group for end in self.pair if isinstance(end, Bending))
        return (*dict.fromkeys((*(group for group, _ in self.turns), *webs)),)

    def arms(self) -> tuple[Arm, Arm]:
        """Both on their arms, seen from the body half-way between them."""
        middle = len(self.turns) // 2
        steps = [group.step(self.groups.index(group), way) for group, way in self.turns]
        back = [step.reversed() for step in steps[:middle][::-1]]
        return self._arm(0, back), self._arm(1, steps[middle:])

    def _arm(self, end: int, steps: Sequence[Step | Bend]) -> Arm:
        from scadgen.motion.arms import Arm
        from scadgen.motion.chains import Web

        piece = self.pair[end]
        if not isinstance(piece, Bending):
            return Arm(piece.solid, tuple(steps))
        assert piece.group.joint.chain is not None
        return Web.of(piece.group.joint.chain, self.groups.index(piece.group), tuple(steps))

    @property
    def names(self) -> str:
        """Both of them in words."""
        return f"{self.pair[0].title} and {self.pair[1].title}"


def together(whole: Mechanism, proofs: Sequence[JointProof], case: Case) -> Iterator[Finding]:
    """Whether bodies meet when several joints are turned at once; nothing where none can.

    It never fails: bodies that stop each other limit a motion, and break nothing. But nothing is
    proven then.
    """
    if len(proofs) < 2:
        return
    turns = [p for p in proofs if p.swing is not None and p.joint.axis is not None]
    if any(p.joint.fixed in whole.carried(p.joint) for p in turns):
        return
    groups, folds = _groups(turns), _folds(whole, turns)
    if folds is None:
        yield from _bends(whole, groups)
    groups += folds or []
    paths = [path for path in searched_paths(whole, groups, folds or ()) if len(path.groups) > 1]
    if not paths:
        return
    case.tell("all joints")
    if whole.order is None:
        yield _at_once(groups, paths)
    elif whole.order:
        yield _in_order(whole, groups, paths)
    else:
        words = (
            "they move one at a time, as told, with all others as they print; what meets when "
            "several are turned was not looked at."
        )
        yield Finding(NAME, True, words)


def _bends(whole: Mechanism, groups: Sequence[Group]) -> Iterator[Finding]:
    """That nothing is known of several joints at once where one of them bends."""
    folds = {frozenset(joint.pair) for joint in whole.joints if joint.fold_line is not None}
    if folds and len(folds) + len(groups) > 1 and whole.order != ():
        words = (
            f"{len(folds)} of {len(folds) + len(groups)} joints bend: what meets when they bend "
            "at once with others was not looked at."
        )
        yield Finding(BENDS, True, words, leaves_open="was not looked at")


def _folds(whole: Mechanism, turns: Sequence[JointProof]) -> list[Group] | None:
    """The joints that bend, each as one angle; None where that of one is not known."""
    folds = [joint for joint in whole.joints if joint.fold_line is not None]
    pairs = [frozenset(joint.pair) for joint in folds]
    alone = len({*pairs, *(frozenset(p.joint.pair) for p in turns)}) == len(pairs) + len(
        {frozenset(p.joint.pair) for p in turns}
    )
    if not alone or any(joint.chain is None or joint.asked is None for joint in folds):
        return None
    if any(joint.fixed in whole.carried(joint) for joint in folds):
        return None
    return [Group(j, j.with_others or j.asked, j.asked) for j in folds if j.asked is not None]


def _groups(turns: Sequence[JointProof]) -> list[Group]:
    found: dict[frozenset[str], list[JointProof]] = {}
    for proof in turns:
        found.setdefault(frozenset(proof.joint.pair), []).append(proof)
    return [_group(each) for each in found.values()]


def _group(proofs: Sequence[JointProof]) -> Group:
    first = proofs[0].joint
    spans = [_span(p) for p in proofs]
    alone = min(span[0] for span in spans), max(span[1] for span in spans)
    told = [p.joint.with_others for p in proofs if p.joint.with_others]
    return Group(first, told[0] if told else alone, alone)


def _span(proof: JointProof) -> Span:
    """How far a joint turns, degrees: as asked, or as it was found free."""
    joint, turn = proof.joint, proof.swing
    if joint.asked or turn is None:
        return joint.asked or (0.0, 0.0)
    return max(turn.low, -ROUND), min(turn.high, ROUND)


def searched_paths(
    whole: Mechanism, groups: Sequence[Group], folds: Sequence[Group]
) -> Iterator[Path]:
    """The farthest first: they meet first when all turn, and bound what is asked of others."""
    pairs = [*_bent_apart(whole, folds)] if folds else [*strangers(whole)]
    found = [Path(pair, _path(whole, groups, *pair)) for pair in pairs]
    yield from sorted(found, key=lambda path: -len(path.groups))


def _bent_apart(
    whole: Mechanism, folds: Sequence[Group]
) -> Iterator[tuple[Piece | Bending, Piece | Bending]]:
    """Bodies that share no joint, though they may be one piece; and all that bends with others."""
    joined = {frozenset(joint.pair) for joint in whole.joints}
    single = [Piece(one.title, one.solid, (one.name,)) for one in whole.bodies]
    for one, other in itertools.combinations(single, 2):
        if frozenset((*one.bodies, *other.bodies)) not in joined:
            yield one, other
    webs = [Bending(g, f"what bends between {titled(whole, g.joint.pair)}") for g in folds]
    for web in webs:
        for body in single:
            if body.bodies[0] not in web.group.joint.pair:
                yield web, body
    yield from itertools.combinations(webs, 2)


def _path(
    whole: Mechanism,
    groups: Sequence[Group],
    one: Piece | Bending,
    other: Piece | Bending,
) -> tuple[tuple[Group, int], ...]:
    """The turns between two pieces: back to where their ways part, then on."""
    back, on = (_way(whole, groups, piece.bodies[0]) for piece in (one, other))
    shared = 0
    while shared < min(len(back), len(on)) and back[shared] == on[shared]:
        shared += 1
    return (*((group, -way) for group, way in reversed(back[shared:])), *on[shared:])


def _way(whole: Mechanism, groups: Sequence[Group], body: str) -> list[tuple[Group, int]]:
    """The turns from the body that stays on the bed to another, each with its way."""
    links = {frozenset(joint.pair): joint.pair for joint in whole.joints}
    turning = {frozenset(group.joint.pair): group for group in groups}
    ways: dict[str, list[tuple[Group, int]]] = {_root(whole, body): []}
    waiting = list(ways)
    while waiting:
        here = waiting.pop()
        for key, (fixed, moving) in links.items():
            there = moving if here == fixed else fixed
            if here not in key or there in ways:
                continue
            group = turning.get(key)
            sign = 1 if group and group.joint.fixed == here else -1
            ways[there] = [*ways[here], *([(group, sign)] if group else [])]
            waiting.append(there)
    return ways[body]


def _root(whole: Mechanism, body: str) -> str:
    """Of all bodies that hang together with one, the first that moves in no other."""
    near = {body}
    while more := {b for j in whole.joints if near & set(j.pair) for b in j.pair} - near:
        near |= more
    names = [each.name for each in whole.bodies if each.name in near]
    moving = {joint.moving for joint in whole.joints}
    return next((name for name in names if name not in moving), names[0])


@dataclass(eq=False)
class _Purse:
    """What is left to be looked at and measured, of which no search takes all."""

    least: int
    cells: int = CELLS
    measured: int = MEASURED

    def budget(self) -> Budget:
        """The most for one search."""
        from scadgen.motion.at_once import Budget

        return Budget(
            max(self.cells // 4, CELLS // self.least),
            max(self.measured // 4, MEASURED // self.least),
        )

    def pay(self, found: AtOnce) -> None:
        """Take what a search took."""
        self.cells, self.measured = self.cells - found.cells, self.measured - found.measured


def _searched(path: Path, spans: Sequence[Span], below: float, purse: _Purse) -> AtOnce:
    """How far the pieces of a path turn at once."""
    from scadgen.motion.at_once import at_once

    found = at_once(*path.arms(), spans, below, purse.budget(), LEAST_GAP)
    purse.pay(found)
    return found


def _at_once(groups: Sequence[Group], paths: Sequence[Path]) -> Finding:
    scale, worst, which = 1.0, None, paths[0]
    purse = _Purse(len(paths))
    for path in paths:
        found = _searched(path, [group.span for group in path.groups], scale, purse)
        if found.scale < scale:
            scale, worst, which = found.scale, found, path
    several = (
        "one pair of bodies shares" if len(paths) == 1 else f"{len(paths)} pairs of bodies share"
    )
    several += " no joint"
    moved = "turned or bent" if any(group.joint.chain for group in groups) else "turned"
    if worst is None:
        words = (
            f"free for certain, between poses too, with all {len(groups)} joints {moved} at once, "
            f"{_spans(groups, 1)}; {several}."
        )
        return Finding(NAME, True, words + _beyond(groups))
    within = _spans(groups, scale)
    words = (
        f"free for certain while all {len(groups)} joints are {moved} at once {within}; {several}."
    )
    words += f" {_why(which, worst)}"
    return Finding(NAME, True, words, leaves_open=f"is free for certain only {within}")


def _beyond(groups: Sequence[Group]) -> str:
    """What of the turns was asked of one joint at a time only."""
    if all(group.span == group.alone for group in groups):
        return ""
    return " Further than that one joint is turned with the others as they print, as told."


def _spans(groups: Sequence[Group], scale: float) -> str:
    """Turns in words, narrowed to a share of them: rounded towards rest."""
    spans = list(dict.fromkeys(group.told(scale) for group in groups))
    if len(spans) == 1:
        return f"from {spans[0][0]:g} to {spans[0][1]:g} deg"
    each = "; ".join(_span_words(group, scale) for group in groups)
    return f"({each})"


def _span_words(group: Group, scale: float) -> str:
    """The turn of one joint in words, narrowed to a share of it."""
    fixed, moving = (name.replace("_", " ") for name in group.joint.pair)
    low, high = group.told(scale)
    return f"{moving} in {fixed} {low:g} to {high:g} deg"


def _rounded(angle: float) -> float:
    """To a tenth of a degree, towards 0."""
    return math.trunc(10 * angle + math.copysign(1e-9, angle)) / 10 + 0.0


def _why(path: Path, found: AtOnce) -> str:
    """What ends it, with the turns at which it does."""
    if found.met is not None:
        where = _pose(path, found.met)
        met = f"{path.names} meet, or pass by less than {LEAST_GAP:g} mm,"
        return f"{met} with the joints between them at {where}."
    if found.near is not None:
        near, pose = found.near
        where = _pose(path, pose)
        return f"{path.names} come within {near:.2f} mm with those between them at {where}."
    return f"The search was ended: of {path.names} {100 * found.left:.0f} % of the poses are open."


def _pose(path: Path, angles: Sequence[float]) -> str:
    told = (angle + group.start for angle, group in zip(angles, path.groups, strict=True))
    return f"{', '.join(f'{angle:.0f}' for angle in told)} deg"


def _in_order(whole: Mechanism, groups: Sequence[Group], paths: Sequence[Path]) -> Finding:
    """One after another, each from rest to the ends of its turn, those before it turned."""
    by_pair = {frozenset(group.joint.pair): group for group in groups}
    order = [by_pair[frozenset(pair)] for pair in whole.order or () if frozenset(pair) in by_pair]
    steps = [
        (path, order[:k], group)
        for k, group in enumerate(order)
        for path in paths
        if group in path.groups
    ]
    purse = _Purse(len(steps) or 1)
    for path, before, group in steps:
        spans = [
            group.alone if g is group else (g.far, g.far) if g in before else (0.0, 0.0)
            for g in path.groups
        ]
        found = _searched(path, spans, 1.0, purse)
        if not found.certain:
            name = titled(whole, group.joint.pair)
            ends = (_rounded(found.scale * end) + group.start for end in group.alone)
            within = " to ".join(f"{end:g}" for end in ends)
            words = f"one after another, as told: {name} turn freely for certain from {within} deg."
            words += f" {_why(path, found)}"
            open_ = f"does not let {name} turn as far as asked, one after another"
            return Finding(NAME, True, words, leaves_open=open_)
    words = (
        "free for certain one after another, in the order that was told, each left turned to the "
        "end; what meets in another order, or turned at once, was not looked at."
    )
    return Finding(NAME, True, words)
