"""What must hold of every setting: fits and holds, lengths, outlines, and values that exist.

Each obligation is told in the fields of its family and in the counters of the loops around it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from scadgen.hinge.family import Definition, Hinge, definition
from scadgen.hinge.gaps import Gap, Grip, Web
from scadgen.trees.expr import Call, Expr, Let, Num, Op, Sym, Where, as_expr, children, free
from scadgen.trees.solid import (
    Chosen,
    Circle,
    Drawn,
    Extruded,
    Moved,
    Polygon,
    Repeated,
    Revolved,
    Shape,
    Square,
    below,
    measures,
)
from scadgen.trees.to_linear import structure
from scadgen.trees.to_numpy import Numbers
from tests.settings.conditions import Condition, Margins, replaced
from tests.settings.outlines import Corner, apart, directions

#: By how much (mm) a length may be negative: rules forgive a grain, and lengths add up several.
LENGTH = -1e-5
#: How far from 0 a divisor must stay.
DIVISOR = 1e-9
#: How far (degrees) the angle of a sine must stay from where it is 0, to be a divisor.
ANGLE = 1e-7
#: What a root or an arc may be asked for beyond its range, from rounding.
ROUNDED = -1e-9
#: Ways until the links touch, of the families that have them: a pivot without any is fused.
PLAYS = ("end_play", "side_play", "tilt_play")


@dataclass(frozen=True, eq=False)
class Counter:
    """The counter of a loop: whole numbers from 0 to below ``count``."""

    name: str
    count: Expr


@dataclass(frozen=True, eq=False)
class Obligation:
    """One of the ``claims`` has all its expressions at least ``least``, wherever ``given`` holds.

    If ``fixed`` it is the same claim in all settings, else each may have its own.
    """

    name: str
    claims: tuple[Margins, ...]
    least: float
    given: tuple[Condition, ...] = ()
    counters: tuple[Counter, ...] = ()
    fixed: bool = False

    @property
    def key(self) -> tuple[object, ...]:
        """The same for obligations that say the same."""
        claims = tuple(tuple(map(structure, claim)) for claim in self.claims)
        given = tuple((structure(c.node), c.holds) for c in self.given)
        return claims, self.least, given, tuple(structure(c.count) for c in self.counters)


@dataclass(frozen=True)
class Place:
    """Where in a family's shapes an expression stands."""

    name: str
    values: Mapping[str, Expr] = field(default_factory=dict)
    given: tuple[Condition, ...] = ()
    counters: tuple[Counter, ...] = ()
    revolved: bool = False

    def read(self, node: Expr) -> Expr:
        return replaced(node, self.values)

    def asks(
        self, what: str, *claims: Margins, least: float = LENGTH, fixed: bool = False
    ) -> Obligation:
        name = f"{self.name}: {what}"
        nodes = [e for claim in claims for e in claim] + [c.node for c in self.given]
        used = frozenset().union(*map(free, nodes))
        kept: tuple[Counter, ...] = ()
        for counter in reversed(self.counters):
            if counter.name in used:
                used |= free(counter.count)
                kept = (counter, *kept)
        return Obligation(name, claims, least, self.given, kept, fixed)


def obligations(cls: type[Hinge]) -> list[Obligation]:
    """All that must hold of a family's settings, each once."""
    family = definition(cls)
    found = {
        each.key: each
        for each in (*_fits(cls, family), *_leaves(family), *_values(family), *_drawn(family))
    }
    return [each for each in found.values() if not _is_plain(each)]


def _is_plain(each: Obligation) -> bool:
    """Whether it says of numbers what anyone sees."""
    return any(
        all(not free(e) and Numbers({})(e) >= each.least for e in claim) for claim in each.claims
    )


