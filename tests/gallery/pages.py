"""Cards without solids, and what a page says, read as a browser reads it."""

from __future__ import annotations

from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

from scadgen.findings.finding import Finding, Verdict
from scadgen.gallery.cards import Card, Figure

GOOD = Finding("gap at rest", True, "0.302 mm at rest; the clearance is 0.3 mm.")
BAD = Finding("swing", False, "free from -40.0 to 40.0 deg; -110 to 110 deg are asked.")


def made_up(
    name: str = "tea_latch",
    *findings: Finding,
    materials: tuple[str, ...] = ("petg", "pla"),
    **facts: Any,
) -> Card:
    """The card of a family that there is not."""
    usual: dict[str, Any] = {
        "title": "Latch of an invented box.",
        "good": "quick",
        "weak": "invented",
        "kind": "pivot",
        "posture": "standing: axis upright",
        "stance": "standing",
        "heading": name.replace("_", " ").capitalize(),
        "hangs": "",
    }
    figures = (Figure("Clearance", "0.3", "mm"), Figure("Turn", "0 to 90", "°"))
    proof = Verdict(name, findings or (GOOD,))
    return Card(name=name, figures=figures, materials=materials, proof=proof, **{**usual, **facts})


class Page(HTMLParser):
    """The tags of a page with their attributes, and its words."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words = ""
        self.feed(text)
        self.words = " ".join(self.words.split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_data(self, data: str) -> None:
        self.words += f" {data}"

    def every(self, tag: str) -> list[dict[str, str]]:
        """The attributes of each such tag."""
        return [attributes for name, attributes in self.tags if name == tag]

    def paths(self) -> Iterator[str]:
        """Everything that the page loads or links to."""
        for _, attributes in self.tags:
            for name in ("href", "src"):
                if not attributes.get(name, "#").startswith(("#", "data:,")):
                    yield attributes[name]
            for source in filter(None, attributes.get("srcset", "").split(", ")):
                yield source.split()[0]
