"""The spec sheet: one page as Markdown and as HTML that prints on A4."""

from __future__ import annotations

from scadgen.findings.finding import Verdict
from scadgen.handover.facts import facts
from scadgen.jobs.job import Job
from scadgen.pictures.palette import DARK, LIGHT
from scadgen.text.rendering import template
from scadgen.version import VERSION


def spec_sheet(job: Job, verdict: Verdict) -> dict[str, bytes]:
    """The page by file name, ``<name>_sheet.md`` and ``<name>_sheet.html``, in UTF-8.

    The same job, proven alike, gives the same bytes. The HTML loads nothing from elsewhere.
    """
    shown = {"sheet": facts(job, verdict), "version": VERSION, "light": LIGHT, "dark": DARK}
    return {
        f"{job.name}_sheet.{kind}": template(f"spec_sheet.{kind}.j2").render(shown).encode()
        for kind in ("md", "html")
    }
