"""Joints that leave their bearing open: it is chosen, and sized, to fit the bodies that it joins.

The bodies tell what they decide of a hinge of any family: the length of the spine, the walls, the
heights. With that given, and what the maker gives, families are ranked and sized as for a wish of
its own; the first serves whose hinge finds its place on the bodies and is proven by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.jobs.keys import MATERIAL, job_keys
from scadgen.product.fitting import built, worked_of
from scadgen.sizing.choose import HINGE, Ranking, choose
from scadgen.sizing.postures import POSTURES, Posture, suits
from scadgen.sizing.report import ranking_lines
from scadgen.sizing.wanted import Envelope, Wanted
from scadgen.strength.asked import differing
from scadgen.strength.duty import Duty
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml

if TYPE_CHECKING:
    from scadgen.product.model import Product, ProductJoint

#: What no maker gives and no search finds: a product tells it.
_TOLD = ("angle", "layer", "line_width", "swing")


@dataclass(frozen=True, eq=False)
class Decided:
    """A joint whose family and values are all known.

    how: lines that tell why they are as they are; none where the maker gave them. written: what a
    product file says to keep them.
    """

    joint: ProductJoint
    how: tuple[str, ...] = ()
    written: tuple[str, ...] = ()


def choices_data(product: Product) -> dict[str, dict[str, str]]:
    """What was chosen of a product's joints as plain data, by the name of the joint."""
    return {
        name: {"how": "\n".join(one.how), "written": "\n".join(one.written)}
        for name, one in product.decided.items()
        if one.how
    }


def choices(product: Product) -> Iterator[str]:
    """What was chosen of a product's joints and why, and what to write down to keep it."""
    told = {one.written: one for one in product.decided.values() if one.how}
    for one in told.values():
        yield from one.how
        yield "  to keep these values, or to change them, write into the product file"
        yield from (f"    {line}" for line in one.written)


def decide(product: Product) -> dict[str, Decided]:
    """Each joint of a product, what was left open chosen; copies of a joint have the same.

    Raises JobError where nothing serves, or no plastic is named to size it for.
    """
    known: dict[str, Decided] = {}
    found: dict[str, Decided] = {}
    for name, joint in product.joints.items():
        told = joint.like or name
        if not is_open(joint):
            found[name] = Decided(joint)
            continue
        if told not in known:
            known[told] = _decided(product, told, joint)
        values, family = known[told].joint.values, known[told].joint.family
        made = replace(joint, family=family, values=values, find=False)
        found[name] = replace(known[told], joint=made)
    return found


def is_open(joint: ProductJoint) -> bool:
    """Whether a joint leaves its family open, or asks for its values to be found."""
    return joint.family is Hinge or joint.find


def _decided(product: Product, name: str, joint: ProductJoint) -> Decided:
    if product.plastic is None:
        words = f"missing; joints.{name} is sized for what it bears: name the plastic"
        raise JobError(f"{MATERIAL}: {words}. This works: {MATERIAL} = {toml('petg')}.", MATERIAL)
    posture = _posture(product, joint)
    given = None if joint.family is Hinge else joint.family.family
    wanted = Wanted(
        duty=joint.duty or product.duty or Duty(),
        plastic=product.plastic,
        envelope=_room(product, joint, posture),
        fixed=_fixed(product, joint, posture),
    )

    def unproven(hinge: Hinge) -> str:
        return _why_not(product, name, joint, hinge)

    ranking = choose(
        wanted, posture, product.population, unproven=unproven, given=given, turned=False
    )
    if ranking.favourite is None:
        return _none(name, ranking, given)
    hinge = ranking.favourite.sized.hinge
    made = replace(joint, family=type(hinge), values=_values(product, joint, hinge), find=False)
    how = tuple(_how(name, wanted.duty, ranking, asked=bool(joint.duty or product.duty)))
    return Decided(made, how, tuple(_written(name, joint, made)))


def _none(name: str, ranking: Ranking, given: str | None) -> Decided:
    """Raise JobError: nothing serves."""
    key = f"joints.{name}.family"
    refused = [one for one in ranking.refused if suits(one.family, ranking.posture)]
    mine = [one for one in refused if one.family == given] or refused
    why = " ".join(f"{one.family}: {one}" for one in mine)
    raise JobError(f"{key}: no family serves here. {why}", key)


