"""A joint fitted to its bodies: where it sits, and what of its hinge they decide.

A box closes whose wall and lid are together twice as high as the axis: half a turn about an axis at
the height a carries the lid's rim from L to 2 a - L, which has to be the rim of the box. What
stands on its edge closes about an axis in the plane of the faces that are to meet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge, bounds, definition
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.leaf import Leaves
from scadgen.hinge.kinds.lying import LyingPivot
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.kinds.setback import SetBack
from scadgen.hinge.kinds.upright import UprightPivot
from scadgen.hinge.meshing import mesh
from scadgen.hinge.rules import HingeError
from scadgen.jobs.keys import LAYERS, job_keys
from scadgen.product.bodies import EDGES, Worked
from scadgen.product.frames import Frame
from scadgen.product.unused import refuse_closing, refuse_unused
from scadgen.tables.documents import JobError
from scadgen.text.numbers import shown

if TYPE_CHECKING:
    from collections.abc import Mapping

    from manifold3d import Manifold

    from scadgen.mechanism.joint import Joint
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.model import Place, Product, ProductJoint

#: Turn at which two bodies that close lie on each other, degrees.
SHUT = 180.0
#: So many clearances lie between the leaves of bodies that close on edge and their faces: arms that
#: stand as far back pass each other.
CLEAR = 2
#: Where a length is fitted it is taken in such steps, mm.
STEP = 0.5


@dataclass(frozen=True)
class Spot:
    """Where a joint sits on one of its bodies: its frame there, y from the fixed to the moving one.

    before: what leads there from the body, as OpenSCAD says it. turned: degrees about the upright,
    then shift: along x and y, mm, as OpenSCAD says it; last: another turn, degrees.
    """

    frame: Frame
    turned: float
    shift: tuple[str, str]
    last: float = 0.0
    before: str = ""

    def turned_by(self, angle: float) -> Spot:
        """The spot turned about its upright, degrees."""
        frame, last = self.frame.then(Frame(turn=angle)), (self.last + angle) % 360
        return replace(self, frame=frame, last=last) if angle else self


@dataclass(frozen=True, eq=False)
class Fitted:
    """A joint that has its hinge.

    spots: on the fixed and on the moving body. quarter: turn of the hinge in the spot's frame,
    degrees. worked: by field what the bodies decided. off: from the axis to the bodies, mm. rim:
    height at which the bodies lie on each other when shut; None where they don't, or where they
    stand on edge and lie on each other in the plane of the axis.
    """

    name: str
    joint: ProductJoint
    hinge: Hinge
    spots: tuple[Spot, Spot]
    quarter: float
    off: float
    worked: Mapping[str, Worked] = field(default_factory=dict)
    rim: Worked | None = None

    @cached_property
    def alone(self) -> Mechanism:
        """The hinge by itself, as its family draws it."""
        return self.hinge.mechanism()

    @property
    def own(self) -> Joint:
        """The hinge's own joint. Raises JobError for a family without one, or with several."""
        self.refuse_others()
        return self.alone.joints[0]

    def refuse_others(self) -> None:
        """Raise JobError for a family without a joint, or with several."""
        if len(self.alone.joints) != 1:
            key = f"joints.{self.name}.family"
            words = f"it has {len(self.alone.joints)} joints, and a product needs one"
            raise JobError(f"{key} = {self.hinge.family}; {words}.", key)

    @cached_property
    def web(self) -> Manifold:
        """What bends between both its borders, mm, in the hinge's own frame."""
        whole, fixed, moving = (mesh(self.hinge, part, 0.0) for part in ("both", *self.own.pair))
        return whole - fixed - moving

    def part(self, side: int) -> str:
        """The part of its module that is the fixed (0) or the moving body's (1)."""
        return self.own.pair[side]

    def relief(self, side: int) -> str:
        """The part that is taken from the body before; "" where the family draws none.

        A catch stands outside of the walls, which are flat: nothing has to give way to it.
        """
        if self.hinge.serves == "catch":
            return ""
        name = f"{self.own.pair[side]}_relief"
        return name if name in definition(type(self.hinge)).parts else ""

    def frame(self, side: int) -> Frame:
        """The hinge's own frame on the fixed (0) or on the moving (1) body."""
        return self.spots[side].frame.then(Frame(turn=self.quarter))


