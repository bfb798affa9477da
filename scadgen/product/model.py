"""A product, typed: named bodies, the joints between them, what prints it and what it bears."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge
from scadgen.printing.lines import LINE_WIDTH
from scadgen.product.bodies import EDGES, Form
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.heights import LAYER_HEIGHTS
from scadgen.tables.documents import JobError
from scadgen.tables.hints import closest, instead
from scadgen.text.quoting import toml

if TYPE_CHECKING:
    from scadgen.product.choosing import Decided
    from scadgen.product.fitting import Fitted
    from scadgen.proof.fleet.population import Population
    from scadgen.sizing.postures import Posture
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where the axis is on a body, in that body's own coordinates.

    x, y: a point that it passes, mm. way: from the fixed to the moving body, degrees from x.
    """

    x: float
    y: float
    way: float


@dataclass(frozen=True, kw_only=True)
class ProductJoint:
    """A hinge between two bodies.

    family: its class; ``Hinge`` where it is to be chosen. values: those of its fields that are
    given; what a body decides is worked out where it is left open, and with ``find`` or no family
    all others are sized for the duty. posture: how the axis stands of a family that is to be
    chosen. fixed, moving: names of the bodies. edge, moving_edge: the side of
    each on which it sits: back, front, left or right. offset: along that side of the fixed body
    from its middle, mm. place, moving_place: instead, for a body whose sides nobody knows; the
    moving one's is the fixed one's where it is left out. closes: whether the two lie on each other,
    rim on rim, at the end of the turn. with_others: from and to which angle it is turned while
    other joints are, too, degrees; None for its whole turn. duty: what it bears, if that is not the
    product's. like: the name of the joint that it repeats.
    """

    family: type[Hinge]
    fixed: str
    moving: str
    values: Mapping[str, Any] = field(default_factory=dict)
    edge: str = "back"
    moving_edge: str = "back"
    offset: float = 0.0
    place: Place | None = None
    moving_place: Place | None = None
    closes: bool = False
    with_others: tuple[float, float] | None = None
    duty: Duty | None = None
    like: str = ""
    find: bool = False
    posture: Posture | None = None

    def __post_init__(self) -> None:
        for key in ("edge", "moving_edge"):
            if getattr(self, key) not in EDGES:
                words = f"it must be one of {', '.join(EDGES)}"
                raise JobError(f"{key} = {getattr(self, key)}; {words}.", key)

    @property
    def pair(self) -> tuple[str, str]:
        """The names of both bodies, the fixed one first."""
        return self.fixed, self.moving


@dataclass(frozen=True, kw_only=True)
class ProductCatch:
    """What holds two bodies shut that a hinge joins.

    family: its class, one that serves as a catch. on: the name of the joint whose axis it shares.
    values: as for a joint. offset: of its hook along the axis, from the middle of the joint, mm;
    None for as near to it as the walls have room for all of the catch. duty: what it bears, if that
    is not the product's.
    """

    family: type[Hinge]
    on: str
    values: Mapping[str, Any] = field(default_factory=dict)
    offset: float | None = None
    duty: Duty | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Product:
    """Bodies, joints and catches by name, and what all of them have in common.

    name: stem of the files. title, note: free text. layer_heights, line_width: mm. population: the
    fleet that prints it. plastic, duty: what it is made of and what each joint bears, None where
    no strength is asked. bed: what the printer's bed holds along x and y, mm. order: the names of
    joints that move one after another, each left turned to its end; empty for one at a time, all
    others as they print; None for all at once. source: the text of the file that it was read from,
    until anything of it is replaced; "" for one that was made here.

    Raises JobError for a name that is there twice or not at all; its ``fitted`` joints do for one
    that finds no place on its bodies, and for values that make no hinge.
    """

    name: str
    bodies: Mapping[str, Form]
    joints: Mapping[str, ProductJoint] = field(default_factory=dict)
    catches: Mapping[str, ProductCatch] = field(default_factory=dict)
    title: str = ""
    note: str = ""
    layer_heights: tuple[float, ...] = LAYER_HEIGHTS
    line_width: float = LINE_WIDTH
    population: Population = ROUGH
    plastic: Plastic | None = None
    duty: Duty | None = None
    bed: tuple[float, float] | None = None
    order: tuple[str, ...] | None = None
    source: str = field(default="", init=False)

    def __post_init__(self) -> None:
        if not self.bodies:
            raise JobError("bodies: none; name at least one.", "bodies")
        seen = set(self.bodies)
        for table, names in (("joints", self.joints), ("catches", self.catches)):
            for name in names:
                if name in seen:
                    key = f"{table}.{name}"
                    raise JobError(f"{key}: another has that name, too; name them apart.", key)
            seen |= set(names)
        for name, joint in self.joints.items():
            for key, body in zip(("fixed", "moving"), joint.pair, strict=True):
                if body not in self.bodies:
                    there = instead(closest(body, self.bodies), self.bodies)
                    key = f"joints.{name}.{key}"
                    raise JobError(f"{key} = {toml(body)}; no body is called so; {there}", key)
            if joint.fixed == joint.moving:
                key = f"joints.{name}.moving"
                raise JobError(
                    f"{key} = {toml(joint.moving)}; it must be another body than fixed.", key
                )
        self._refuse_order()
        for name, catch in self.catches.items():
            if catch.on not in self.joints:
                key = f"catches.{name}.on"
                there = instead(closest(catch.on, self.joints), self.joints)
                raise JobError(f"{key} = {toml(catch.on)}; no joint is called so; {there}", key)

    def _refuse_order(self) -> None:
        """Raise JobError for an order in which a joint is not there once."""
        if not self.order:
            return
        for name in self.order:
            if name not in self.joints:
                there = instead(closest(name, self.joints), self.joints)
                raise JobError(
                    f"order: {toml(name)} in it; no joint is called so; {there}", "order"
                )
        if sorted(self.order) != sorted(self.joints):
            works = ", ".join(map(toml, self.joints))
            words = "every joint has to be in it once, or none for one at a time"
            raise JobError(f"order: {words}. This works: [{works}].", "order")

    @cached_property
    def caught(self) -> dict[str, Fitted]:
        """Each catch with its places, by name."""
        from scadgen.product.catching import fit_catch

        return {name: fit_catch(self, name) for name in self.catches}

    @property
    def merged(self) -> list[Fitted]:
        """All that is merged into bodies: joints, then catches."""
        return [*self.fitted.values(), *self.caught.values()]

    @property
    def longest_bridge(self) -> float:
        """Longest span that its printers must bridge, mm."""
        return max((fitted.hinge.longest_bridge() for fitted in self.merged), default=0.0)

    @cached_property
    def decided(self) -> dict[str, Decided]:
        """Each joint with its family, by name: what a joint leaves open is chosen."""
        from scadgen.product.choosing import decide

        return decide(self)

    @cached_property
    def fitted(self) -> dict[str, Fitted]:
        """Each joint with its hinge and its places, by name."""
        from scadgen.product.fitting import fit

        return {name: fit(self, name) for name in self.joints}
