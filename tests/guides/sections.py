"""The tables that stand in the written pages, made from the code that they tell of."""

from __future__ import annotations

import argparse
import dataclasses
import functools
import inspect
import math
from collections.abc import Callable, Iterator, Sequence
from typing import get_args

from scadgen.cli.arguments import Parser
from scadgen.cli.commands import all_commands
from scadgen.cli.main import parser
from scadgen.gallery.curves import fleet_table
from scadgen.hinge.family import Hinge, all_families
from scadgen.proof.fleet import counted
from scadgen.proof.fleet.population import CAREFUL, ROUGH
from scadgen.sizing.choose import HINGE, Ranking, choose
from scadgen.sizing.points import WEIGHTS, Judge
from scadgen.sizing.postures import POSTURES, Posture
from scadgen.sizing.size import Refused, Wanted
from scadgen.sizing.wish import load_wish
from scadgen.strength.duty import QUANTITIES, Duty
from scadgen.strength.life import BANDS, permissible
from scadgen.strength.materials import Range, material, materials
from scadgen.text.typeset import typeset
from tests.proof.fleet.published import prints
from tests.support import ROOT
from tests.toolpaths import campaign

#: Plastics that the tables of choosing compare.
PLASTICS = ("pla", "petg", "tpu_95a")
WISH = ROOT / "gallery" / "tea_sampler_wish.toml"
#: Plastics and turns for which the table of practice says how far a form is trusted.
TRUSTED = (("pla", 1), ("pla", 1000), ("petg", 1000), ("pp", 1000), ("tpu_95a", 1000))

_SECTIONS: dict[str, Callable[[], str]] = {}


def sections() -> dict[str, Callable[[], str]]:
    """For each table its name and what makes its Markdown."""
    return dict(_SECTIONS)


def _section(make: Callable[[], str]) -> Callable[[], str]:
    _SECTIONS[make.__name__.removesuffix("_table")] = make
    return make


def _table(heads: Sequence[str], rows: Iterator[Sequence[str]], right: int = 99) -> str:
    """A Markdown table; columns from ``right`` on are set to the right."""
    rule = "|".join("---:" if index >= right else "---" for index in range(len(heads)))
    head, *body = (f"| {' | '.join(row)} |" for row in (heads, *rows))
    return "\n".join((head, f"|{rule}|", *body, ""))


@_section
def families() -> str:
    """Every family, as the README lists them."""
    found = all_families().values()
    rows = ([_linked(c), _short(c.posture), c.good, c.weak] for c in found)
    return _table(("family", "lies", "good", "weak"), rows)


def _linked(cls: type[Hinge]) -> str:
    return f"[`{cls.family}`](gallery/families/{cls.family}.md)"


def _short(posture: str) -> str:
    return posture.partition(":")[0]


@_section
def commands() -> str:
    """Every command with what it must be given and what it does."""
    known = parser().commands
    rows = (
        [f"`{_usage(known[name])}`", command.WHAT.replace("<", r"\<")]
        for name, command in all_commands()
    )
    return _table(("command", "what it does"), rows)


def _usage(one: Parser) -> str:
    """The command and its positional arguments."""
    given = (action for action in one.arguments if not action.option_strings)
    return " ".join((one.prog, *map(_argument, given)))


def _argument(action: argparse.Action) -> str:
    name = str(action.metavar or "|".join(action.choices or (action.dest,))).replace("|", "\\|")
    return f"[{name}]" if action.nargs == "?" else name


@_section
def weights() -> str:
    """What the points of a choice are for."""
    rows = (
        [name, f"{points:g}", _first(getattr(Judge, name).__doc__)[:-1].lower()]
        for name, points in WEIGHTS.items()
    )
    return _table(("part", "at most", "for"), rows)


@_section
def practice() -> str:
    """How far practice trusts each form, at its usual values and duty."""
    heads = ("family", *(f"{material(p).name}, {t:g} turn{'s' * (t > 1)}" for p, t in TRUSTED))
    ranked = (cls for cls in all_families().values() if cls.serves == HINGE)
    rows = ([f"`{cls.family}`", *_trusted(cls)] for cls in ranked)
    return _table(heads, rows, right=1)


def _trusted(cls: type[Hinge]) -> Iterator[str]:
    hinge = cls()
    for plastic, turns in TRUSTED:
        duty = dataclasses.replace(cls.usual_duty(), cycles=turns)
        yield f"{hinge.practice(duty, material(plastic)).worth:.2g}"


