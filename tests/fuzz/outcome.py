"""What becomes of one job."""

from __future__ import annotations

import math
import subprocess
import traceback
from dataclasses import dataclass
from pathlib import Path

from scadgen.findings.finding import Verdict
from scadgen.handover.outputs import job_files
from scadgen.hinge.meshing import mesh
from scadgen.jobs.job import Job, JobError, load_job
from tests.engine import run
from tests.fuzz.draw import with_changes

#: Good ends, in the order of the table; any other is a fault of the code.
REFUSED, PROVEN, NOT_PROVEN = "refused", "proven", "not proven"
DRAWN, TOO_SLOW = "drawn by OpenSCAD", "too slow for OpenSCAD"
CRASH, UNCLEAR, NO_REMEDY = "traceback", "unclear refusal", "remedy that does not work"
WRONG_FILES, WRONG_DRAWING = "wrong files", "wrong in OpenSCAD"
FAULTS = (CRASH, UNCLEAR, NO_REMEDY, WRONG_FILES, WRONG_DRAWING)


@dataclass(frozen=True)
class Outcome:
    """All ends that a job came to, in words; ``detail`` of a fault, and the job as it was then."""

    ends: tuple[str, ...]
    family: str = ""
    detail: str = ""
    job: bytes = b""

    @property
    def faults(self) -> tuple[str, ...]:
        return tuple(end for end in self.ends if end in FAULTS)


def outcome(data: bytes, folder: Path, *, openscad: bool = False) -> Outcome:
    """Load, prove and write a job; one refused with a remedy goes on with that."""
    ends: list[str] = []
    family = ""
    try:
        job = _load(data, folder, ends)
        if isinstance(job, JobError) and (changes := remedy(job)):
            data = with_changes(data.decode("utf-8-sig"), changes).encode()
            job = _load(data, folder, ends)
            if isinstance(job, JobError):
                raise FaultError(NO_REMEDY, str(job))
        if isinstance(job, Job):
            family = job.family
            verdict = job.prove()
            ends.append(PROVEN if verdict.proven else NOT_PROVEN)
            files = _written(job, verdict)
            ends += [_drawn(job, files, folder)] if openscad else []
    except FaultError as fault:
        return Outcome((*ends, fault.end), family, fault.detail, data)
    except Exception:
        return Outcome((*ends, CRASH), family, traceback.format_exc(), data)
    return Outcome(tuple(ends), family)


class FaultError(Exception):
    """An end that no job should come to."""

    def __init__(self, end: str, detail: str) -> None:
        self.end, self.detail = end, detail
        super().__init__(end, detail)


def is_clear(error: JobError) -> bool:
    """Whether a refusal is one line of whole sentences."""
    return len(str(error).splitlines()) == 1 and error.words.endswith((".", "?"))


def remedy(error: JobError) -> dict[str, str]:
    """The keys that the refusal of a hinge says to set, as in the file; empty without any."""
    changes = error.words.partition("This works: ")[2].rstrip(".").split(", ")
    pairs = (change.partition(" = ") for change in changes)
    return {key: value for key, equals, value in pairs if equals}


def _load(data: bytes, folder: Path, ends: list[str]) -> Job | JobError:
    path = folder / "job.toml"
    path.write_bytes(data)
    try:
        return load_job(path)
    except JobError as error:
        if not is_clear(error):
            raise FaultError(UNCLEAR, str(error)) from None
        ends.append(REFUSED)
        return error


def _written(job: Job, verdict: Verdict) -> dict[str, bytes]:
    """The job's files, in memory."""
    files = job_files(job, verdict)
    empty = [name for name, data in files.items() if not data]
    broken = b"nan" in files[f"{job.name}.scad"] or not math.isfinite(mesh(job.hinge).volume())
    if empty or broken:
        raise FaultError(WRONG_FILES, f"empty: {empty}; no numbers: {broken}")
    return files


def _drawn(job: Job, files: dict[str, bytes], folder: Path) -> str:
    """The written call by the real OpenSCAD, against the written mesh: volumes within 0.1 %."""
    for name, data in files.items():
        (folder / name).write_bytes(data)
    try:
        made = run(folder / f"{job.name}.scad", folder)
    except subprocess.TimeoutExpired:
        return TOO_SLOW
    if made.code or made.trouble:
        raise FaultError(WRONG_DRAWING, made.messages)
    wanted, found = mesh(job.hinge).volume(), made.mesh.volume
    if not math.isclose(wanted, found, rel_tol=1e-3):
        raise FaultError(WRONG_DRAWING, f"{found} mm3 drawn; {wanted} mm3 built")
    return DRAWN
