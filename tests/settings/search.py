"""Branch and bound over settings: is each box refused, or is the obligation met all over it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from scadgen.hinge.family import Definition
from scadgen.hinge.rules import Rule
from scadgen.trees.expr import Call, Expr, Op, Sym, Where, as_expr, free, walk
from scadgen.trees.intervals import Array, Bools
from scadgen.trees.linear import Key
from scadgen.trees.to_intervals import Intervals
from scadgen.trees.to_linear import Linear, symbols_of
from scadgen.trees.to_numpy import Numbers
from tests.settings.boxes import Boxes, Side, side, whole_box
from tests.settings.chords import chords
from tests.settings.conditions import Margins, facts, rule_margin
from tests.settings.lowest import exactly_weighed, rows, weighed, within
from tests.settings.obligations import Counter, Obligation

#: Boxes looked at at once.
AT_ONCE = 1000
#: So many of them get the best weights, where those found greedily are not enough.
EXACTLY = 32
#: Weight of a side by which a form only leans, beside those by which it bends.
LEANS = 1e-3
_ENDLESS = 1e6


@dataclass
class Outcome:
    """What a search came to: boxes looked at, those left open, a setting that breaks it."""

    boxes: int = 0
    open: list[Boxes] = field(default_factory=list)
    share: float = 0.0
    broken: dict[str, float] | None = None

    @property
    def widest(self) -> str:
        """How wide the open boxes are in each field, at most, in words."""
        widths: dict[str, float] = {}
        for boxes in self.open:
            for name, bounds in boxes.ranges.items():
                width = float(np.max(bounds.high - bounds.low))
                widths[name] = max(widths.get(name, 0.0), width)
        return "widths up to " + ", ".join(f"{n} {w:.3g}" for n, w in widths.items())

    def add(self, other: Outcome) -> None:
        """Take in what another search came to."""
        self.boxes += other.boxes
        self.open += other.open
        self.share += other.share
        self.broken = self.broken or other.broken

    @property
    def proven(self) -> bool:
        """Whether no setting was left open."""
        return self.share == 0 and self.broken is None


class Search:
    """An obligation, in one case of its conditions, with the rules that may guard it."""

    def __init__(
        self,
        family: Definition,
        rules: Sequence[Rule],
        asked: Obligation,
        given: Margins,
    ) -> None:
        self.claims, self.least, self.conditions = asked.claims, asked.least, asked.given
        self.parts = list(dict.fromkeys(e for claim in self.claims for e in claim))
        counted = [margin for counter in asked.counters for margin in _inside(counter)]
        own = (*self.parts, *given, *counted, *(c.node for c in self.conditions))
        self.guards = [*map(rule_margin, rules), *given, *counted]
        self.known = [*self.guards, *facts((*self.parts, *self.guards))]
        self.known += chords(rules, self.parts, family.bounds)
        names = frozenset().union(*map(free, (*own, *self.guards)))
        sides = {n: side(bounds) for n, bounds in family.bounds.items() if n in names}
        for counter in asked.counters:
            sides[counter.name] = _counted(counter, sides)
        self.sides = sides
        self.curved = [e for e in walk(*self.parts) if _is_curved(e)]

    def run(self, most: int) -> Outcome:
        """Split boxes until each is refused, met all over, or no wider than the steps."""
        outcome = Outcome()
        boxes = whole_box(self.sides, (*self.guards, *self.parts))
        while len(boxes):
            if outcome.boxes > most:
                outcome.share += boxes.volume
                outcome.open.append(boxes)
                break
            some, rest = boxes[:AT_ONCE], boxes[AT_ONCE:]
            outcome.boxes += len(some)
            halves, small = self.looked_at(some, outcome)
            if outcome.broken is not None:
                break
            if len(small):
                outcome.share += small.volume
                outcome.open.append(small)
            boxes = halves + rest
        return outcome

    def looked_at(self, boxes: Boxes, outcome: Outcome) -> tuple[Boxes, Boxes]:
        """Halves of the boxes that are open still, and those too small to halve."""
        boxes = boxes[self.not_refused(Linear(boxes.ranges), len(boxes))]
        if not len(boxes):
            return boxes, boxes
        met, bends, leans = self.met(Linear(boxes.ranges), boxes)
        boxes, bends, leans = boxes[~met], bends[~met], leans[~met]
        if len(boxes):
            outcome.broken = self.breaking(boxes, leans)
        return boxes.halved(bends * boxes.shares)

    def not_refused(self, read: Linear, count: int) -> Bools:
        """Which boxes may hold a setting that is let through."""
        kept = np.ones(count, bool)
        for margin in self.guards:
            kept &= read(margin).high >= 0
        for condition in self.conditions:
            truth = read.truth(condition.node)
            kept &= truth.possible if condition.holds else ~truth.sure
        return kept

    def met(self, read: Linear, boxes: Boxes) -> tuple[Bools, Array, Array]:
        """Which boxes meet a claim all over; by how much others bend and lean along their sides.

        The latter are of the part that fails by most, of the claim that fails by least.
        """
        count, forms = len(boxes), {e: read.form(e) for e in (*self.parts, *self.known)}
        told = (*forms.values(), *map(read.form, self.curved))
        keys = list(dict.fromkeys(key for form in told for key in form.shares))
        fields = np.array([key in self.sides for key in keys])
        others = [rows(forms[guard], keys, count) for guard in self.known]
        for node in self.curved:
            others += within(read.form(node), keys, count)
        met, nearest = np.zeros(count, bool), np.full(count, -np.inf)
        shares, endless = np.zeros((count, len(keys))), np.ones(count, bool)
        for claim in self.claims:
            worst = np.full(count, np.inf)
            its_shares, its_end = np.zeros((count, len(keys))), np.zeros(count, bool)
            for part in claim:
                own = rows(forms[part], keys, count)
                low = np.maximum(own.low, np.broadcast_to(forms[part].bounds.low, count))
                low = np.where(np.isnan(low), -np.inf, low)
                left, short = own.shares.copy(), ~met & (low < self.least)
                if np.any(short):
                    low = low.copy()
                    better, after = weighed(own[short], [each[short] for each in others])
                    low[short] = np.maximum(low[short], better)
                    hard = np.flatnonzero(short & (low < self.least))[:EXACTLY]
                    best = exactly_weighed(own[hard], [each[hard] for each in others])
                    low[hard] = np.maximum(low[hard], best)
                    bent = np.abs(after.shares) + np.abs(own.shares[short])
                    left[short] = np.where(fields, after.shares, bent)
                at = low < worst
                worst[at], its_shares[at], its_end[at] = low[at], left[at], np.isinf(own.rest[at])
            met |= worst >= self.least
            at = worst > nearest
            nearest[at], shares[at], endless[at] = worst[at], its_shares[at], its_end[at]
        return met, *self.along(keys, shares, endless)

    def along(self, keys: Sequence[Key], shares: Array, endless: Bools) -> tuple[Array, Array]:
        """By how much forms bend, and lean, along each side."""
        leans = np.zeros((len(shares), len(self.sides)))
        bends = np.zeros_like(leans)
        for j, name in enumerate(self.sides):
            for k, key in enumerate(keys):
                if key == name:
                    leans[:, j] += shares[:, k]
                elif name in symbols_of(key):
                    bends[:, j] += np.abs(shares[:, k])
        bends = np.where(np.isfinite(bends), bends, _ENDLESS) + np.abs(leans) * LEANS
        return bends + np.where(endless, _ENDLESS, 1e-9)[:, None], leans

    def breaking(self, boxes: Boxes, leans: Array) -> dict[str, float] | None:
        """A setting on the steps that is let through and breaks the obligation, near the boxes."""
        half = np.full(leans.shape, 0.5)
        for place in (half, np.where(leans > 0, 0.0, np.where(leans < 0, 1.0, half))):
            settings = boxes.near(place)
            breaks = self.breaks(settings, len(boxes))
            if np.any(breaks):
                at = int(np.argmax(breaks))
                return {name: float(values[at]) for name, values in settings.items()}
        return None

    def breaks(self, settings: dict[str, Array], count: int) -> Bools:
        """Which settings are let through though they break the obligation."""
        numbers: Any = Numbers(settings)
        found = np.ones(count, bool)
        for margin in self.guards:
            found &= numbers(margin) >= 0
        for condition in self.conditions:
            found &= np.asarray(numbers(condition.node), bool) == condition.holds
        met = np.zeros(count, bool)
        for claim in self.claims:
            met |= np.all([np.broadcast_to(numbers(e) >= self.least, count) for e in claim], axis=0)
        return found & ~met


def _is_curved(node: Expr) -> bool:
    """Whether the bounds of a node may tell more than its form."""
    if isinstance(node, Op):
        return node.op in ("*", "/") and all(map(free, node.args))
    return isinstance(node, (Call, Where)) and bool(free(node))


def _inside(counter: Counter) -> tuple[Expr, ...]:
    """A counter stays below its count."""
    return (Op("-", as_expr(counter.count - 1), Sym(counter.name)),)


def _counted(counter: Counter, sides: dict[str, Side]) -> Side:
    box = whole_box(sides, ())
    high = float(np.max(Intervals(box.ranges)(counter.count).high))
    return Side(0, max(high - 1, 0), 1, True)
