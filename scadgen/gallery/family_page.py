"""The page of each family: all that its own file says, with its pictures and its proof."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from scadgen.gallery.cards import Card
from scadgen.gallery.page import shown
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Bounds, all_families, bounds, definition
from scadgen.hinge.free import Free, working
from scadgen.hinge.rules import Rule
from scadgen.text.rendering import template
from scadgen.trees.expr import Let
from scadgen.trees.to_scad import number, text
from scadgen.version import VERSION


def family_page(card: Card) -> bytes:
    """The page as Markdown. Raises KeyError for a card of no family."""
    cls = all_families()[card.name]
    fields, kept = bounds(cls), working(cls, given_values(cls()))
    facts = {
        "card": shown(card),
        "parts": definition(cls).parts,
        "fields": [_field(name, limits, kept[name]) for name, limits in fields.items()],
        "exported": definition(cls).exported,
        "rules": [row for name in fields for row in _rules(name, definition(cls).rules)],
        "version": VERSION,
    }
    return template("family_page.md.j2").render(facts).encode()


def family_pages(cards: Iterable[Card]) -> dict[str, bytes]:
    """The pages of the cards' families, by path below the gallery."""
    known = all_families()
    return {f"families/{c.name}.md": family_page(c) for c in cards if c.name in known}


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


def _rules(name: str, rules: Iterable[Rule]) -> Iterator[dict[str, str]]:
    for rule in rules:
        if rule.param == name:
            limit = rule.limit.value if isinstance(rule.limit, Let) else rule.limit
            yield {"param": name, "sense": rule.sense, "limit": text(limit), "why": rule.why}
