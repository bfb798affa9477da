"""What a maker found on a printed coupon, read from TOML, strictly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from scadgen.coupons.plan import Plan, plan
from scadgen.hinge.family import all_families
from scadgen.hinge.steps import Steps
from scadgen.jobs.job import family_named
from scadgen.jobs.keys import family_key
from scadgen.proof.heights import LAYER, LAYER_HEIGHTS
from scadgen.tables.documents import JobError
from scadgen.tables.hints import closest, instead
from scadgen.tables.kinds import AnyTable, Number, OneOf, Text
from scadgen.tables.limits import Limits
from scadgen.tables.reading import Key, load, read, read_one
from scadgen.text.numbers import shown
from scadgen.text.quoting import toml_key

#: What a piece may be said to do; a lost piece tells nothing.
FREE, WOBBLED, FUSED, LOST = WORDS = ("free", "wobbled", "fused", "lost")
#: The same of a piece whose arm is strained.
FIRM, SOFT, WHITENED = "firm", "soft", "whitened"
STRAINED = (FIRM, SOFT, WHITENED, LOST)
#: What each word means, in the order in which they are tried.
MEANINGS = {
    FREE: "it turns as soon as you let it",
    WOBBLED: "it turns, and is loose",
    FUSED: "it did not come free by hand",
    FIRM: "it clicks, or holds, and its arms are as before",
    SOFT: "it passes unfelt, or holds nothing",
    WHITENED: "an arm turned white at its root, stayed bent or broke",
    LOST: "it broke, or went astray: nothing is known of it",
}
#: Two steps nearer than this are the same, mm.
SAME = 1e-6


@dataclass(frozen=True)
class Results:
    """What each piece of a printed coupon did.

    name: the printer's. layer: height of the layers it was printed in, mm. found: one of the words
    of the plan for each stepped value (mm), in rising order.
    """

    plan: Plan
    name: str
    layer: float
    found: Mapping[float, str]

    @property
    def known(self) -> dict[float, str]:
        """What each piece did, by its stepped value; lost ones are left out."""
        return {value: word for value, word in self.found.items() if word != LOST}

    @property
    def turned(self) -> dict[float, bool]:
        """Whether each piece turned, by its stepped value; lost ones are left out."""
        return {value: word != FUSED for value, word in self.known.items()}

    @property
    def contradictions(self) -> list[tuple[float, float]]:
        """Pairs of steps, narrower and wider, of which the narrower turned and the wider fused."""
        turned = self.turned
        return [(a, b) for a in turned for b in turned if a < b and turned[a] and not turned[b]]

    @property
    def snuggest(self) -> float | None:
        """The narrowest step that is free without a wobble and has nothing fused above it, mm."""
        fused = max((v for v, turned in self.turned.items() if not turned), default=0.0)
        return next((v for v, w in self.found.items() if w == FREE and v > fused), None)


def load_results(path: str | Path) -> Results:
    """The results in a TOML file. Raises JobError, with the path, for anything it cannot use."""
    return load(path, lambda document, _: _results(document))


def results_file(printed: Plan) -> str:
    """The text of a file of results to fill in."""
    from scadgen.text.rendering import template

    steps = [step_key(value) for value in printed.values]
    return template("coupon_results.toml.j2").render(
        plan=printed,
        words=words_of(printed),
        meanings=MEANINGS,
        steps=steps,
        layer=max(LAYER_HEIGHTS),
    )


def words_of(printed: Plan) -> tuple[str, ...]:
    """What a piece of the coupon may be said to do."""
    return STRAINED if printed.steps.strains else WORDS


def calibrating() -> list[str]:
    """The families whose coupons tell how far a printer's lines spread."""
    found = {name: plan(cls) for name, cls in all_families().items()}
    return [name for name, printed in found.items() if printed and printed.calibrates]


def _results(document: Mapping[str, Any]) -> Results:
    usual = _plan(read_one(document, family_key()), read_one(document, _OF))
    found = read(document, tuple(_keys(usual.steps)))
    steps = {word: found[word] for word in ("first", "step", "count")}
    printed = replace(usual, steps=replace(usual.steps, **steps))
    return Results(printed, found["name"], found["layer"], _found(printed, found["steps"]))


def _plan(name: str, of: str) -> Plan:
    """The coupon of the family of that name, or of what of it is named."""
    usual = plan(family_named(name), of)
    if of and usual is None:
        raise JobError(f'coupon = "{of}": {name} has no such coupon.', "coupon")
    if usual is None or not (usual.calibrates or usual.steps.strains):
        others = ", ".join(calibrating())
        advice = f"print one of {others}" if others else "no family's does"
        words = f"its coupon does not tell how far lines spread; {advice}"
        raise JobError(f"family = {name}: {words}.", "family")
    return usual


#: Which of a family's coupons it was.
_OF = Key("coupon", Text(), default="")


def _keys(steps: Steps) -> Iterator[Key]:
    """The keys of a file of results; the steps are the coupon's own where it does not give any."""
    yield family_key()
    yield _OF
    yield Key("name", Text(), default="my printer")
    yield Key("layer", Number(LAYER), needed=True)
    yield Key("first", Number(Limits("mm", SAME, 10, steps.first)), default=steps.first)
    yield Key("step", Number(Limits("mm", SAME, 10, steps.step)), default=steps.step)
    count = Limits("pieces", 1, 100, steps.count, whole=True)
    yield Key("count", Number(count), default=steps.count)
    yield Key("steps", AnyTable(), needed=True)


def _found(printed: Plan, steps: Mapping[str, Any]) -> dict[float, str]:
    """What each step did, in rising order."""
    found: dict[float, str] = {}
    for key, word in steps.items():
        value, place = _value(printed, key), _place(key)
        if value in found:
            raise JobError(f"{place}: the step {shown(value)} mm stands twice.", place)
        found[value] = OneOf(words_of(printed)).read(place, word)
    missing = [f'"{step_key(value)}"' for value in printed.values if value not in found]
    if missing:
        words = f'missing; write "{LOST}" for a piece that tells nothing'
        raise JobError(f"steps: {', '.join(missing)} {words}.", "steps")
    return {value: found[value] for value in printed.values}


def _value(printed: Plan, key: str) -> float:
    """The step of the coupon that a key names."""
    keys = [step_key(value) for value in printed.values]
    try:
        given = float(key)
        nearest = min(printed.values, key=lambda value: abs(value - given))
        if abs(nearest - given) < SAME:
            return nearest
        near: str | None = step_key(nearest)
    except ValueError:
        near = closest(key, keys)
    raise JobError(f"{_place(key)}: no such step; {instead(near, keys)}", _place(key))


def _place(key: str) -> str:
    """A step as a message names it."""
    return f"steps.{toml_key(key)}"


def step_key(value: float) -> str:
    return f"{value:.2f}" if abs(value - round(value, 2)) < SAME else shown(value)


def contradiction_lines(results: Results) -> Iterator[str]:
    """Each contradiction in a sentence."""
    for narrow, wide in results.contradictions:
        word = results.found[narrow]
        yield f"{step_key(wide)} mm fused, but the narrower {step_key(narrow)} mm was {word}."
