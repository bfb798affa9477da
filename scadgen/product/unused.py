"""What a joint is told that nothing would be made of: refused, or it would pass for proven."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge
from scadgen.mechanism.turn import Turn
from scadgen.sizing.postures import suits
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml

if TYPE_CHECKING:
    from scadgen.product.fitting import Fitted
    from scadgen.product.model import Product, ProductJoint

#: What tells where a joint sits, by what would tell it, too.
_PLACED = {
    "edge": ("place",),
    "offset": ("place",),
    "moving_edge": ("moving_place", "place"),
}


def refuse_both(joints: Mapping[str, Any]) -> None:
    """Raise JobError for tables of joints of which one tells a side, or an offset, and a place."""
    for name, table in joints.items():
        for key, places in _PLACED.items():
            place = next((place for place in places if place in table), None)
            if key in table and place:
                within = f"joints.{name}.{key}"
                words = f"{place} tells where it sits, and this would go for nothing"
                change = "leave one of them out"
                if (key, place) == ("moving_edge", "place"):
                    change = "leave it out, or tell moving_place"
                raise JobError(f"{within} = {toml(table[key])}; {words}; {change}.", within)


def refuse_unused(product: Product, name: str, joint: ProductJoint) -> None:
    """Raise JobError for a posture beside a family of another, and for another turn than that of a
    joint between the same bodies."""
    for key, words in (*_posture(joint), *_differing(product, joint)):
        key = f"joints.{joint.like or name}.{key}"
        raise JobError(f"{key} {words}", key)


def _posture(joint: ProductJoint) -> Iterator[tuple[str, str]]:
    family = joint.family
    if joint.posture and family is not Hinge and not suits(family.family, joint.posture):
        words = f"{family.family} prints {family.posture}: leave out one of them"
        yield "posture", f"= {toml(joint.posture)}; {words}."


def _differing(product: Product, joint: ProductJoint) -> Iterator[tuple[str, str]]:
    """A turn with others, where another joint tells of the same motion that it goes elsewhere."""
    for other, one in product.joints.items():
        both = (joint.with_others, one.with_others)
        if {*one.pair} == {*joint.pair} and None not in both and len({*both}) > 1:
            low, high = one.with_others or (0.0, 0.0)
            words = f"{one.like or other} turns the same bodies and has [{low:g}, {high:g}]"
            yield "with_others", f"is another turn: {words}; tell both alike."


def refuse_closing(fitted: Fitted) -> None:
    """Raise JobError for bodies that are to lie on each other and turn about no one line."""
    if fitted.joint.closes and not isinstance(fitted.own, Turn):
        key = f"joints.{fitted.joint.like or fitted.name}.closes"
        words = f"{fitted.hinge.family} bends about no one line, and how its bodies lie on each"
        change = "leave it out, and let duty.angle say how far it bends"
        raise JobError(f"{key} = true; {words} other is not proven; {change}.", key)