def fit(product: Product, name: str) -> Fitted:
    """A joint of a product with its hinge. Raises JobError."""
    joint = product.decided[name].joint
    refuse_unused(product, name, joint)
    _refuse_edges(product, name, joint)
    worked = dict(worked_of(product, joint))
    common = {"layer": max(product.layer_heights), "line_width": product.line_width}
    given = {field: each.value for field, each in worked.items()} | dict(joint.values)
    hinge = built(f"joints.{name}", joint, common | given, worked)
    off = stand_off(hinge)
    stands = isinstance(hinge, SetBack)
    rim = product.bodies[joint.fixed].top(joint.fixed) if joint.closes and not stands else None
    kept = {field: each for field, each in worked.items() if field not in joint.values}
    alongs = [_along(product, joint, hinge, side) for side in (0, 1)]
    fixed = _spot(product, name, joint.fixed, joint.edge, joint.place, off, alongs[0])
    where = joint.moving_place or joint.place
    moving = _spot(product, name, joint.moving, joint.moving_edge, where, off, alongs[1], True)
    moving = moving.turned_by(-hinge.as_printed())
    fitted = Fitted(name, joint, hinge, (fixed, moving), quarter(hinge), off or 0.0, kept, rim)
    refuse_closing(fitted)
    return fitted


def _refuse_edges(product: Product, name: str, joint: ProductJoint) -> None:
    """Raise JobError for a hinge at a side where its body has none."""
    edges = {"edge": (joint.fixed, joint.edge), "moving_edge": (joint.moving, joint.moving_edge)}
    for word, (body, edge) in edges.items():
        why = "" if joint.place else product.bodies[body].refused_edge(edge)
        if why:
            key = f"joints.{name}.{word}"
            raise JobError(f'{key} = "{edge}"; {why}. This works: "left" or "right".', key)


def _along(product: Product, joint: ProductJoint, hinge: Hinge, side: int) -> Worked:
    """From the middle of a body's side to the hinge's, in the frame of its spot, mm.

    Walls that carry leaves set back from the axis have their middle there; what closes on its edge
    has its axis in the plane of its own face.
    """
    name, edge = joint.pair[side], (joint.edge, joint.moving_edge)[side]
    found = product.bodies[name].side(name, edge)
    if joint.closes and isinstance(hinge, SetBack) and found is not None:
        half = found[1].value / 2
        text = f"{found[1].text} / 2"
        return Worked(half, text) if side else Worked(-half, f"-{text}")
    along = joint.offset - (float(hinge.setback) if isinstance(hinge, SetBack) else 0.0)
    return Worked.of(-along if side else along)


def built(
    table: str, joint: ProductJoint, values: Mapping[str, Any], worked: Mapping[str, Worked]
) -> Hinge:
    """The hinge of a table. Raises JobError that names the key, and the bodies that decided it."""
    try:
        return joint.family(**values)
    except HingeError as error:
        keys = job_keys(joint.family) | {"layer": LAYERS}
        key = keys[error.param]
        if not key.startswith("printers."):
            key = f"{table}.{key}"
        why = ""
        if error.param in worked and error.param not in joint.values:
            why = f", as {joint.fixed} and {joint.moving} have it"
        words = f"{key} = {shown(error.value)}{error.unit}{why}; {error.rule}{error.remedy}"
        raise JobError(words, key) from None


def stand_off(hinge: Hinge) -> float | None:
    """From its middle to where the bodies begin that it joins, mm; None where nobody knows.

    On the borders of a flexure they begin half-way, clear of the edges that roll up as it bends.
    """
    if isinstance(hinge, Leaves):
        return float(hinge.reach)
    if isinstance(hinge, Flexure):
        return float(hinge.span + hinge.border) / 2
    return None


def quarter(hinge: Hinge) -> float:
    """Turn about the upright, degrees, that brings its moving side from its own way to y."""
    fixed, moving = (_middle(body.solid.bounding_box()) for body in hinge.drawn_flat().bodies[:2])
    across, along = moving[0] - fixed[0], moving[1] - fixed[1]
    way = math.degrees(math.atan2(along, across))
    return (90 - 90 * round(way / 90)) % 360


def _middle(box: Any) -> tuple[float, float]:
    return (box[0] + box[3]) / 2, (box[1] + box[4]) / 2


