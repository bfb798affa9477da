"""The proof that a 3MF carries, held against its triangles and made anew."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Finding
from scadgen.jobs.written import printers_of
from scadgen.meshfiles.carried import JOB, NotBelievedError, Proof, carried, geometry
from scadgen.tables.documents import JobError
from scadgen.text.quoting import plain, shortened

if TYPE_CHECKING:
    from scadgen.findings.finding import Verdict
    from scadgen.inspection.result import Inspection
    from scadgen.jobs.job import Job
    from scadgen.mechanism.joint import Tell
    from scadgen.meshfiles.carried import Array

NAME = "proof that it carries"


@dataclass(frozen=True)
class Carried:
    """holds: whether the file is still what was proven. why: what speaks against that, in words.

    anew: the verdict on the job that it carries, proven here; None where it carries none.
    """

    holds: bool
    why: str
    proof: Proof | None = None
    anew: Verdict | None = None

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        anew = self.anew and {"passed": self.anew.passed, "proven": self.anew.proven}
        facts = dict(self.proof.facts) if self.proof else None
        return {"holds": self.holds, "why": self.why, "facts": facts, "proven_anew": anew}

    @property
    def finding(self) -> Finding | None:
        """What the proof anew says; nothing where nothing could be proven anew."""
        if self.anew is None or self.proof is None:
            return None
        was, now = bool(self.proof.facts.get("proven")), self.anew
        count = len(now.findings)
        if now.proven:
            words = f"{self._of}; proven anew from the job in it: all {count} measures passed."
        else:
            why = now.why_unproven
            words = f"{self._of}; from the job in it, it is not proven now: {why}"
        return Finding(NAME, now.proven or (now.passed and not was), words)

    @property
    def note(self) -> str:
        """What is to be said where there is no finding."""
        if not self.holds:
            return f"it carries a proof that is not believed: {self.why}."
        return f"it carries a proof: {self._of}. {self.why}"

    @property
    def _of(self) -> str:
        facts = self.proof.facts if self.proof else {}
        name, by = (plain(str(facts.get(key)))[:80] for key in ("name", "written_by"))
        return f"{name}, written by {by}; its triangles are those that were proven"


def found_proof(path: Path, soup: Array, say: Tell) -> Carried | None:
    """The proof of a 3MF with these triangles (mm); None where it carries none.

    What it tells is proven anew from the job in it. Nothing in the file is run.
    """
    try:
        proof = carried(path)
        if proof is None:
            return None
        if geometry(soup) != proof.facts.get("geometry"):
            raise NotBelievedError("its geometry is not the one that was proven")
        job = _job(proof)
        if job is None:
            return Carried(True, "It carries no job, so it was not proven anew.", proof)
        if printers_of(job) != proof.facts.get("printing"):
            raise NotBelievedError("it tells of other printers than the job in it")
        say("its geometry anew")
        if _made(job) != proof.facts["geometry"]:
            raise NotBelievedError("the job in it makes other triangles here")
    except NotBelievedError as error:
        return Carried(False, str(error))
    return Carried(True, "", proof, job.prove(say))


def _job(proof: Proof) -> Job | None:
    """The job of a proof. It may name what is built in, and no file: nothing else is opened."""
    from scadgen.jobs.job import read_job
    from scadgen.jobs.keys import FLEET, MATERIAL, SECTIONS
    from scadgen.proof.fleet.population import POPULATIONS
    from scadgen.strength.materials import materials
    from scadgen.tables.documents import parsed
    from scadgen.tables.reading import flat

    text = proof.texts.get(JOB)
    if text is None:
        return None
    try:
        told = flat(parsed(text.encode()), SECTIONS)
        for key, known in ((FLEET, [*POPULATIONS]), (MATERIAL, [*materials()])):
            if key in told and told[key] not in known:
                raise NotBelievedError(f"the job in it names a file ({key})")
        return read_job(text, Path())
    except JobError as error:
        raise NotBelievedError(f"the job in it is none: {shortened(error.words)}") from None


def _made(job: Job) -> str:
    """The hash of what the job draws, as a 3MF of it holds it."""
    from scadgen.hinge.meshing import printed_bodies
    from scadgen.meshfiles.stamping import made_of

    return made_of(printed_bodies(job.hinge))


def with_proof(found: Inspection, carries: Carried | None) -> Inspection:
    """What was found of a model, and of the proof that its file carries."""
    if carries is None:
        return found
    finding, verdict, notes = carries.finding, found.verdict, found.notes
    if finding is None:
        notes = (carries.note, *notes)
    else:
        verdict = replace(verdict, findings=(*verdict.findings, finding))
    return replace(found, verdict=verdict, notes=notes, carried=carries)
