"""The spec sheet as Markdown and as HTML that prints on both sides of one sheet of A4."""

from __future__ import annotations

from collections.abc import Mapping

from scadgen.findings.finding import Verdict
from scadgen.handover.facts import facts
from scadgen.handover.pictured import drawing_of, pictures
from scadgen.handover.values import file_rows
from scadgen.jobs.job import Job
from scadgen.pictures.palette import DARK, LIGHT
from scadgen.text.rendering import template
from scadgen.version import VERSION


def spec_sheet(
    job: Job,
    verdict: Verdict,
    files: Mapping[str, bytes] | None = None,
    *,
    pictured: bool = False,
) -> dict[str, bytes]:
    """The page by file name, ``<name>_sheet.md`` and ``<name>_sheet.html``, in UTF-8.

    It names the ``files`` that go with it, each with its fingerprint, and shows pictures and the
    drawing if it is ``pictured`` (HTML). The same job, proven alike, gives the same bytes, where
    the same extras are installed. The HTML loads nothing from elsewhere.
    """
    shown = {
        "sheet": facts(job, verdict),
        "files": list(file_rows(files or {})),
        "drawing": drawing_of(job) if pictured else "",
        "pictures": pictures(job.hinge) if pictured else {},
        "version": VERSION,
        "light": LIGHT,
        "dark": DARK,
    }
    return {
        f"{job.name}_sheet.{kind}": template(f"spec_sheet.{kind}.j2").render(shown).encode()
        for kind in ("md", "html")
    }
