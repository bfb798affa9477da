"""The proof of a whole product: all its bodies over every joint's swing, and each joint's own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from scadgen.findings.finding import NO_DUTY, NO_FLEET, NO_GAPS, NO_PLASTIC, Finding, Verdict
from scadgen.hinge.family import definition
from scadgen.mechanism.joint import Case, silent
from scadgen.product.building import mechanism
from scadgen.product.catching import CATCH
from scadgen.product.fleets import whole_fleet
from scadgen.product.giving import rooms
from scadgen.product.half_shut import gap_between_bodies
from scadgen.product.half_shut import on_fleet as on_fleet_half_shut
from scadgen.product.joints import MergedTurn
from scadgen.product.resting import shut
from scadgen.product.rims import rims
from scadgen.product.seating import screws, seats
from scadgen.proof.certified import depth_of, on_fleet, under_load
from scadgen.proof.fleet.findings import fleet_findings
from scadgen.proof.on_strength import strength
from scadgen.proof.parts import parts
from scadgen.proof.whole import Printed, prove

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.fitting import Fitted
    from scadgen.product.model import Product

#: What a duty does not reach: nothing is proven then.
BODIES = "is asked of the hinges only; of the bodies themselves it is not reckoned"


@dataclass(frozen=True, eq=False)
class Proven:
    """A product with the mechanism that it is, and the verdict on it."""

    product: Product
    whole: Mechanism
    verdict: Verdict


def check_product(
    product: Product,
    progress: Callable[[str], None] | None = None,
    whole: Mechanism | None = None,
) -> Proven:
    """Prove a product on its solids. ``progress`` is told in a word what is being measured.

    ``whole``: the product as a mechanism, where it is known.
    Raises JobError for one whose bodies cannot be made.
    """
    tell = progress or silent
    whole = whole or mechanism(product)
    printed = Printed(
        product.layer_heights,
        product.longest_bridge,
        product.line_width,
        touch=product.population.touch,
    )
    proof = prove(whole, printed, Case(product.plastic, tell, product.duty))
    findings = [*proof.findings, *_bed(product, whole)]
    for fitted, joint in zip(product.fitted.values(), proof.joints, strict=True):
        tell(fitted.name)
        own = list(_own(product, fitted, whole, joint.joint, joint.findings))
        several = len(product.fitted) > 1
        findings += [replace(f, name=f"{fitted.name}: {f.name}") if several else f for f in own]
    for name, fitted in product.caught.items():
        tell(name)
        caught = _caught(product, fitted, whole, Case(product.plastic, tell))
        findings += [replace(found, name=f"{name}: {found.name}") for found in caught]
    all_of_it = whole_fleet(product, whole, found=proof.findings)
    findings += [all_of_it] if all_of_it else []
    findings += _unreached(product)
    unasked = tuple(dict.fromkeys(_unasked(product)))
    figures = dict(_figures(product, whole))
    return Proven(product, whole, Verdict(product.name, tuple(findings), figures, unasked))


def _own(
    product: Product, fitted: Fitted, whole: Mechanism, joint: object, found: tuple[Finding, ...]
) -> Iterator[Finding]:
    """What the family promises of this joint beyond its motion, and how its bodies lie shut."""
    yield from seats(product, fitted)
    yield from screws(product, fitted)
    yield from rooms(product, fitted, whole)
    if isinstance(joint, MergedTurn):
        yield from shut(fitted, joint, whole)
        if fitted.joint.closes:
            yield rims(fitted, joint, product.population)
        if gap := gap_between_bodies(fitted, joint, whole):
            yield on_fleet_half_shut(fitted, gap, product.population)
    hinge, depth = fitted.hinge, depth_of(found)
    if hinge.serves != CATCH:  # its reliefs are not taken from the bodies
        yield from parts(hinge, fitted.alone)
    if definition(type(hinge)).spoilable:
        yield from fleet_findings(hinge, product.population, fitted.alone.joints)
        if depth:
            yield on_fleet(depth, product.population)
    duty, plastic = fitted.joint.duty or product.duty, product.plastic
    if duty is None:
        return
    if plastic is not None:
        plastic = product.population.printed(plastic, hinge.line_width)
    yield from strength(hinge, duty, plastic)
    if depth and plastic is not None:
        yield from under_load(hinge, depth, duty, plastic)


def _caught(product: Product, fitted: Fitted, whole: Mechanism, case: Case) -> Iterator[Finding]:
    """What a catch promises by itself, on the axis of its hinge: the bodies carry it on walls."""
    found = fitted.own.prove(fitted.alone, case).findings
    yield from found
    yield from _own(product, fitted, whole, fitted.own, found)


def _bed(product: Product, whole: Mechanism) -> Iterator[Finding]:
    """Whether all of it finds room on the bed, where that is told."""
    if product.bed is None:
        return
    long, deep = _room(whole)[:2]
    low, high = sorted((long, deep)), sorted(product.bed)
    good = all(a <= b for a, b in zip(low, high, strict=True))
    turned = good and (long > product.bed[0] or deep > product.bed[1])
    words = f"{long:.1f} x {deep:.1f} mm as it prints; the bed holds {_by(product.bed)} mm"
    words += ": turn it by 90 deg on it." if turned else "."
    change = "" if good else "smaller bodies, or print it turned on the bed if its diagonal fits"
    yield Finding("room on the bed", good, words, change=change)


def _by(sides: tuple[float, float]) -> str:
    return " x ".join(f"{side:g}" for side in sides)


def _room(whole: Mechanism) -> tuple[float, float, float]:
    boxes = [piece.solid.bounding_box() for piece in whole.pieces]
    x, y, z = (max(b[k + 3] for b in boxes) - min(b[k] for b in boxes) for k in range(3))
    return x, y, z


def _figures(product: Product, whole: Mechanism) -> Iterator[tuple[str, float]]:
    names = ("length", "width", "height")
    yield from (
        (f"{name} as it prints (mm)", side) for name, side in zip(names, _room(whole), strict=True)
    )
    for fitted in product.fitted.values():
        if "axis_height" in fitted.worked:
            yield f"{fitted.name}: height of the axis (mm)", fitted.worked["axis_height"].value


def _unreached(product: Product) -> Iterator[Finding]:
    """What a duty leaves open."""
    if any(fitted.joint.duty or product.duty for fitted in product.merged):
        words = "walls, floors and what a hinge pulls at in them are left to a test print."
        yield Finding("strength", True, words, leaves_open=BODIES)


def _unasked(product: Product) -> Iterator[str]:
    if not product.merged:  # nothing that a fleet could make work
        yield NO_FLEET
    for fitted in product.merged:
        if not definition(type(fitted.hinge)).spoilable:
            yield NO_GAPS
        if (fitted.joint.duty or product.duty) is None:
            yield NO_DUTY
        elif product.plastic is None:
            yield NO_PLASTIC
