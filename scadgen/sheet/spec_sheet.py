"""The spec sheet: one page as Markdown and as HTML that prints on A4."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.gallery.palette import DARK, LIGHT
from scadgen.rendering import template
from scadgen.sheet.facts import facts
from scadgen.sheet.subject import Subject
from scadgen.version import VERSION

if TYPE_CHECKING:
    pass


def spec_sheet(subject: Subject) -> dict[str, bytes]:
    """The page by file name, ``<name>_sheet.md`` and ``<name>_sheet.html``, in UTF-8.

    The same subject gives the same bytes. The HTML loads nothing from elsewhere.
    """
    shown = {"sheet": facts(subject), "version": VERSION, "light": LIGHT, "dark": DARK}
    return {
        f"{subject.name}_sheet.{kind}": template(f"spec_sheet.{kind}.j2").render(shown).encode()
        for kind in ("md", "html")
    }
