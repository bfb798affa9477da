"""Whether what has to bend out of the way has room for that between the bodies of a product.

A family proves of itself that its arms give way. What is merged with it may stand where they bend,
or weld them: another joint's side, a body of a maker's own, a part that stands nearby.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding, Place
from scadgen.findings.on_motion import BEYOND, REACHED, SURE
from scadgen.hinge.meshing import mesh
from scadgen.product.building import merged, standing

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.giving import Giving
    from scadgen.mechanism.mechanism import Body, Mechanism
    from scadgen.motion.axis import Axis
    from scadgen.product.fitting import Fitted
    from scadgen.product.frames import Frame
    from scadgen.product.model import Product


def rooms(product: Product, fitted: Fitted, whole: Mechanism) -> Iterator[Finding]:
    """A finding for each arm of a joint, or of a catch, and for what bends of a flexure."""
    if not fitted.own.gives and not fitted.own.fuses:
        return
    stands = standing(product)
    there = stands[fitted.joint.fixed].then(fitted.frame(0))
    own, others = _around(product, fitted, whole, stands)
    several = len({frozenset(joint.pair) for joint in whole.joints}) > 1
    rest = ", with all other joints at rest" * several
    for one in fitted.own.gives:
        yield _roomy(fitted, one, there, own, others, rest)
    if fitted.own.fuses:
        yield _bending(fitted, there, own | others, [body.title for body in _sides(fitted, whole)])


def _sides(fitted: Fitted, whole: Mechanism) -> list[Body]:
    return [whole.body(name) for name in fitted.joint.pair]


def _bending(
    fitted: Fitted, there: Frame, around: Mapping[str, Manifold], sides: Sequence[str]
) -> Finding:
    """Whether anything but its borders is welded to what bends between them.

    As near to a border as its relief leaves it, the border's own body may be.
    """
    web = fitted.web
    rooms = dict.fromkeys(around, there.carry(web))
    for side, title in enumerate(sides):
        if relief := fitted.relief(side):
            rooms[title] = there.carry(web ^ mesh(fitted.hinge, relief, 0.0))
    welded = (_welded(rooms[title], {title: solid}) for title, solid in around.items())
    met = next((found for found in welded if found), None)
    words = f"nothing is welded to what bends between {' and '.join(sides)}."
    return _found("what bends", met, words)


def _around(
    product: Product, fitted: Fitted, whole: Mechanism, stands: Mapping[str, Frame]
) -> tuple[dict[str, Manifold], dict[str, Manifold]]:
    """All bodies by title, without its sides: those that move with it, and those that stay."""
    turn = next(joint for joint in whole.joints if joint.pair == fitted.joint.pair)
    carried = whole.carried(turn)
    own: dict[str, Manifold] = {}
    others: dict[str, Manifold] = {}
    for body in whole.bodies:
        solid = body.solid
        if body.name in fitted.joint.pair:
            solid = stands[body.name].carry(merged(product, body.name, less=fitted))
        (own if body.name in carried else others)[body.title] = solid
    return own, others


def _roomy(
    fitted: Fitted,
    one: Giving,
    there: Frame,
    own: Mapping[str, Manifold],
    others: Mapping[str, Manifold],
    rest: str,
) -> Finding:
    """``rest``: in which pose of the others, in words."""
    assert fitted.own.axis is not None
    low, high = one.span
    axis, passing = there.carry_axis(fitted.own.axis), there.carry(one.passing())
    met = _welded(there.carry(one.beside()), own) or _met(axis, passing, one.span, others)
    words = f"nothing is where it bends from {low:g} to {high:g} deg, {SURE}{rest}."
    return _found(one.name, met, words)


def _found(name: str, met: tuple[str, Place | None] | None, words: str) -> Finding:
    if met is None:
        return Finding(f"room for {name}", True, words)
    title, place = met
    at = f" {place.words}" if place else ""
    return Finding(
        f"room for {name}",
        False,
        f"{title} is where it bends{at}, so that it cannot give way.",
        change=f"more room beside it: {title} further away, or another offset",
        place=place,
    )


def _welded(room: Manifold, own: Mapping[str, Manifold]) -> tuple[str, Place | None] | None:
    """What is where it bends, and moves along."""
    from scadgen.motion.contact import meet
    from scadgen.motion.meeting import meeting

    for title, solid in own.items():
        if meet(solid, room):
            where = meeting(solid, room)
            return title, Place(where) if where else None
    return None


def _met(
    axis: Axis, room: Manifold, span: tuple[float, float], others: Mapping[str, Manifold]
) -> tuple[str, Place | None] | None:
    """What it would meet on its way that does not move along."""
    from scadgen.motion.meeting import meeting
    from scadgen.motion.swing import swing

    low, high = span
    for title, solid in others.items():
        turn = swing(solid, room, axis, limit=max(high, -low), within=(0.0, 0.0))
        if turn.low > low + REACHED or turn.high < high - REACHED or turn.unsure:
            back = turn.low > low + REACHED
            angle = turn.low - BEYOND if back else turn.high + BEYOND
            where = meeting(solid, axis.turn(room, angle))
            return title, Place(where, angle) if where else None
    return None