@functools.cache
def _ranking(posture: Posture, plastic: str) -> Ranking:
    wish = load_wish(WISH)
    wanted = Wanted(wish.wanted.duty, material(plastic), wish.wanted.envelope, wish.wanted.fixed)
    return choose(wanted, posture, wish.population)


def _suited(posture: Posture) -> list[str]:
    """The families that lie on the bed as a part of that posture asks."""
    stands = POSTURES[posture]
    ranked = {name: cls for name, cls in all_families().items() if cls.serves == HINGE}
    return [n for n, c in ranked.items() if _short(c.posture).split()[0] in stands]


def _choices(posture: Posture) -> str:
    heads = ("family", *(material(plastic).name for plastic in PLASTICS))
    rows = (
        [f"`{name}`", *(_points(_ranking(posture, plastic), name) for plastic in PLASTICS)]
        for name in _suited(posture)
    )
    return _table(heads, rows, right=1)


def _points(ranking: Ranking, family: str) -> str:
    for choice in ranking.choices:
        if choice.family == family:
            best = "**" if choice is ranking.favourite else ""
            return f"{best}{choice.score:.0f}{best}"
    return "no"


@_section
def choose_standing() -> str:
    """The points of each family for a part whose axis is upright."""
    return _choices("standing")


@_section
def choose_lying() -> str:
    """The points of each family for a part whose axis is parallel to the bed."""
    return _choices("lying")


def _sizes(posture: Posture) -> Iterator[Sequence[str]]:
    for plastic in PLASTICS:
        for choice in _ranking(posture, plastic).choices:
            hinge, weakest = choice.sized.hinge, choice.sized.weakest
            sides = " x ".join(f"{side:.0f}" for side in hinge.extents())
            gives = f"{weakest.name}, {choice.sized.factor:.1f} times" if weakest else ""
            volume = f"{choice.volume / 1000:.1f}"
            yield posture, f"`{choice.family}`", material(plastic).name, sides, volume, gives


@_section
def sizes() -> str:
    """The smallest hinge of each family that bears the duty, in both postures."""
    heads = ("part", "family", "plastic", "x, y, z (mm)", "cm3", "first to give way")
    return _table(heads, (row for posture in get_args(Posture) for row in _sizes(posture)))


def _refusals() -> Iterator[Sequence[str]]:
    for posture in get_args(Posture):
        reasons: dict[tuple[str, str], list[str]] = {}
        for plastic in PLASTICS:
            for refused in _ranking(posture, plastic).refused:
                if refused.family in _suited(posture):
                    why = refused.family, _reason(refused)
                    reasons.setdefault(why, []).append(material(plastic).name)
        for (family, reason), names in reasons.items():
            yield f"`{family}`", ", ".join(names), reason


def _reason(refused: Refused) -> str:
    return str(refused).replace("|", "\\|")


@_section
def refusals() -> str:
    """Why the others don't serve."""
    return _table(("family", "plastic", "why not"), _refusals())


@_section
def fleet() -> str:
    """The share of a rough fleet that works at each clearance."""
    return fleet_table()


@_section
def printers() -> str:
    """What is assumed of the two fleets."""
    heads = ("what differs (mm)", "rough", "careful", "rough: where from")
    rows = (
        [name.replace("_", " "), *(_spread(fleet, name) for fleet in (ROUGH, CAREFUL)), s.source]
        for name, s in ROUGH.spreads.items()
    )
    return _table(heads, rows)


@_section
def published() -> str:
    """Prints that others published, beside both fleets."""
    heads = (
        "print",
        "what came out",
        "fleet",
        "printers that come to as much, %",
        "as little, %",
        "",
    )
    rows = (
        [
            *(f"[{one.name}]({one.source.partition(',')[0]})", one.told, one.fleet),
            *(f"{100 * one.above:.1f}", f"{100 * one.below:.1f}", "miss" if one.missed else ""),
        ]
        for one in prints()
    )
    return _table(heads, rows)


@_section
def slices() -> str:
    """What slicers make of random hinges, beside what the proof says."""
    return "".join(f"{line}\n" for line in campaign.tables(campaign.kept()))


@_section
def settings() -> str:
    """What published profiles set, as it was counted."""
    names = {
        "layer": "layer height, mm",
        "closing": "gap closing radius, mm",
        "compensation": "taken back from a first layer, mm on each side",
        "walls": "walls",
        "infill": "infill, %",
        "thick_bridges": "thick bridges (1: on)",
        "bore": "bore of the nozzle, mm",
    }
    rows = ([words, _told(name), _used(name)] for name, words in names.items())
    return _table(("setting", "value: share of the presets, %", "in the fleets"), rows)


