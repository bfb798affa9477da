"""A catch fitted to a product: it shares the axis of a hinge, and stands at the walls across."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from scadgen.hinge.family import bounds
from scadgen.product.bodies import Worked
from scadgen.product.fitting import SHUT, STEP, Fitted, Spot, built, quarter
from scadgen.product.frames import Frame
from scadgen.strength.duty import Duty
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.motion.axis import Axis
    from scadgen.product.model import Product, ProductCatch

#: What a family serves that is a catch of lids.
CATCH = "catch"
#: How far two walls may differ in their way from the axis, mm.
SAME = 1e-6


def fit_catch(product: Product, name: str) -> Fitted:
    """A catch of a product with its own hinge. Raises JobError."""
    catch = product.catches[name]
    held = product.fitted[catch.on]
    lying = _axis(held, catch.on, name)
    worked = dict(_worked(product, name, catch, held))
    common = {"layer": max(product.layer_heights), "line_width": product.line_width}
    given = {field: each.value for field, each in worked.items()} | dict(catch.values)
    joint = replace(held.joint, family=catch.family, values=catch.values, duty=catch.duty, like="")
    made = built(f"catches.{name}", joint, common | given, worked)
    offset = _fitting(product, held, made) if catch.offset is None else catch.offset
    spots = _spot(held, offset, 0), _spot(held, offset, 1)
    kept = {field: each for field, each in worked.items() if field not in catch.values}
    fitted = Fitted(name, joint, made, spots, quarter(made), held.off, kept)
    _refuse_another_height(lying, fitted, catch.on)
    _refuse_ajar(held, catch.on, name)
    return fitted


def _axis(fitted: Fitted, on: str, name: str) -> Axis:
    """The axis in the spot's frame, which must lie along x. Raises JobError for another."""
    axis = fitted.own.axis
    placed = axis and Frame(turn=fitted.quarter).carry_axis(axis)
    if placed is None or abs(placed.unit[0]) < 1 - SAME:
        key = f"catches.{name}.on"
        words = "a catch closes on a hinge that lies, its axis along the sides of its bodies"
        raise JobError(f"{key} = {toml(on)}; {words}.", key)
    return placed


def _refuse_ajar(fitted: Fitted, on: str, name: str) -> None:
    """Raise JobError for a catch on what is not asked to turn until it is shut."""
    _, far = fitted.own.asked_told or (0.0, 0.0)
    if far < SHUT - SAME:
        key = f"catches.{name}.on"
        words = f"it is turned to {far:g} deg only, and a catch holds what is shut, at {SHUT:g} deg"
        change = f"give the joint closes = true, or duty.angle = {SHUT:g}"
        raise JobError(f"{key} = {toml(on)}; {words}; {change}.", key)


def _refuse_another_height(lying: Axis, fitted: Fitted, on: str) -> None:
    """Raise JobError for a catch that would turn about another line than its hinge does."""
    high, wanted = lying.origin[2], _axis(fitted, on, fitted.name).origin[2]
    if abs(high - wanted) > SAME:
        key = f"catches.{fitted.name}.on"
        words = f"its axis is {high:.6g} mm high, and that of the catch {wanted:.6g} mm"
        change = "give the joint closes = true, or the catch the heights of both rims"
        raise JobError(f"{key} = {toml(on)}; {words}; {change}.", key)


def _fitting(product: Product, held: Fitted, made: Hinge) -> float:
    """How far along the axis it is moved so that it hangs past no end of its walls, mm.

    0 where it has room in the middle of the hinge; in the middle of walls that are shorter than it.
    """
    turned = Frame(turn=quarter(made))
    pairs = list(enumerate(held.joint.pair))
    own = [turned.carry(body.solid).bounding_box() for body in made.mechanism().bodies]
    body = [
        held.spots[k].frame.back.carry(product.bodies[n].solid).bounding_box() for k, n in pairs
    ]
    low, high = min(box[0] for box in own), max(box[3] for box in own)
    least, most = max(box[0] for box in body) - low, min(box[3] for box in body) - high
    if least > most:
        return _stepped((least + most) / 2)
    return min(max(0.0, _stepped(least, math.ceil)), _stepped(most, math.floor))


def _stepped(value: float, to: Callable[[float], int] = round) -> float:
    """In steps of a length that is fitted, mm; rounding of what lies on a step goes for nothing."""
    return to(round(value / STEP, 6)) * STEP


def _spot(held: Fitted, offset: float, side: int) -> Spot:
    """Where its middle is on a body: in the hinge's spot, along the axis."""
    frame = held.spots[side].frame.then(Frame(offset, 0))
    shift = Worked.of(offset).text, "0"
    return Spot(frame, 0.0, shift, before=f"{held.name}_on_{held.joint.pair[side]}() ")


def _worked(
    product: Product, name: str, catch: ProductCatch, held: Fitted
) -> Iterator[tuple[str, Worked]]:
    """What the bodies decide of a catch, as far as its family asks for it."""
    asked = bounds(catch.family)
    for field, worked in _of_bodies(product, name, catch, held):
        if field in asked:
            yield field, worked
    if product.plastic is not None:
        duty = catch.duty or product.duty or Duty()
        plastic = product.population.printed(product.plastic, product.line_width)
        for field, value in catch.family().fitted(duty, plastic).items():
            yield field, Worked.of(value)


def _of_bodies(
    product: Product, name: str, catch: ProductCatch, held: Fitted
) -> Iterator[tuple[str, Worked]]:
    joint = held.joint
    one, other = (_depth(product, held, side) for side in (0, 1))
    if one is not None and other is not None:
        if abs(one.value - other.value) > SAME and "reach" not in catch.values:
            key = f"catches.{name}.on"
            words = f"{joint.fixed} and {joint.moving} reach {abs(one.value - other.value):.3g} mm"
            raise JobError(f"{key} = {catch.on}; {words} differently far from its axis.", key)
        yield "reach", one
    yield "keeper_height", product.bodies[joint.fixed].top(joint.fixed)
    yield "hook_height", product.bodies[joint.moving].top(joint.moving)
    walls = [product.bodies[body].walls for body in joint.pair]
    known = [wall for wall in walls if wall is not None]
    limits = bounds(catch.family).get("wall")
    if len(known) == len(walls) and limits is not None:
        least = max(limits.low, 3 * product.line_width)
        yield "wall", Worked.of(min(max(min(known), least), limits.high))
    plays = held.hinge.strays()
    step = bounds(catch.family)["slack"].step if "slack" in bounds(catch.family) else 0.0
    if plays is not None and step:
        yield "slack", Worked.of(math.ceil(plays[0] / step) * step)


def _depth(product: Product, held: Fitted, side: int) -> Worked | None:
    """From the axis to the outside of the wall across; None where nobody knows."""
    body = held.joint.pair[side]
    edge = (held.joint.edge, held.joint.moving_edge)[side]
    found = product.bodies[body].side(body, edge)
    if found is None or held.joint.place is not None:
        return None
    out, _ = found
    return Worked(2 * out.value + held.off, f"{out.text.removesuffix(' / 2')} + {held.name}_off")
