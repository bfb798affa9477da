"""What a hinge family is made of: fields with bounds, derived values, rules, pieces, a registry.

A family is a frozen dataclass in a file of its own below ``scadgen/families``. Its methods are
plain formulas. :func:`definition` runs them once on symbols; every reading starts from there.
"""

from __future__ import annotations

import dataclasses
import functools
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, cast, dataclass_transform

from scadgen.hinge.automatic import automatics, followed_through
from scadgen.hinge.definition import Definition as Definition
from scadgen.hinge.definition import Piece as Piece
from scadgen.hinge.derived import derived as derived
from scadgen.hinge.exported import Export
from scadgen.hinge.fields import GROUPS as GROUPS
from scadgen.hinge.fields import Bounds as Bounds
from scadgen.hinge.fields import choice as choice
from scadgen.hinge.fields import count as count
from scadgen.hinge.fields import deg as deg
from scadgen.hinge.fields import mm as mm
from scadgen.hinge.fields import quantity as quantity
from scadgen.hinge.judged import ONCE, Judged
from scadgen.hinge.posing import Posing
from scadgen.hinge.promises import Promises
from scadgen.hinge.rules import Rule, Serves, at_least, at_most, named_limits
from scadgen.printing.lines import LAYER_OF_LINE, LINE_WIDTH, TOO_HIGH, thickest_layer
from scadgen.trees.expr import Sym, ceil
from scadgen.trees.solid import Child, Shape

if TYPE_CHECKING:
    from scadgen.hinge.drilled import Drilled
    from scadgen.hinge.measures import Measure
    from scadgen.hinge.steps import Steps
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.strength.carried import Carrier
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic
    from scadgen.strength.place import Strength
    from scadgen.trees.to_numpy import Numbers


