"""The spec sheet: one page as Markdown and as HTML that prints on A4."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from scadgen.gallery.palette import DARK, LIGHT
from scadgen.jobs import Job
from scadgen.proof.finding import Verdict
from scadgen.quoting import markdown
from scadgen.sheet.facts import facts
from scadgen.version import VERSION

if TYPE_CHECKING:
    from jinja2 import Environment


def spec_sheet(job: Job, verdict: Verdict) -> dict[str, bytes]:
    """The page by file name, ``<name>_sheet.md`` and ``<name>_sheet.html``, in UTF-8.

    The same job, proven alike, gives the same bytes. The HTML loads nothing from elsewhere.
    """
    shown = {"sheet": facts(job, verdict), "version": VERSION, "light": LIGHT, "dark": DARK}
    return {
        f"{job.name}_sheet.{kind}": _templates()
        .get_template(f"spec_sheet.{kind}.j2")
        .render(shown)
        .encode()
        for kind in ("md", "html")
    }


@functools.cache
def _templates() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

    found = Environment(
        loader=PackageLoader("scadgen"),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        autoescape=select_autoescape(["html.j2"]),
    )
    found.filters["quoted"] = markdown
    return found
