"""The proof that a 3MF carries, held against its triangles and made anew."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Finding
from scadgen.jobs.written import printers_of
from scadgen.meshfiles.carried import JOB, NotBelievedError, Proof, carried, geometry
from scadgen.tables.documents import JobError
from scadgen.text.quoting import plain, shortened, visible

if TYPE_CHECKING:
    from scadgen.findings.finding import Verdict
    from scadgen.inspection.result import Inspection
    from scadgen.jobs.job import Job
    from scadgen.mechanism.joint import Tell
    from scadgen.meshfiles.carried import Array

NAME = "proof that it carries"


@dataclass(frozen=True)
class Again:
    """From what a proof is made anew.

    of: what that is, in a word. printing: for which printers it asks, plain data. made: the hash of
    what it draws here. prove: the verdict on it.
    """

    of: str
    printing: Mapping[str, Any]
    made: Callable[[], str]
    prove: Callable[[Tell], Verdict]


#: What reads a text of a proof. Raises NotBelievedError for one from which nothing can be made, and
#: NotThereError for one that lacks what it was made from.
Reader = Callable[[Proof], Again]


class NotThereError(Exception):
    """What is not carried, in words."""


@dataclass(frozen=True)
class Carried:
    """holds: whether the file is still what was proven. why: what speaks against that, in words.

    anew: the verdict on what it carries (``of``), proven here; None where it carries nothing.
    """

    holds: bool
    why: str
    proof: Proof | None = None
    anew: Verdict | None = None
    of: str = ""

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
            words = (
                f"{self._of}; proven anew from the {self.of} in it: all {count} measures passed."
            )
        else:
            why = now.why_unproven
            words = f"{self._of}; from the {self.of} in it, it is not proven now: {why}"
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


def found_proof(
    path: Path, soup: Array, say: Tell, readers: Mapping[str, Reader] | None = None
) -> Carried | None:
    """The proof of a 3MF with these triangles (mm); None where it carries none.

    What it tells is proven anew from the job in it, or from what else ``readers`` can read, by the
    names of texts. Nothing in the file is run.
    """
    known = {JOB: _job, **(readers or {})}
    try:
        proof = carried(path)
        if proof is None:
            return None
        if geometry(soup) != proof.facts.get("geometry"):
            raise NotBelievedError("its geometry is not the one that was proven")
        again = next((read(proof) for name, read in known.items() if name in proof.texts), None)
        if again is None:
            return Carried(True, "It carries no job, so it was not proven anew.", proof)
        if again.printing != proof.facts.get("printing"):
            raise NotBelievedError(f"it tells of other printers than the {again.of} in it")
        say("its geometry anew")
        if again.made() != proof.facts["geometry"]:
            raise NotBelievedError(f"the {again.of} in it makes other triangles here")
    except NotBelievedError as error:
        return Carried(False, visible(str(error)))
    except NotThereError as error:
        return Carried(True, f"{visible(str(error))}, so it was not proven anew.", proof)
    return Carried(True, "", proof, again.prove(say), again.of)


def _job(proof: Proof) -> Again:
    """The job of a proof. It may name what is built in, and no file: nothing else is opened."""
    from scadgen.jobs.job import read_job
    from scadgen.tables.documents import parsed

    text = proof.texts[JOB]
    try:
        named = named_file(parsed(text.encode()))
        if named:
            raise NotBelievedError(f"the job in it names a file ({named})")
        job = read_job(text, Path())
    except JobError as error:
        raise NotBelievedError(f"the job in it is none: {shortened(error.words)}") from None
    return Again("job", printers_of(job), lambda: _made(job), job.prove)


def named_file(document: Mapping[str, Any]) -> str:
    """The key by which a document names a fleet or a plastic that is not built in; "" for none."""
    from scadgen.jobs.keys import FLEET, MATERIAL, SECTIONS
    from scadgen.proof.fleet.population import POPULATIONS
    from scadgen.strength.materials import materials
    from scadgen.tables.reading import flat

    told = flat(document, SECTIONS)
    built_in = ((FLEET, [*POPULATIONS]), (MATERIAL, [*materials()]))
    return next((key for key, known in built_in if key in told and told[key] not in known), "")


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