@dataclass(frozen=True, kw_only=True)
class Hinge(Posing, Promises):
    """What every family has. Subclasses add fields, derived values, rules and pieces.

    Building one checks all values; raises HingeError for one that makes no sound hinge.
    """

    family: ClassVar[str]
    title: ClassVar[str]
    kind: ClassVar[str]
    posture: ClassVar[str]
    good: ClassVar[str]
    weak: ClassVar[str]

    #: Why parts of the family hang in the air as it prints; empty where nothing does.
    hangs: ClassVar[str] = ""
    #: How far practice trusts the form for many turns at best, 0 to 1 (common practice, no source).
    trust: ClassVar[float] = 0.5
    one_piece: ClassVar[bool] = False  #: it prints as one flat piece, which bends
    #: How the moving side comes off when somebody forces it; empty where it breaks before.
    comes_off: ClassVar[str] = ""
    #: What it is to a maker: a hinge, or what goes with one and turns nothing by itself ("catch").
    serves: ClassVar[str] = "hinge"
    #: Whether it is made to break: the turn that is asked of a hinge is none of its own.
    joins_once: ClassVar[bool] = False
    #: The quantities of a duty, of :data:`scadgen.strength.asked.EVERY`, that its strengths answer;
    #: what else is asked of it is refused. Said beside ``strengths``, by what defines them.
    answers: ClassVar[tuple[str, ...]] = ()
    #: By the name of a strength, why no section of the solid can be held against it.
    not_measured: ClassVar[Mapping[str, str]] = {}
    #: The field that bears most and costs least: sizing tries all its values in every proportion.
    stretched: ClassVar[str] = ""
    #: The field that makes the foot larger on which it stands as it prints; empty where it lies.
    broadens: ClassVar[str] = ""
    #: The field that sets how closely it fits.
    fit: ClassVar[str] = "clearance"
    #: The automatic fields that were given as 0, so that they follow the others.
    left_open: ClassVar[frozenset[str]] = frozenset()

    angle: float = deg(0, -180, 180, 1, "Part", "Angle drawn; 0 is how it prints")
    swing: float = deg(110, 10, 180, 5, "Part", "Turn that the hinge must be free for")
    clearance: float = mm(0.3, 0.15, 0.8, 0.05, "Fit", "Air gap, square to the walls")
    facets: int = count(64, 16, 256, "Quality", "Facets per full turn", step=4)
    layer: float = mm(0.3, 0.04, 0.8, 0.02, "Quality", "Thickest layer that prints it")
    line_width: float = mm(LINE_WIDTH, 0.2, 1.2, 0.05, "Quality", "Width of a printed line")

    def __post_init__(self) -> None:
        from scadgen.hinge.validate import validated

        given = vars(self)
        opened = (name for name, limits in bounds(type(self)).items() if limits.automatic)
        left_open = frozenset(name for name in opened if given[name] == 0)
        given.update(validated(type(self), given), left_open=left_open)

    @classmethod
    def stance(cls) -> str:
        """The posture in one word: what it does on the bed."""
        return cls.posture.replace(":", " ").split()[0]

    @property
    def symbolic(self) -> bool:
        """True where the fields are symbols instead of numbers."""
        return isinstance(vars(self).get("facets"), Sym)

    def carried(self, solid: Shape) -> Shape | None:
        """A solid drawn as printed, to where the moving side carries it; None if it has no one."""
        return None

    def mechanism(self) -> Mechanism:
        """Its bodies as they print, and the joints between them: what everything else reads.

        Without a kind that tells of joints it is bodies that nothing holds.
        """
        from scadgen.hinge.meshing import drawn_alone, mesh
        from scadgen.mechanism.mechanism import Body, Mechanism

        bodies = (
            Body(name, f"{name} body", partial(mesh, self, name, 0.0)) for name in drawn_alone(self)
        )
        return Mechanism(self.family, tuple(bodies))

    def extents(self) -> tuple[float, float, float]:
        """Sides of the box around the hinge as it prints, along x, y and z (mm), less any stop."""
        raise NotImplementedError

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        """How far practice trusts the form for it, and why (common practice, no source)."""
        return Judged(self.trust if duty.cycles > 1 else ONCE * self.trust, self.good)

    def strays(self) -> tuple[float, str] | None:
        """Way (mm) by which the moving side leaves its axis, and how; None if it cannot tell."""
        return None

    def bulk(self) -> float:
        """About the room that its solid parts fill (mm3): what sizing makes small."""
        x, y, z = self.extents()
        return x * y * z

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        """The fields that sizing may change: those that say how large the hinge is."""
        return tuple(name for name, limits in bounds(cls).items() if limits.group == "Size")

    @classmethod
    def free_beside(cls, fixed: Mapping[str, float]) -> tuple[str, ...]:
        """Those of them that are not given, and what is free beside what is."""
        return tuple(name for name in cls.free_fields() if name not in fixed)

    def longest_bridge(self) -> float:
        """Longest span that the family asks a printer to bridge (mm); 0 for none."""
        return 0

    @classmethod
    def coupon(cls) -> Steps | None:
        """What a coupon of the family steps; None where a small print would tell nothing."""
        return None

    @classmethod
    def more_coupons(cls) -> Iterable[Steps]:
        """Coupons of what else a family may have, each with a word for it."""
        return ()

    @classmethod
    def heading(cls) -> str:
        """Its name as people write it."""
        return cls.family.replace("_", " ").capitalize()

    def figures(self) -> dict[str, float]:
        """What else a maker wants to know, by name and unit."""
        return {}

    def drilled_holes(self) -> Drilled | None:
        """The holes through each of its bodies; None for none."""
        return None

    def cautions(self) -> dict[str, str]:
        """What of it can hurt someone or fail beyond what is proven, by a word for it."""
        return {}

    def measured(self) -> dict[str, Measure]:
        """Its values that a section drawing measures, by name, each with what answers it."""
        return {}

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        """Every way in which it may give way under the duty, printed as it lies in the plastic.

        Reads on a batch as on a hinge. Each formula, with its source, is one of scadgen.strength.
        """
        return ()

    def carriers(self) -> Iterable[Carrier]:
        """By each strength's name the section of its solid that bears it, and what acts on it."""
        return ()

    @classmethod
    def usual_duty(cls) -> Duty:
        """What the family is usually asked for: the usual duty, as far as it answers that."""
        from scadgen.strength.asked import answerable
        from scadgen.strength.duty import Duty

        usual = Duty(cycles=1) if cls.joins_once else Duty()
        return answerable(usual, cls.answers)

    def fitted(self, duty: Duty, plastic: Plastic) -> dict[str, float]:
        """Fields that say what the plastic bears, with its own values for the duty."""
        return {}

    def efforts(self, plastic: Plastic) -> dict[str, Any]:
        """What it takes to move it all the way, by name and unit; reads on a batch too."""
        return {}

    @classmethod
    def drawn_against(cls) -> dict[str, str]:
        """Fields that its strength is drawn against, each with what the axis shows: itself, or a
        property that it sets. Empty for the size that changes the strength most."""
        return {}

    def rules(self) -> Iterable[Rule]:
        """The rules beyond each field's own bounds."""
        why, low, high = "or it is drawn further than it turns", self.drawn_from(), self.swing
        yield at_most(self.angle, high - self.as_printed(), why, Serves.MOTION)
        yield at_least(self.angle, low - self.as_printed(), why, Serves.MOTION)
        yield at_most(
            self.layer, thickest_layer(self.line_width, self.layer_share), TOO_HIGH, Serves.PRINTING
        )

    def pieces(self) -> Iterable[Piece]:
        """The solids of each part."""
        raise NotImplementedError

    def exported(self) -> Iterable[Export]:
        """What a maker must know to build around it: in OpenSCAD a function for each."""
        yield Export("least_wall", self.thinnest, "Thinnest wall that prints solid (mm)")

    @derived
    def layer_share(self) -> float:
        """Height of the thickest layer, as a share of the width of its lines"""
        return LAYER_OF_LINE

    @derived
    def lines(self) -> float:
        """Lines across the thinnest wall that prints solid"""
        return 3

    @derived
    def thinnest(self) -> float:
        """Thinnest wall that prints solid"""
        return self.lines * self.line_width

    @derived
    def sweeps(self) -> float:
        """Steps in which a relief follows the moving side"""
        return ceil(self.swing / 2)

    @derived
    def stride(self) -> float:
        """Turn from one step of a relief to the next"""
        return (self.highest() - self.lowest()) / self.sweeps

    @derived
    def join(self) -> float:
        """Parts that are one body reach this far into each other."""
        return 0.01


