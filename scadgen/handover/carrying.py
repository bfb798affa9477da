"""What the 3MF of a job or of a product carries of its proof."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from scadgen.jobs.written import job_text, printers_of
from scadgen.meshfiles.carried import JOB, Proof
from scadgen.text.numbers import exact
from scadgen.text.quoting import visible

if TYPE_CHECKING:
    from scadgen.findings.finding import Verdict
    from scadgen.jobs.job import Job

#: Names of texts in a package, whatever the names of their files: these are for people to choose.
CALL, REPORT = "call.scad", "report.txt"


def job_proof(job: Job, verdict: Verdict, texts: Mapping[str, str]) -> Proof:
    """The proof of a job, with the texts that it gives and, where it can be told, the job."""
    told = job_text(job)
    facts = {
        "name": visible(job.name),
        "family": job.family,
        **judged(verdict),
        "printing": printers_of(job),
    }
    return Proof(with_metadata(facts), {**texts, **({JOB: told} if told else {})})


def judged(verdict: Verdict) -> dict[str, Any]:
    """What a verdict says, in short."""
    return {
        "proven": verdict.proven,
        "passed": verdict.passed,
        "measures": len(verdict.findings),
        "not_asked": list(verdict.lacks),
    }


def with_metadata(facts: dict[str, Any]) -> dict[str, Any]:
    """The facts, with those that readers of the model see, in words."""
    told = facts["printing"]
    heights = ", ".join(map(exact, told["layer_heights"]))
    word = "proven" if facts["proven"] else "passed" if facts["passed"] else "not proven"
    words = (
        f"layers of {heights} mm; lines of {exact(told['line_width'])} mm; "
        f"gap closing radius at most {exact(told['closing_gap'] / 2)} mm; no supports"
    )
    metadata = {"Verdict": f"{word}, {facts['measures']} measures", "Printing": words}
    return facts | {"metadata": metadata}
