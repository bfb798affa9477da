"""Which bodies of a product print so near each other that some printer may join them.

A hinge tells of its own links. Of all else it knows nothing: of bodies that share no joint, of what
leaves the bed as one piece, and of bodies that come nearer beside their hinge than its links do.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from scadgen.findings.on_motion import SEARCHED
from scadgen.hinge.gaps import Gap
from scadgen.hinge.meshing import mesh
from scadgen.mechanism.mechanism import titled
from scadgen.motion.axis import cross
from scadgen.printing.bed import bed
from scadgen.product.building import added, merged
from scadgen.product.catching import CATCH
from scadgen.product.joints import MergedTurn, PlacedFold
from scadgen.proof.others import strangers

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.fold import Fold
    from scadgen.mechanism.joint import Joint
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.fitting import Fitted
    from scadgen.product.model import Product

#: So near its roots, mm, what bends is not held against the bodies that carry it: nearly all
#: printers keep open what is as wide.
ROOT = 1.0
#: What bodies are nearer than links by rounding, mm.
ROUNDING = 1e-4


def near(product: Product, whole: Mechanism) -> Iterator[tuple[str, list[Gap]]]:
    """Their titles, and the gaps between them: on the bed, and above it."""
    found = [
        (f"{one.title} and {other.title}", _gaps(product, one.solid, other.solid))
        for one, other in strangers(whole)
    ]
    links = _links(product)
    turning = {joint.pair: None for joint in whole.joints if _lies_flat(joint)}
    fused = [pair for p in whole.pieces for pair in itertools.combinations(p.bodies, 2)]
    for pair in (*fused, *(pair for pair in turning if not _in(fused, pair))):
        looked = _gaps if _in(fused, pair) else _on_the_bed
        own = [gap for each in links.get(frozenset(pair), ()) for gap in looked(product, *each)]
        fixed, moving = (whole.body(name).solid for name in pair)
        found.append((titled(whole, pair), _nearer(looked(product, fixed, moving), own)))
    found += [*_beside_webs(product, whole), *_beside_arms(product)]
    told: dict[str, list[Gap]] = {}
    for name, gaps in found:  # of two pieces with a joint each has a rest that stands by the other
        told.setdefault(name, []).extend(gaps)
    return ((name, gaps) for name, gaps in told.items() if gaps)


def _beside_webs(product: Product, whole: Mechanism) -> Iterator[tuple[str, list[Gap]]]:
    """What bends, and the bodies of the same piece beside it.

    What is snapped off need not stand free of the bodies that carry it.
    """
    fitted = zip(product.fitted.values(), whole.joints, strict=True)
    for (each, joint), piece in itertools.product(fitted, whole.pieces):
        if not isinstance(joint, PlacedFold) or not set(joint.pair) <= set(piece.bodies):
            continue
        web, middle = joint.frame.carry(each.web), joint.frame.carry(_middle(each, joint.own))
        for name in piece.bodies:
            body, own = whole.body(name), name in joint.pair
            if own and each.hinge.joins_once:
                continue
            gaps = _gaps(product, middle if own else web, body.solid)
            title = f"{body.title} and what bends between {titled(whole, joint.pair)}"
            yield title, [gap for gap in gaps if not own or gap.size < ROOT]


def _middle(fitted: Fitted, own: Fold) -> Manifold:
    """What bends away from its roots, in the hinge's own frame: a body that carries a border may
    come near those."""
    from scadgen.motion.relief import rooted

    middle, (x, y, z) = fitted.web, cross(own.face, own.line)
    for border, way in zip(own.pair, (1, -1), strict=True):
        towards = way * x, way * y, way * z
        middle = middle - rooted(fitted.alone.body(border).solid, towards, ROOT + own.clearance)
    return middle


def _beside_arms(product: Product) -> Iterator[tuple[str, list[Gap]]]:
    """Arms that bend, and what else is on the body that carries them.

    Of a catch the walls are further away; an arm of a detent is rooted in its body, whatever its
    shape, so that only sides of others are looked at.
    """
    for fitted in product.merged:
        name = fitted.joint.moving
        rest = [other for other in product.merged if other is not fitted]
        for one in fitted.own.gives:
            beside = added(name, rest)
            if fitted.hinge.serves == CATCH:
                beside = merged(product, name, less=fitted)
            arm = mesh(fitted.hinge, fitted.part(1), 0.0) ^ one.beside()
            gaps = _gaps(product, arm, fitted.frame(1).back.carry(beside))
            title = f"{name.replace('_', ' ')} and {one.name} of {fitted.name}"
            yield title, [gap for gap in gaps if gap.size < ROOT]


def _lies_flat(joint: Joint) -> bool:
    """Whether it turns, and prints flat: of what prints half shut ``half_shut`` tells."""
    return isinstance(joint, MergedTurn) and not joint.printed_at


def _in(pairs: Sequence[tuple[str, str]], pair: tuple[str, str]) -> bool:
    return any(set(each) == set(pair) for each in pairs)


def _links(product: Product) -> dict[frozenset[str], list[tuple[Manifold, Manifold]]]:
    """The links of each hinge by themselves, by the bodies that it joins."""
    found: dict[frozenset[str], list[tuple[Manifold, Manifold]]] = {}
    for fitted in product.fitted.values():
        fixed, moving = (fitted.alone.body(name).solid for name in fitted.own.pair)
        found.setdefault(frozenset(fitted.joint.pair), []).append((fixed, moving))
    return found


def _nearer(gaps: Sequence[Gap], own: Sequence[Gap]) -> list[Gap]:
    """Those of the gaps that are narrower than what links have of the same name."""
    least = {gap.name: min(g.size for g in own if g.name == gap.name) for gap in own}
    return [gap for gap in gaps if gap.size < least.get(gap.name, SEARCHED) - ROUNDING]


def _gaps(product: Product, one: Manifold, other: Manifold) -> list[Gap]:
    """How far apart two solids print, on the bed and above it; nothing of what is far apart."""
    from scadgen.motion.contact import far_apart, gap_between

    if far_apart(one, other, SEARCHED):
        return []
    size = gap_between(one, other, SEARCHED)
    if size >= SEARCHED:
        return []
    return [Gap("beside each other", size), *_on_the_bed(product, one, other)]


def _on_the_bed(product: Product, one: Manifold, other: Manifold) -> list[Gap]:
    """How far apart two solids begin on the bed; nothing of what is far apart."""
    drawn = bed([one, other], min(product.layer_heights)).drawn
    return [Gap("on the bed", drawn, bed=(0, 0))] if drawn < SEARCHED else []