F = TypeVar("F", bound=type[Hinge])


@dataclass_transform(frozen_default=True, kw_only_default=True)
def family(*, good: str, weak: str) -> Callable[[F], F]:
    """Register the class as a family: ``good`` and ``weak`` say what at, a phrase each.

    The family's name is the class name in snake case, and must be the file's.
    """

    def register(cls: F) -> F:
        made = cast(F, dataclass(frozen=True, kw_only=True)(cls))
        made.family = re.sub(r"(?<!^)(?=[A-Z])", "_", cls.__name__).lower()
        made.title = inspect.cleandoc(cls.__doc__ or "").split("\n")[0]
        made.good, made.weak = good, weak
        _registry[made.family] = made
        return made

    return register


_registry: dict[str, type[Hinge]] = {}


@functools.cache
def all_families() -> Mapping[str, type[Hinge]]:
    """Every family by name, in alphabetical order: whatever files the folder holds."""
    folder = importlib.import_module("scadgen.families")
    for module in pkgutil.iter_modules(folder.__path__):
        importlib.import_module(f"{folder.__name__}.{module.name}")
    return dict(sorted(_registry.items()))


def bounds(cls: type[Hinge]) -> dict[str, Bounds]:
    """The fields of a family with their bounds, in the order in which makers see them."""
    family: Any = cls  # to a type checker a class that is a key has no hash
    return dict(_bounds(family))


@functools.cache
def _bounds(cls: Any) -> dict[str, Bounds]:
    found = {f.name: f.metadata["bounds"] for f in dataclasses.fields(cls)}
    return dict(sorted(found.items(), key=lambda item: GROUPS.index(item[1].group)))


_definitions: dict[str, Definition] = {}


def definition(cls: type[Hinge]) -> Definition:
    """The family's functions run on symbols (once)."""
    if cls.family not in _definitions:
        _definitions[cls.family] = _run_on_symbols(cls)
    return _definitions[cls.family]


def _run_on_symbols(cls: type[Hinge]) -> Definition:
    fields = bounds(cls)
    symbols = object.__new__(cls)
    vars(symbols).update({name: Sym(name) for name in fields})
    names = [n for base in reversed(cls.__mro__) for n, v in vars(base).items() if _is_derived(v)]
    told = list(symbols.rules())
    open_values = automatics(fields, told)
    followed = [followed_through(rule, open_values) for rule in told]
    rules = tuple(named_limits(sorted(followed, key=lambda rule: rule.direct), fields))
    return Definition(
        bounds=fields,
        derived={name: getattr(symbols, name) for name in dict.fromkeys(names)},
        rules=rules,
        pieces=tuple(symbols.pieces()),
        gaps=tuple(symbols.gaps()),
        grips=tuple(symbols.grips()),
        webs=tuple(symbols.layered()),
        meets=tuple(symbols.meets()),
        automatic=automatics(fields, rules),
        carried=symbols.carried(Child(3)),
        exported=tuple(symbols.exported()),
    )


def _is_derived(value: object) -> bool:
    return isinstance(value, derived)


def numbers(hinge: Hinge) -> Numbers:
    """The numeric reading of a hinge's own values."""
    from scadgen.trees.to_numpy import Numbers

    if "_numbers" not in vars(hinge):
        vars(hinge)["_numbers"] = Numbers(
            {name: getattr(hinge, name) for name in bounds(type(hinge))}
        )
    return cast("Numbers", vars(hinge)["_numbers"])
