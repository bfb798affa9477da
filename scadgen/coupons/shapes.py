"""The shapes of a coupon: rows of pieces on plates that carry a number for each.

Lengths are in mm. The coupon's parameters are symbols, as a family's fields are; the room that a
piece takes up was measured on its solids and is a number.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import cast

from scadgen.coupons.digits import HEIGHT, STROKE, WIDTH, number_outline
from scadgen.coupons.plan import Plan
from scadgen.hinge.family import Bounds, bounds, definition
from scadgen.hinge.rules import Rule, at_least, at_most
from scadgen.trees.expr import Sym, as_expr, floor, let
from scadgen.trees.solid import Drawn, Module, Shape, each, extrude, part, rectangle, union
from scadgen.trees.to_scad import continued

JOIN = let("join", 0.01, "parts that are one body reach this far into each other")


@dataclass(frozen=True, eq=False)
class CouponTrees:
    """The trees of a coupon. Each field but ``plan`` is a parameter of its module, as a symbol."""

    plan: Plan
    first: float
    step: float
    count: float
    in_row: float
    raised: float
    plate: float
    line: float
    bed: float

    @functools.cached_property
    def hinge(self) -> Module:
        """The family's own module, which stands in a file beside the coupon's."""
        cls, own = self.plan.family, bounds(self.plan.family)
        solids = [p.solid for p in definition(cls).pieces if "both" in p.parts]
        differing = [n for n, v in self.plan.others.items() if v != own[n].default]
        return Module(cls.family, "", (self.plan.steps.field, *differing), union(*solids))

    @functools.cached_property
    def pitch(self) -> float:
        return let("pitch", self.plan.room.pitch, "from one piece to the next")

    @functools.cached_property
    def root(self) -> float:
        note = "from the axis to the plate, which lies under those ends"
        return let("root", self.plan.room.root, note)

    @functools.cached_property
    def top(self) -> float:
        back = let("back", self.plan.room.back, "from the axis to the far ends of the fixed sides")
        return let("top", back + STROKE, "from the axis to the top of the numbers")

    @functools.cached_property
    def edge(self) -> float:
        return let("edge", self.top + HEIGHT + STROKE, "from the axis to the edge of the plate")

    @functools.cached_property
    def row_pitch(self) -> float:
        front = let("front", self.plan.room.front, "from the axis to the end of the moving side")
        return let("row_pitch", self.edge + front + 1, "from one row to the next")

    def rules(self) -> Iterable[Rule]:
        """What keeps the numbers readable, and the pieces apart and on the bed."""
        two_lines = let("least_stroke", 2 * self.line)
        yield at_least(STROKE, two_lines, "or the strokes are less than two lines wide")
        widest = let("widest", self.plan.values[-1], "the pieces have room up to this step")
        most = let("most_count", (widest - self.first) / self.step + 1)
        yield at_most(self.count, most, "or the widest piece has no room")
        across = let("most_in_row", self.bed / self.pitch)
        yield at_most(self.in_row, across, "or a row is longer than the bed")
        rows = let("most_rows", floor((self.bed + 1) / self.row_pitch))
        pieces = let("most_pieces", self.in_row * rows)
        yield at_most(self.count, pieces, "or the rows do not fit the bed")

    def whole(self) -> Shape:
        """All pieces, row by row, from the corner of the bed on."""
        return each("i", self.count, self.placed)

    def placed(self, i: float) -> Shape:
        """Piece ``i`` where it prints."""
        across, up = i % self.in_row, floor(i / self.in_row)
        piece = self.piece(self.first + i * self.step)
        return piece.at(across * self.pitch + self.pitch / 2, up * self.row_pitch + self.edge)

    @part
    def piece(self, value: float) -> Shape:
        """Hinge with the stepped value, on its share of the plate."""
        others = (self.plan.others[name] for name in self.hinge.params[1:])
        hinge: Shape = Drawn(self.hinge, tuple(map(as_expr, (value, *others))), None)
        if self.plan.steps.turned:
            hinge = hinge.turned(z=self.plan.steps.turned)
        per_mm = let("per_mm", self.plan.steps.per_mm, "so many of what the number counts")
        return hinge + self.tab(floor(value * per_mm + 1 / 2))

    @part
    def tab(self, number: float) -> Shape:
        """Share of the plate, with the number raised on it."""
        share = rectangle(self.pitch + JOIN, self.edge - self.root)
        place = number_outline(number).at(-WIDTH / 2, -self.top - HEIGHT)
        lying = extrude(share.at(-self.pitch / 2, -self.edge), self.plate)
        return lying + extrude(place, self.plate + self.raised)


def trees_of(plan: Plan) -> CouponTrees:
    """The trees of a plan."""
    names = (name for name in parameters(plan) if name != "stroke")
    return CouponTrees(plan, **{name: cast(float, Sym(name)) for name in names})


def parameters(plan: Plan) -> Mapping[str, Bounds]:
    """The parameters of a coupon's module, with their bounds.

    Raises ValueError where one has the name of a field of the family.
    """
    steps, own = plan.steps, bounds(plan.family)[plan.steps.field]
    rows = -(-steps.count // int(steps.bed // plan.room.pitch))

    def mm(default: float, low: float, high: float, step: float, words: str) -> Bounds:
        return Bounds("mm", low, high, default=default, step=step, group="Numbers", sentence=words)

    def steps_mm(default: float, low: float, high: float, step: float, words: str) -> Bounds:
        return Bounds("mm", low, high, default=default, step=step, group="Steps", sentence=words)

    def count(default: float, words: str) -> Bounds:
        return Bounds(
            "", 1, MOST, default=default, step=1, group="Steps", sentence=words, whole=True
        )

    caption = continued(own.sentence)
    found = {
        "first": steps_mm(steps.first, own.low, own.high, own.step, f"First step: {caption}"),
        "step": steps_mm(steps.step, LEAST, own.high, LEAST, "From one step to the next"),
        "count": count(steps.count, "Steps"),
        "in_row": count(-(-steps.count // rows), "Pieces in a row"),
        "bed": steps_mm(steps.bed, 50, 500, 5, "Side of the corner of the bed that it has to fit"),
        "plate": mm(1.2, 0.6, 4, 0.1, "Thickness of the plate"),
        "stroke": mm(0.9, 0.4, 3, 0.05, "Width of the strokes of the numbers"),
        "raised": mm(0.6, 0.2, 2, 0.1, "Height of the numbers: two layers or more"),
        "line": mm(0.45, 0.2, 1.2, 0.05, "Width of a printed line"),
    }
    if taken := found.keys() & bounds(plan.family).keys():
        raise ValueError(f"{plan.name}: both the coupon and the family have {sorted(taken)}")
    return found


#: Most pieces of a coupon; narrowest step, mm.
MOST, LEAST = 40, 0.01
