"""What a maker found on a printed coupon, read from TOML, strictly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from scadgen.coupons.plan import Plan, plan
from scadgen.hinge.family import all_families
from scadgen.jobs.job import family_named
from scadgen.proof.heights import LAYER, LAYER_HEIGHTS
from scadgen.tables.documents import JobError, closest, document, number_within
from scadgen.tables.kinds import Number
from scadgen.text.numbers import shown
from scadgen.text.quoting import toml, toml_key

#: What a piece may be said to do; a lost piece tells nothing.
FREE, WOBBLED, FUSED, LOST = WORDS = ("free", "wobbled", "fused", "lost")
#: Two steps nearer than this are the same, mm.
SAME = 1e-6

_KEYS = ("family", "name", "layer", "first", "step", "count", "steps")


@dataclass(frozen=True)
class Results:
    """What each piece of a printed coupon did.

    name: the printer's. layer: height of the layers it was printed in, mm. found: one of ``WORDS``
    for each stepped value (mm), in rising order.
    """

    plan: Plan
    name: str
    layer: float
    found: Mapping[float, str]

    @property
    def turned(self) -> dict[float, bool]:
        """Whether each piece turned, by its stepped value; lost ones are left out."""
        return {value: word != FUSED for value, word in self.found.items() if word != LOST}

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
    path = Path(path)
    try:
        return _results(document(path))
    except JobError as error:
        error.path = path
        raise


def results_file(printed: Plan) -> str:
    """The text of a file of results to fill in."""
    from scadgen.text.rendering import template

    steps = [_key(value) for value in printed.values]
    return template("coupon_results.toml.j2").render(
        plan=printed, words=WORDS, steps=steps, layer=max(LAYER_HEIGHTS)
    )


def calibrating() -> list[str]:
    """The families whose coupons tell how far a printer's lines spread."""
    found = {name: plan(cls) for name, cls in all_families().items()}
    return [name for name, printed in found.items() if printed and printed.calibrates]


def _results(document: Mapping[str, Any]) -> Results:
    for key in document:
        if key not in _KEYS:
            raise JobError(f"{toml_key(key)}: no such key{_hint(key, _KEYS)}.", key)
    for key in ("family", "layer", "steps"):
        if key not in document:
            raise JobError(f"{key}: missing; scadgen coupon writes a file to fill in.", key)
    printed = _plan(document)
    name = document.get("name", "my printer")
    if not isinstance(name, str):
        raise JobError(f"name = {toml(name)}; it must be text in quotes.", "name")
    layer = Number(LAYER).read("layer", document["layer"])
    return Results(printed, name, layer, _found(printed, document["steps"]))


def _plan(document: Mapping[str, Any]) -> Plan:
    """The coupon that was printed: the family's own, or with other steps where the file has any."""
    cls = family_named(document["family"])
    usual = plan(cls)
    if usual is None or not usual.calibrates:
        words = "its coupon does not tell how far lines spread; print one of"
        raise JobError(f"family = {cls.family}: {words} {', '.join(calibrating())}.", "family")
    steps = usual.steps
    first = _number(document, "first", steps.first, SAME, 10, "mm")
    step = _number(document, "step", steps.step, SAME, 10, "mm")
    count = _number(document, "count", steps.count, 1, 100, "pieces")
    if count != int(count):
        raise JobError(f"count = {toml(document['count'])}; it must be a whole number.", "count")
    return replace(usual, steps=replace(steps, first=first, step=step, count=int(count)))


def _number(
    document: Mapping[str, Any], key: str, usual: float, low: float, high: float, unit: str
) -> float:
    return number_within(key, document.get(key, usual), low, high, unit, usual)


def _found(printed: Plan, steps: Any) -> dict[float, str]:
    if not isinstance(steps, dict):
        raise JobError("steps: it must be a table, headed by [steps].", "steps")
    found: dict[float, str] = {}
    for key, word in steps.items():
        value = _value(printed, key)
        if value in found:
            raise JobError(f"{_place(key)}: the step {shown(value)} mm stands twice.", "steps")
        found[value] = _word(key, word)
    missing = [f'"{_key(value)}"' for value in printed.values if value not in found]
    if missing:
        words = f'missing; write "{LOST}" for a piece that tells nothing'
        raise JobError(f"steps: {', '.join(missing)} {words}.", "steps")
    return {value: found[value] for value in printed.values}


def _value(printed: Plan, key: str) -> float:
    """The step of the coupon that a key names."""
    keys = [_key(value) for value in printed.values]
    try:
        given = float(key)
    except ValueError:
        raise JobError(f"{_place(key)}: no step{_hint(key, keys)}.", "steps") from None
    nearest = min(printed.values, key=lambda value: abs(value - given))
    if not abs(nearest - given) < SAME:
        words = f"no such step; did you mean {_key(nearest)}? There are {', '.join(keys)}"
        raise JobError(f"{_place(key)}: {words}.", "steps")
    return nearest


def _word(key: str, word: Any) -> str:
    if word in WORDS:
        return str(word)
    rule = f"it must be one of {', '.join(WORDS)}"
    close = closest(str(word), WORDS)
    hint = f"; did you mean {close}?" if close else ""
    raise JobError(f"{_place(key)} = {toml(word)}; {rule}{hint or '.'}", "steps")


def _place(key: str) -> str:
    """A step as a message names it."""
    return f"steps.{toml_key(key)}"


def _hint(word: str, options: tuple[str, ...] | list[str]) -> str:
    close = closest(word, options)
    return f"; did you mean {close}?" if close else f"; there are {', '.join(options)}"


def _key(value: float) -> str:
    return f"{value:.2f}" if abs(value - round(value, 2)) < SAME else shown(value)


def contradiction_lines(results: Results) -> Iterator[str]:
    """Each contradiction in a sentence."""
    for narrow, wide in results.contradictions:
        word = results.found[narrow]
        yield f"{_key(wide)} mm fused, but the narrower {_key(narrow)} mm was {word}."
