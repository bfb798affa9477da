"""Subjects of sheets, with a proof that is made up so that no solids need proving."""

from __future__ import annotations

from typing import Any

from scadgen.duty import Duty
from scadgen.family import Hinge
from scadgen.proof.finding import Finding, Verdict
from scadgen.sheet.subject import Subject
from scadgen.strength.materials import material

TITLE = "Tea-sampler box: lid hinge (invented example)"
NOTE = "The leaves merge into the back and the lid of an invented box."
FINE = Finding("layers of 0.16 mm", True, "nothing hangs.")
COARSE = Finding("layers of 0.28 mm", False, "2.00 mm2 droop.")


def subject(hinge: Hinge, *findings: Finding, **given: Any) -> Subject:
    """A sheet's subject: usual duty, PETG, and the findings, or else one that passed."""
    verdict = Verdict(hinge.family, findings or (FINE,), hinge.figures())
    usual: dict[str, Any] = {
        "name": "tea_lid",
        "title": TITLE,
        "note": NOTE,
        "duty": Duty(),
        "plastic": material("petg"),
    }
    return Subject(hinge=hinge, verdict=verdict, **{**usual, **given})