def _spot(
    product: Product,
    name: str,
    body: str,
    edge: str,
    place: Place | None,
    off: float | None,
    offset: Worked,
    moving: bool = False,
) -> Spot:
    if place is not None:
        turned = (place.way - 90) % 360
        shift = Worked.of(place.x).text, Worked.of(place.y).text
        frame = Frame(place.x, place.y, turned)
        return Spot(frame, 0.0, shift, turned)
    side = product.bodies[body].side(body, edge)
    key = f"joints.{name}.{'moving_' if moving else ''}place"
    if side is None:
        words = f"missing; nobody knows the sides of {body}"
        raise JobError(f"{key}: {words}: give [x, y, way], mm and degrees.", key)
    if off is None:
        words = (
            f"missing; {product.decided[name].joint.family.family} does not tell where bodies begin"
        )
        raise JobError(f"{key}: {words}: give [x, y, way], mm and degrees.", key)
    out, _ = side
    turned, last = (EDGES[edge] - 90) % 360, 180.0 if moving else 0.0
    inner = Frame(offset.value, out.value + off, last)
    shift = offset.text, f"{out.text} + {name}_off"
    return Spot(Frame(turn=turned).then(inner), turned, shift, last)


def worked_of(product: Product, joint: ProductJoint) -> Any:
    """What the bodies decide of the hinge, by field: what is given by a maker goes before."""
    names = bounds(joint.family)
    if joint.closes:
        yield "swing", Worked.of(SHUT)
    if issubclass(joint.family, Leaves):
        yield from _leaves(product, joint)
    if issubclass(joint.family, Pivot) and joint.place is None:
        yield from _length(product, joint)
    if issubclass(joint.family, Flexure) and joint.place is None and not joint.find:
        yield from _length(product, joint)
    if issubclass(joint.family, Flexure):
        yield "thickness", product.bodies[joint.fixed].top(joint.fixed)
    if joint.closes and "axis_height" in names:
        yield from _axis(product, joint)


def _leaves(product: Product, joint: ProductJoint) -> Any:
    """Stubs that vanish in the walls of both bodies: on the bed, or upright ones."""
    walls = [product.bodies[name].walls for name in joint.pair]
    if issubclass(joint.family, UprightPivot):
        edges = zip(joint.pair, (joint.edge, joint.moving_edge), strict=True)
        walls = [product.bodies[name].upright(name, edge) for name, edge in edges]
    known = [wall for wall in walls if wall is not None]
    limits = bounds(joint.family)["leaf_thickness"]
    thick, clear = limits.initial, 0.0
    if joint.closes and issubclass(joint.family, SetBack):
        clear = CLEAR * joint.values.get("clearance", bounds(joint.family)["clearance"].initial)
    if len(known) == len(walls):
        thick = max(limits.low, min(thick, *(wall - clear for wall in known)))
        if not joint.values.get("opens_to"):  # a heel meets a leaf beyond where bodies begin
            yield "leaf_length", Worked.of(0)
        yield "leaf_thickness", Worked.of(thick)
    if clear:
        thick = joint.values.get("leaf_thickness", thick)
        yield "setback", Worked.of(thick / 2 + clear)


def _length(product: Product, joint: ProductJoint) -> Any:
    """As long as the shorter side leaves between its corners, no longer than the family makes.

    One that stands is as high as the lower body.
    """
    if issubclass(joint.family, UprightPivot):
        one, other = (product.bodies[name].top(name) for name in joint.pair)
        low = Worked(min(one.value, other.value), f"min({one.text}, {other.text})")
        limits = bounds(joint.family)[joint.family.along]
        yield joint.family.along, low if low.value <= limits.high else Worked.of(limits.high)
        return
    edges = zip(joint.pair, (joint.edge, joint.moving_edge), strict=True)
    sides = [(name, product.bodies[name].side(name, edge)) for name, edge in edges]
    if not issubclass(joint.family, LyingPivot | Flexure):
        return
    if any(side is None for _, side in sides):
        return
    long = min(
        side[1].value - 2 * product.bodies[name].corners for name, side in sides if side is not None
    )
    long -= 2 * abs(joint.offset)
    if issubclass(joint.family, LyingPivot):
        fits = {joint.family.along: long}
    else:
        fits = dict(joint.family.spanning(long, joint.values))
    for name, value in fits.items():
        most = bounds(joint.family)[name].high
        yield name, Worked.of(math.floor(min(value, most) / STEP) * STEP)


def _axis(product: Product, joint: ProductJoint) -> Any:
    """Half as high as both bodies together; their walls carry the knuckles."""
    one, other = (product.bodies[name].top(name) for name in joint.pair)
    height = (one.value + other.value) / 2
    yield "axis_height", Worked(height, f"({one.text} + {other.text}) / 2")
    low = Worked(min(one.value, other.value), f"min({one.text}, {other.text})")
    yield "backing", low
