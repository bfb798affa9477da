"""The page of each family: all that its own file says, with its pictures and its proof."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator
from typing import Any

from scadgen.gallery.cards import Card
from scadgen.gallery.page import GUIDES, shown
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Bounds, Definition, all_families, bounds, definition
from scadgen.hinge.free import Free, working
from scadgen.hinge.rules import Rule
from scadgen.openscad.spelling import spelt
from scadgen.text.rendering import template
from scadgen.trees.expr import Let
from scadgen.trees.to_scad import number, spelt_out, text
from scadgen.version import VERSION


def family_page(card: Card) -> bytes:
    """The page as Markdown. Raises KeyError for a card of no family."""
    return template("family_page.md.j2").render(_facts(card)).encode()


def family_html(card: Card) -> bytes:
    """The page for a browser, with what others show of a link to it. Raises KeyError likewise."""
    return template("family_page.html.j2").render(_facts(card)).encode()


def _facts(card: Card) -> dict[str, Any]:
    family: Any = all_families()[card.name]  # to a type checker a class that is a key has no hash
    return {"card": shown(card), **_of_family(family)}


@functools.cache
def _of_family(cls: Any) -> dict[str, Any]:
    """What both forms of the page tell of the family, whatever its card says."""
    fields, kept = bounds(cls), working(cls, given_values(cls()))
    return {
        "parts": definition(cls).parts,
        "fields": [_field(name, limits, kept[name]) for name, limits in fields.items()],
        "exported": definition(cls).exported,
        "rules": _all_rules(definition(cls)),
        "guides": GUIDES,
        "version": VERSION,
    }


def family_pages(cards: Iterable[Card]) -> dict[str, bytes]:
    """The pages of the cards' families, by path below the gallery."""
    known = all_families()
    forms = {"md": family_page, "html": family_html}
    told = [card for card in cards if card.name in known]
    return {f"families/{c.name}.{end}": make(c) for end, make in forms.items() for c in told}


def _field(name: str, limits: Bounds, kept: Any) -> dict[str, Any]:
    low, high = number(limits.low), number(limits.high)
    return {
        "name": name,
        "usual": number(limits.default),
        "range": ", ".join(f"{k}: {label}" for k, label in enumerate(limits.labels))
        or f"{low} to {high}",
        "free": str(Free(tuple(kept.tolist()), limits.step)),
        "unit": limits.unit,
        "sentence": limits.meaning,
    }


def _all_rules(family: Definition) -> list[dict[str, str]]:
    """The rules, with the names that the module explains."""
    with spelt_out(spelt(family)):
        return [row for name in family.bounds for row in _rules(name, family.rules)]


def _rules(name: str, rules: Iterable[Rule]) -> Iterator[dict[str, str]]:
    for rule in rules:
        if rule.param == name:
            limit = rule.limit.value if isinstance(rule.limit, Let) else rule.limit
            yield {"param": name, "sense": rule.sense, "limit": text(limit), "why": rule.why}