def _fits(cls: type[Hinge], family: Definition) -> Iterator[Obligation]:
    """Gaps are as wide as the fit asks for, holds as deep as the rules say, webs bend."""
    for gap in family.gaps:
        size = as_expr(gap.size) - Sym(cls.fit)
        yield Obligation(f"{gap.name}: as wide as {cls.fit}", ((size,),), LENGTH)
    for grip in family.grips:
        left = as_expr(grip.left) - as_expr(grip.needed)
        yield Obligation(f"{grip.name}: left after all play", ((left,),), LENGTH)
        yield Obligation(f"{grip.name}: some is asked for", ((as_expr(grip.needed),),), DIVISOR)
    for web in family.webs:
        claims = _not_above(as_expr(web.size), as_expr(web.most))
        yield Obligation(f"{web.name}: bends or breaks", claims, LENGTH)
    for name in PLAYS:
        if name in family.derived:
            some = tuple(_positive(family.derived[name]))
            yield Obligation(f"{name}: there is some", (some,), DIVISOR)


def _leaves(family: Definition) -> Iterator[Obligation]:
    """Screws and a stop find room on their leaf, beside each other."""
    value: dict[str, Any] = {n: Sym(n) for n in family.bounds} | dict(family.derived)
    if "screw" not in value:
        return
    sink, half = value["sink"], value["leaf_span"] / 2
    place = Place("a leaf", given=(Condition(value["screw"] > 0, True),))
    yield place.asks("screw heads apart", (value["screw_pitch"] - sink,))
    yield place.asks("screw heads on it", (half - sink / 2,))
    deep = (sink - value["hole"]) / 2
    yield place.asks("countersinks end in it", (value["leaf_thickness"] - deep,))
    if "stop_end" not in value:
        return
    stopped = Condition(value["stop_at"] > 0, True)
    end = value["stop_end"]
    beside = replace(place, given=(*place.given, stopped))
    yield beside.asks("stop beside the screws", (value["reach"] + half - sink / 2 - end,))
    yield replace(place, given=(stopped,)).asks("stop on it", (value["leaf_end"] - end,))


def _positive(node: Expr) -> Iterator[Expr]:
    """What must be above 0 so that the node is."""
    match node:
        case Let(value=value) | Call(name="atan", args=(value,)):
            yield from _positive(value)
        case Op(op="/", args=(above, under)):
            yield from (*_positive(above), *_positive(under))
        case _:
            yield node


def _not_above(size: Any, most: Any) -> tuple[Margins, ...]:
    """That a size is no more than another; where that is a quotient, told without dividing."""
    plain = (most - size,)
    if not isinstance(most, Op) or most.op != "/":
        return (plain,)
    over: Any = most.args[1]
    return plain, (most.args[0] - over * size - over * LENGTH + LENGTH, over - DIVISOR + LENGTH)


def _values(family: Definition) -> Iterator[Obligation]:
    """Every value that a formula gives exists."""
    for name, node in family.derived.items():
        yield from existing(node, Place(name))
    for rule in family.rules:
        yield from existing(rule.limit, Place(f"the limit of {rule.param}, {rule.why}"))
    told: tuple[Gap | Grip | Web, ...] = (*family.gaps, *family.grips, *family.webs)
    for declared in told:
        for part in vars(declared).values():
            for node in part if isinstance(part, tuple) else (part,):
                if isinstance(node, Expr):
                    yield from existing(node, Place(declared.name))


def existing(node: Expr, place: Place) -> Iterator[Obligation]:
    """Divisors are not 0, roots not of negative numbers, arcs not of more than 1."""
    match node:
        case Where(cond=cond, yes=yes, no=no):
            yield from existing(cond, place)
            for branch, holds in ((yes, True), (no, False)):
                given = (*place.given, Condition(place.read(cond), holds))
                yield from existing(branch, replace(place, given=given))
            return
        case Op(op="/" | "%", args=(_, Expr() as divisor)) if not isinstance(divisor, Num):
            yield _away_from_nought(place.read(divisor), place)
        case Call(name="sqrt", args=(of,)):
            yield place.asks("a root", (place.read(of),), least=ROUNDED)
        case Call(name="asin" | "acos", args=(ratio,)):
            read: Any = place.read(ratio)
            yield place.asks("an arc", (1 - read, 1 + read), least=ROUNDED)
    for child in children(node):
        yield from existing(child, place)