def _told(table: str) -> str:
    shares = zip(counted.values(table), counted.shares(table), strict=True)
    return ", ".join(f"{value:g}: {share:g}" for value, share in shares)


def _used(table: str) -> str:
    if table in ("walls", "infill"):
        return "no: assumed, lower"
    if table == "thick_bridges":
        return "taken to be on everywhere"
    found = getattr(ROUGH, table, None)
    return "yes" if found and found.source.startswith("counted") else "no: your job says it"


def _spread(fleet: object, name: str) -> str:
    spread = getattr(fleet, name)
    return f"{spread.mean:g} ± {spread.std:g}, {spread.low:g} to {spread.high:g}"


@_section
def duty() -> str:
    """The keys of a duty."""
    rows = (
        [
            f"`{name}`",
            f"{getattr(Duty(), name):g}",
            *map(typeset, (quantity.extent, quantity.sentence)),
        ]
        for name, quantity in QUANTITIES.items()
    )
    return _table(("key", "usual", "range", "what it is"), rows)


@_section
def plastics() -> str:
    """The plastics that are known by name."""
    heads = ("name", "stiffness (MPa)", "strength (MPa)", "across layers (MPa)", "yields at (%)")
    found = map(material, materials())
    names = zip(materials(), found, strict=True)
    rows = (
        [f"`{name}`", *map(_ends, (p.modulus, p.strength, p.strength_across, p.yield_strain))]
        for name, p in names
    )
    return _table(heads, rows, right=1)


def _ends(found: Range | None) -> str:
    return f"{_figure(found.low)} to {_figure(found.high)}" if found else "no clear yield"


def _figure(value: float) -> str:
    """A number of two digits, which is more than is known of a printed plastic."""
    return f"{float(f'{value:.2g}'):g}"


@_section
def life() -> str:
    """How much strain is allowed, by how often it is bent."""
    heads = ("band", "turns up to", *(f"{material(p).name} (%)" for p in PLASTICS), "stands on")
    rows = (
        [
            band.name,
            "any" if band.most == math.inf else f"{band.most:g}",
            *(_figure(permissible(material(p), _of(band.most)).percent) for p in PLASTICS),
            band.basis,
        ]
        for band in BANDS
    )
    return _table(heads, rows)


def _of(most: float) -> float:
    """A number of turns in the band that ends there."""
    return min(most, BANDS[-2].most + 1)


@_section
def hooks() -> str:
    """What a family may say beyond its shape, and what holds where it says nothing."""
    rows = ([f"`{name}`", _default(name), _first(text)] for name, text in _HOOKS.items())
    return _table(("say", "if left out", "what it is for"), rows)


#: What a family may override, in the order in which one thinks of it.
_HOOKS = {
    "gaps()": Hinge.gaps.__doc__,
    "grips()": Hinge.grips.__doc__,
    "layered()": Hinge.layered.__doc__,
    "meets()": Hinge.meets.__doc__,
    "measured()": Hinge.measured.__doc__,
    "strengths()": Hinge.strengths.__doc__,
    "answers": "The quantities of a duty that its strengths answer; others are refused.",
    "carriers()": Hinge.carriers.__doc__,
    "flexing()": Hinge.flexing.__doc__,
    "fitted()": Hinge.fitted.__doc__,
    "coupon()": Hinge.coupon.__doc__,
    "figures()": Hinge.figures.__doc__,
    "longest_bridge()": Hinge.longest_bridge.__doc__,
    "trust": "How far practice trusts the form for many turns at its best, 0 to 1.",
    "strays()": Hinge.strays.__doc__,
    "one_piece": "Whether it prints as one flat piece, which bends.",
    "comes_off": "How the moving side comes off when somebody forces it.",
    "fit": "The field that sets how closely it fits.",
    "serves": "What it is to a maker: a hinge, or a catch, which choose does not rank.",
    "joins_once": "Whether it is made to break: it moves once.",
    "hangs": "Why parts of it hang in the air as it prints.",
}
_WORDS = {"()": "nothing", "": "nothing", "None": "none", "False": "no", "{}": "nothing"}


def _default(name: str) -> str:
    method = getattr(Hinge, name.removesuffix("()"))
    if name.endswith("()"):
        returned = inspect.getsource(method).rpartition("return ")[2].strip()
        return _WORDS.get(returned, f"`{returned}`")
    return _WORDS.get(str(method), f"`{method}`")


def _first(text: str | None) -> str:
    return inspect.cleandoc(text or "").split("\n\n")[0].replace("\n", " ")
