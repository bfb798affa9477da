"""What a spec sheet is about."""

from __future__ import annotations

from dataclasses import dataclass

from scadgen.duty import Duty
from scadgen.family import Hinge
from scadgen.proof.finding import Verdict
from scadgen.proof.fleet.population import ROUGH, Population
from scadgen.strength.materials import Plastic


@dataclass(frozen=True, kw_only=True)
class Subject:
    """A hinge with its proof, and what is asked of it.

    name: stem of the files. title, note: free text, never more than data. duty: None where none was
    given; then the sheet says nothing of loads. plastic: None where none was chosen.
    """

    name: str
    hinge: Hinge
    verdict: Verdict
    title: str = ""
    note: str = ""
    population: Population = ROUGH
    duty: Duty | None = None
    plastic: Plastic | None = None