def _away_from_nought(divisor: Any, place: Place) -> Obligation:
    """A divisor is above 0 or below it; for a sine its angle is, short of half a turn."""
    if isinstance(divisor, Call) and divisor.name == "sin":
        angle: Any = divisor.args[0]
        turned = Op("neg", angle), 180 + angle
        return place.asks("a sine", (angle, 180 - angle), turned, least=ANGLE)
    return place.asks("a divisor", (divisor,), (Op("neg", divisor),), least=DIVISOR)


def _drawn(family: Definition) -> Iterator[Obligation]:
    for piece in family.pieces:
        yield from _shape(piece.solid, Place(piece.parts[-1]))


def _shape(shape: Shape, place: Place) -> Iterator[Obligation]:
    """Lengths are not negative, loops run, outlines are as drawn, half sections stay right."""
    for node in (shape.count,) if isinstance(shape, Repeated) else measures(shape):
        yield from existing(node, place)
    match shape:
        case Circle(radius=length) | Extruded(height=length):
            yield place.asks("a length", (place.read(length),))
        case Square(size=size):
            yield place.asks("a side", tuple(map(place.read, size)))
        case Polygon():
            yield from _outline(shape, place)
        case Repeated(index=index, count=count):
            place = counted(place, index, count)
            for node in shape.child if isinstance(shape.child, tuple) else ():
                yield from existing(node, place)
            many: Any = place.counters[-1].count
            outside = replace(place, counters=place.counters[:-1])
            yield outside.asks("turns of a loop", (many - 1,))
        case Chosen(cond=cond, yes=yes, no=no):
            for branch, holds in ((yes, True), (no, False)):
                if branch is not None:
                    given = (*place.given, Condition(place.read(cond), holds))
                    yield from _shape(branch, replace(place, given=given))
            return
        case Drawn(module=module, args=args, child=child):
            values = dict(zip(module.params, map(place.read, args), strict=True))
            inside = replace(place, name=module.name, values=values, revolved=place.revolved)
            yield from _shape(module.body, inside)
            if child is not None:
                yield from _shape(child, place)
            return
        case Revolved():
            place = replace(place, revolved=True)
        case Moved(op=op, by=by) if op != "mirror" and not _upward(by):
            place = replace(place, revolved=False)
    for child in below(shape):
        yield from _shape(child, place)


def _upward(by: tuple[Expr, ...]) -> bool:
    return isinstance(by[0], Num) and by[0].value == 0 and len(by) == 2


def counted(place: Place, index: str, count: Expr) -> Place:
    """Inside a loop: its counter under a name of its own."""
    counter = Counter(f"{index}_{len(place.counters)}", place.read(count))
    values = {**place.values, index: Sym(counter.name)}
    return replace(place, values=values, counters=(*place.counters, counter))


def _outline(shape: Polygon, place: Place) -> Iterator[Obligation]:
    """Its stretches keep their directions and do not cross; of half sections none passes the axis.

    A run of corners counts by its first and its last.
    """
    corners = list(_corners(shape, place))
    if place.revolved:
        yield from (place.asks("a radius", (corner.x,)) for corner in corners)
    for what, run in directions(corners):
        yield place.asks(what, (run,), (Op("neg", run),), fixed=True)
    for what, claims in apart(corners):
        yield place.asks(what, *claims)


def _corners(shape: Polygon, place: Place) -> Iterator[Corner]:
    for point in shape.points:
        if isinstance(point, Repeated) and isinstance(point.child, tuple):
            last: Any = point.count
            for index in (as_expr(0), as_expr(last - 1)):
                inside = replace(place, values={**place.values, point.index: index})
                yield Corner(*(inside.read(replaced(e, inside.values)) for e in point.child))
        elif not isinstance(point, Repeated):
            yield Corner(place.read(point[0]), place.read(point[1]))
