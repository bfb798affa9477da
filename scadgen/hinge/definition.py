"""What a family is when its functions have been run on symbols: its pieces, and all its trees."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from scadgen.hinge.automatic import Automatic
from scadgen.hinge.exported import Export
from scadgen.hinge.fields import Bounds
from scadgen.hinge.gaps import Gap, Grip, Web
from scadgen.hinge.meets import Click, Stop
from scadgen.hinge.rules import Rule
from scadgen.trees.expr import Expr
from scadgen.trees.solid import Shape

if TYPE_CHECKING:
    import scadgen.trees.to_arrays as arrays
    from scadgen.trees.to_numpy import Numbers, Value
    from scadgen.trees.to_python import Asked


@dataclass(frozen=True, eq=False)
class Piece:
    """A solid, and the values of ``part`` for which it is drawn."""

    parts: tuple[str, ...]
    solid: Shape


@dataclass(frozen=True, eq=False)
class Definition:
    """A family's maths, run once on symbols: the one source of every reading."""

    bounds: Mapping[str, Bounds]
    derived: Mapping[str, Expr]
    rules: tuple[Rule, ...]
    pieces: tuple[Piece, ...]
    gaps: tuple[Gap, ...]
    grips: tuple[Grip, ...]
    webs: tuple[Web, ...]
    meets: tuple[Click | Stop, ...]
    automatic: tuple[Automatic, ...]
    #: What a maker puts under the call of the module, where the moving side carries it.
    carried: Shape | None
    exported: tuple[Export, ...]

    @property
    def parts(self) -> tuple[str, ...]:
        """The values that ``part`` may take."""
        return tuple(dict.fromkeys(name for piece in self.pieces for name in piece.parts))

    @property
    def drawn(self) -> tuple[Shape, ...]:
        """Every solid that its module draws."""
        solids = tuple(piece.solid for piece in self.pieces)
        return (*solids, self.carried) if self.carried else solids

    @property
    def answered(self) -> frozenset[str]:
        """What of bodies that are meant to meet is asked of printers, as the joint calls it."""
        told = (one.of for one in (*self.grips, *self.meets))
        return frozenset(of for of in told if of)

    @cached_property
    def first_broken(self) -> Asked:
        """A function of single numbers: which of the rules is the first that they break, or None.

        Numpy has to be told to be silent.
        """
        from scadgen.trees.to_python import first_false

        return first_false(rule.holds for rule in self.rules)

    @cached_property
    def kept(self) -> arrays.Asked:
        """A function of arrays: where all of the rules hold."""
        from scadgen.trees.to_arrays import all_hold

        return all_hold(rule.holds for rule in self.rules)

    @cached_property
    def nearest(self) -> Mapping[Rule, Asked]:
        """For each rule a function of single numbers: the limit, on the steps of its field."""
        from scadgen.trees.to_python import value

        return {rule: value(rule.nearest(self.bounds[rule.param].step)) for rule in self.rules}

    @cached_property
    def checked(self) -> dict[str, Bounds]:
        """The bounds in the order in which values are held against them: automatic ones last.

        What an automatic value stands for is known only when those that it depends on are right.
        """
        last = [one.param for one in self.automatic]
        return {n: self.bounds[n] for n in (*(n for n in self.bounds if n not in last), *last)}

    @property
    def spoilable(self) -> bool:
        """Whether the family declares anything that a printer could spoil."""
        return bool(self.gaps or self.grips or self.webs)

    def margins(self, numbers: Numbers) -> list[Value]:
        """For each rule by how much it holds (negative: broken), in the unit of its field."""
        return [
            (numbers.symbols[rule.param] - numbers(rule.limit)) * (1 if rule.at_least else -1)
            for rule in self.rules
        ]
