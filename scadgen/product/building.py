"""A product as a mechanism: each body less the reliefs of its joints, with their sides added."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from scadgen.hinge.meshing import mesh
from scadgen.mechanism.mechanism import Body, Mechanism, Piece
from scadgen.product.frames import Frame
from scadgen.product.joints import joint_of
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Joint
    from scadgen.product.fitting import Fitted
    from scadgen.product.model import Product

#: Two places, mm, or turns, degrees, that differ by less are one: rounding.
SAME = 1e-6


def mechanism(product: Product) -> Mechanism:
    """The product as it prints. Raises JobError for joints that make no tree of bodies."""
    stands = standing(product)
    bodies = tuple(
        Body(name, name.replace("_", " "), partial(_placed, product, name, stands[name]))
        for name in product.bodies
    )
    bare = {
        name: partial(_placed, product, name, stands[name], False)
        for fitted in product.caught.values()
        for name in fitted.joint.pair
    }
    joints = tuple(
        joint_of(fitted, stands[fitted.joint.fixed].then(fitted.frame(0)), bare)
        for fitted in product.fitted.values()
    )
    loose = tuple(name for name, form in product.bodies.items() if form.loose)
    pieces = _fused(product, bodies, joints, stands)
    whole = pieces[0] if pieces else None
    order = None
    if product.order is not None:
        order = tuple(product.joints[name].pair for name in product.order)
    return Mechanism(
        product.name, bodies, joints, whole, loose, order=order, fused=tuple(pieces[1:])
    )


def _fused(
    product: Product,
    bodies: Sequence[Body],
    joints: Sequence[Joint],
    stands: Mapping[str, Frame],
) -> list[Piece]:
    """A piece for all bodies that flexures join with each other, with what bends."""
    both = zip(joints, product.fitted.values(), strict=True)
    fold = [(joint.pair, fitted) for joint, fitted in both if joint.fuses]
    groups: list[set[str]] = []
    for pair, _ in fold:
        near = [group for group in groups if group & set(pair)]
        groups = [group for group in groups if group not in near] + [set(pair).union(*near)]
    pieces = []
    titles = _titles(len(groups), {body.title for body in bodies})
    for names in groups:
        mine = [body for body in bodies if body.name in names]
        solid = mine[0].solid
        for body in mine[1:]:
            solid = solid + body.solid
        for (fixed, _), fitted in fold:
            if fixed in names:
                there = stands[fixed].then(fitted.frame(0))
                solid = solid + there.carry(_part(fitted, "both"))
        pieces.append(Piece(next(titles), solid, tuple(body.name for body in mine)))
    return pieces


def _titles(count: int, taken: set[str]) -> Iterator[str]:
    """What so many pieces are called, and no body: files hold one solid of a title."""
    alone = ["one piece"] * (count == 1)
    numbered = (f"piece {number}" for number in itertools.count(1))
    return (title for title in itertools.chain(alone, numbered) if title not in taken)


def settled(product: Product) -> None:
    """Raise JobError for joints and catches that find no place on their bodies, or no hinge."""
    standing(product)
    for fitted in product.merged:
        fitted.refuse_others()


def standing(product: Product) -> dict[str, Frame]:
    """Where each body stands as it prints: as its joint has it, or else as it says itself."""
    found: dict[str, Frame] = {}
    for name, form in product.bodies.items():
        by = [f for f in product.fitted.values() if f.joint.moving == name]
        if not by:
            found[name] = Frame(*form.at, form.turn)
        elif len({f.joint.fixed for f in by}) > 1:
            key = f"joints.{by[1].name}.moving"
            words = f"it moves in {by[0].joint.fixed} already; make it the fixed one of this joint"
            raise JobError(f"{key} = {name}; {words}.", key)
    waiting = dict(product.fitted)
    while waiting:
        ready = [f for f in waiting.values() if f.joint.fixed in found]
        if not ready:
            key = f"joints.{next(iter(waiting))}"
            words = "its bodies hang in a ring; one body must move in no other"
            raise JobError(f"{key}: {words}.", key)
        for fitted in ready:
            fixed, moving = (spot.frame for spot in fitted.spots)
            there = found[fitted.joint.fixed].then(fixed).then(moving.back)
            _refuse_apart(fitted, found.setdefault(fitted.joint.moving, there), there)
            del waiting[fitted.name]
    return {name: found[name] for name in product.bodies}


def _refuse_apart(fitted: Fitted, first: Frame, there: Frame) -> None:
    """Raise JobError where two joints of a body put it in two places."""
    far = max(abs(first.x - there.x), abs(first.y - there.y))
    if far > SAME or min((first.turn - there.turn) % 360, (there.turn - first.turn) % 360) > SAME:
        key = f"joints.{fitted.name}"
        words = f"it puts {fitted.joint.moving} {far:.3g} mm away from where another joint has it"
        raise JobError(f"{key}: {words}; give both one axis.", key)


def leading(product: Product) -> list[Fitted]:
    """The joints that move: of several between two bodies the first."""
    firsts: dict[str, Fitted] = {}
    for fitted in product.fitted.values():
        firsts.setdefault(fitted.joint.moving, fitted)
    return list(firsts.values())


def merged(
    product: Product, name: str, caught: bool = True, less: Fitted | None = None
) -> Manifold:
    """A body in its own coordinates, with all that its joints take from it and add to it, mm.

    ``caught``: with its side of each catch, too; ``less``: without its side of this one.
    """
    every = product.merged if caught else product.fitted.values()
    return bared(product, name) + added(name, [fitted for fitted in every if fitted is not less])


def added(name: str, joints: Iterable[Fitted]) -> Manifold:
    """What joints add to a body, in its own coordinates, mm."""
    from manifold3d import Manifold

    solid = Manifold()
    for fitted in joints:
        for side in sides_of(fitted, name):
            solid = solid + fitted.frame(side).carry(_part(fitted, fitted.part(side)))
    return solid


def bared(product: Product, name: str) -> Manifold:
    """A body in its own coordinates, less all that its joints take from it, mm."""
    solid = product.bodies[name].solid
    for fitted in product.fitted.values():
        for side in sides_of(fitted, name):
            if relief := fitted.relief(side):
                solid = solid - fitted.frame(side).carry(_part(fitted, relief))
    return solid


def sides_of(fitted: Fitted, body: str) -> Iterator[int]:
    """The sides of a joint, fixed (0) or moving (1), that are on a body."""
    return (side for side, name in enumerate(fitted.joint.pair) if name == body)


def _part(fitted: Fitted, part: str) -> Manifold:
    return mesh(fitted.hinge, part, 0.0)


def _placed(product: Product, name: str, frame: Frame, caught: bool = True) -> Manifold:
    return frame.carry(merged(product, name, caught))
