"""The gallery's page and its README: what the templates show, and the files of the page."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from scadgen.gallery.cards import VIEWS, Card, picture
from scadgen.gallery.duty_words import in_few_words
from scadgen.gallery.products import ProductCard
from scadgen.hinge.family import all_families
from scadgen.openscad.emitter import CAUTION
from scadgen.pictures.palette import DARK, LIGHT
from scadgen.pictures.scene import EYE
from scadgen.strength.materials import material
from scadgen.text.rendering import template
from scadgen.text.typeset import typeset
from scadgen.version import VERSION

WEB = Path(__file__).parent / "web"
THUMBNAIL = 240  # px, width of a thumbnail

#: Scripts that the page loads, each a bundle of its sources.
SCRIPTS = ("page", "viewer", "kernel")
#: The files that the page gives of a design, by what it calls them.
FILES = {
    "call": ("OpenSCAD model", "opens its module, beside it, with your values in the Customizer"),
    "scad": ("and its module", "what the model and your own parts use"),
    "stl": ("STL", "for any slicer"),
    "3mf": ("3MF", "for a slicer: bodies apart, in mm"),
    "job": ("Job for the proof", "what scadgen check proves"),
}
GUIDES = {
    "first_hinge": "A first hinge",
    "choosing": "Choosing",
    "merging": "In your own part",
    "closing": "A box that closes",
    "proving": "The proof",
    "strength": "Strength",
}

STATES = {"proven": "proven", "not-proven": "not proven"}


def page_files(cards: Iterable[Card], products: Iterable[ProductCard] = ()) -> dict[str, bytes]:
    """The files of the page and the README, by path below the gallery."""
    told = [shown(card) for card in cards]
    facts = {
        "cards": told,
        "products": list(products),
        "forms": sorted(told, key=_rank),
        "files": FILES,
        "guides": GUIDES,
        "eye": list(EYE),
        "filters": list(_filters(told)),
        "caution": CAUTION,
        "version": VERSION,
        "thumbnail": THUMBNAIL,
        "light": LIGHT,
        "dark": DARK,
    }
    drawn = {
        "index.html": "gallery_page.html.j2",
        "page.css": "gallery_page.css.j2",
        "README.md": "gallery_readme.md.j2",
    }
    files = {name: template(source).render(facts).encode() for name, source in drawn.items()}
    return files | {f"{name}.js": (WEB / f"{name}.bundle.js").read_bytes() for name in SCRIPTS}


def _rank(told: dict[str, Any]) -> tuple[bool, float, str]:
    """Where a form stands: what practice trusts most first, what fails its proof last."""
    family = all_families().get(told["name"])
    return told["state"] != "proven", -(family.trust if family else 0.0), told["name"]


def shown(card: Card) -> dict[str, Any]:
    """What the templates show of a card."""
    asked, failed = len(card.proof.findings), len(card.failures)
    said = f"Proven: all {asked} measures passed."
    names = ", ".join(finding.name for finding in card.failures)
    lacks = f"Not proven: {failed} of {asked} measures failed ({names})."
    unasked = f"Passed, not proven: {'; '.join(card.proof.lacks)}."
    pictures = [
        {
            "words": words,
            "path": picture(card.name, view),
            "thumbnail": picture(card.name, view, small=True),
            "dark": picture(card.name, view, dark=True),
        }
        for view, words in VIEWS.items()
    ]
    plastics = {name: material(name).name for name in card.materials}
    untold = "Strength" in card.untold
    facts = ("name", "title", "heading", "good", "weak", "kind", "posture", "stance", "hangs")
    return {fact: getattr(card, fact) for fact in facts} | {
        "pictures": pictures,
        "figures": card.figures,
        "materials": plastics,
        "duty": _duty(card.name),
        "bears": "; ".join(plastics.values()) or ("not told" if untold else "none"),
        "findings": card.proof.findings,
        "links": card.links,
        "state": "proven" if card.proof.proven else "not-proven",
        "verdict": said if card.proof.proven else lacks if failed else unasked,
    }


def _duty(name: str) -> str:
    """The light duty that a card's plastics are told for, in words."""
    family = all_families().get(name)
    return typeset(in_few_words(family.usual_duty())) if family else "a light duty"


def _filters(cards: list[dict[str, Any]]) -> Iterable[dict[str, Any]]:
    """What the page filters by: the values that the cards have, each with its words."""
    for name, fact in (("posture", "stance"), ("kind", "kind"), ("proof", "state")):
        values = dict.fromkeys(card[fact] for card in cards)
        options = {value: STATES.get(value, value) for value in values}
        yield {"name": name, "label": name.capitalize(), "options": options}
    plastics = dict(sorted(item for card in cards for item in card["materials"].items()))
    yield {"name": "material", "label": "Material", "options": plastics}
