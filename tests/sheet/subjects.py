"""Jobs with a proof that is made up, so that no solids need proving."""

from __future__ import annotations

from typing import Any

from scadgen.findings.finding import Finding, Verdict
from scadgen.hinge.family import Hinge
from scadgen.jobs.job import Job
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material

TITLE = "Tea-sampler box: lid hinge (invented example)"
NOTE = "The leaves merge into the back and the lid of an invented box."
FINE = Finding("layers of 0.16 mm", True, "nothing hangs.")
COARSE = Finding("layers of 0.28 mm", False, "2.00 mm2 droop.")

Subject = tuple[Job, Verdict]


def subject(hinge: Hinge, *findings: Finding, **given: Any) -> Subject:
    """A job with the usual duty in PETG, and the findings, or else one that passed."""
    usual: dict[str, Any] = {
        "name": "tea_lid",
        "title": TITLE,
        "note": NOTE,
        "duty": Duty(),
        "plastic": material("petg"),
        "layer_heights": (0.16, 0.28),
    }
    job = Job(family=hinge.family, hinge=hinge, **{**usual, **given})
    return job, Verdict(hinge.family, findings or (FINE,), hinge.figures())