def _posture(product: Product, joint: ProductJoint) -> Posture:
    """How its axis stands: as told; else upright between bodies that are higher than long there."""
    if joint.family is not Hinge:
        return next(p for p in POSTURES if suits(joint.family.family, p))
    if joint.posture is not None:
        return joint.posture
    if joint.place is not None:
        return "lying"
    edges = zip(joint.pair, (joint.edge, joint.moving_edge), strict=True)
    for name, edge in edges:
        side = product.bodies[name].side(name, edge)
        if side is None or side[1].value >= product.bodies[name].top(name).value:
            return "lying"
    return "standing"


def _room(product: Product, joint: ProductJoint, posture: Posture) -> Envelope:
    """No longer along the axis than the shorter side; no limit where nobody knows it."""
    if posture == "standing":
        return Envelope(z=min(product.bodies[name].top(name).value for name in joint.pair))
    edges = zip(joint.pair, (joint.edge, joint.moving_edge), strict=True)
    sides = [product.bodies[name].side(name, edge) for name, edge in edges]
    known = [side[1].value for side in sides if side is not None]
    return Envelope(x=min(known)) if known and joint.place is None else Envelope()


def _fixed(product: Product, joint: ProductJoint, posture: Posture) -> dict[str, float]:
    """What bodies decide of all families that print so, and what is given, which goes before."""
    fixed: dict[str, float] = {}
    for cls in _families(joint, posture):
        for field, worked in worked_of(product, replace(joint, family=cls, find=True)):
            fixed[field] = min(worked.value, fixed.get(field, worked.value))
    common = {"layer": max(product.layer_heights), "line_width": product.line_width}
    return fixed | common | dict(joint.values)


def _families(joint: ProductJoint, posture: Posture) -> Iterator[type[Hinge]]:
    if joint.family is not Hinge:
        yield joint.family
        return
    for name, cls in all_families().items():
        if cls.serves == HINGE and suits(name, posture):
            yield cls


def _values(product: Product, joint: ProductJoint, hinge: Hinge) -> dict[str, Any]:
    """What was found of it, and what was given: what the bodies decide stays theirs."""
    fields = bounds(type(hinge))
    sized = replace(joint, family=type(hinge), find=True)
    bodies = {field for field, _ in worked_of(product, sized)}
    found = {
        field: getattr(hinge, field)
        for field in fields
        if field not in bodies
        and field not in _TOLD
        and getattr(hinge, field) != fields[field].default
    }
    return found | {field: value for field, value in joint.values.items() if field in fields}


def _why_not(product: Product, name: str, joint: ProductJoint, hinge: Hinge) -> str:
    """Why a hinge does not do on its bodies, in a sentence; or nothing."""
    from scadgen.proof.verdict import check

    cls = type(hinge)
    if joint.closes and not {"axis_height", "setback"} & set(bounds(cls)):
        return "its axis cannot be moved, so that both would not lie on each other when shut."
    made = replace(joint, family=cls, values=_values(product, joint, hinge), find=False)
    worked = dict(worked_of(product, made))
    given = {field: each.value for field, each in worked.items()} | dict(made.values)
    common = {"layer": max(product.layer_heights), "line_width": product.line_width}
    try:
        hinge = built(f"joints.{name}", made, common | given, worked)
    except JobError as error:
        return error.words
    why = check(hinge, product.layer_heights, population=product.population).why_unproven
    return f"it is not proven: {why}" if why else ""


def _how(name: str, duty: Duty, ranking: Ranking, asked: bool) -> Iterator[str]:
    """Why it is as it is, in lines."""
    usual = "" if asked else ", which is what is usual, as none is asked"
    words = ", ".join(f"{key} {value:g}" for key, value in differing(duty, Duty()).items())
    told = f" ({words})" if words else ""
    yield f"{name}: its bearing is chosen to fit its bodies and sized for its duty{told}{usual}"
    if ranking.given and ranking.favourite:  # of the others nobody asked
        ranking = replace(ranking, choices=(ranking.favourite,), refused=(), given=None)
    yield from (f"  {line}" for line in ranking_lines(ranking))


def _written(name: str, open_: ProductJoint, made: ProductJoint) -> Iterator[str]:
    """What a product file says beside what it says already: the family, and what was found."""
    keys = job_keys(made.family)
    found = {keys[f]: value for f, value in made.values.items() if f not in open_.values}
    yield f"[joints.{name}]"
    yield f"family = {toml(made.family.family)}"
    yield from (f"{key} = {toml(value)}" for key, value in found.items() if "." not in key)
    for table in sorted({key.partition(".")[0] for key in found if "." in key}):
        yield f"[joints.{name}.{table}]"
        inner = [key for key in found if key.startswith(f"{table}.")]
        yield from (f"{key.partition('.')[2]} = {toml(found[key])}" for key in inner)
