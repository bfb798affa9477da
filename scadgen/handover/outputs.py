"""What a job gives: the module, the call that draws the hinge, its meshes and the report."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from scadgen.findings.page import page
from scadgen.handover.carrying import CALL, REPORT, job_proof
from scadgen.handover.spec_sheet import spec_sheet
from scadgen.hinge.family import bounds, definition
from scadgen.hinge.meshing import mesh, printed_bodies
from scadgen.jobs.job import Job, job_keys
from scadgen.keeping.fingerprint import sealed
from scadgen.meshfiles.writing import stl, three_mf
from scadgen.openscad.emitter import CAUTION, emit
from scadgen.openscad.settings import emit_settings
from scadgen.text.quoting import plain
from scadgen.text.typeset import typeset
from scadgen.trees.to_scad import INDENT, WIDTH, number
from scadgen.version import VERSION

if TYPE_CHECKING:
    from scadgen.findings.finding import Verdict


def job_files(job: Job, verdict: Verdict) -> dict[str, bytes]:
    """The files of a job by name; the same job gives the same bytes.

    Texts hold the fingerprint by which an edit is noticed.
    """
    module = job_file_names(job)[0]
    texts = {
        module: emit(type(job.hinge)()),
        CALL: call(job),
        REPORT: sealed(_text(_report(job, verdict)), ""),
    }
    proof = job_proof(job, verdict, texts)
    data = (
        texts[module],
        texts[CALL],
        stl(mesh(job.hinge)),
        three_mf(job.name, job.heading, printed_bodies(job.hinge), proof),
        texts[REPORT],
    )
    encoded = [one.encode() if isinstance(one, str) else one for one in data]
    names = job_file_names(job)
    files = dict(zip(names[: len(encoded)], encoded, strict=True))
    sheet = spec_sheet(job, verdict, files, pictured=True)
    return files | dict(zip(names[len(encoded) :], sheet.values(), strict=True))


def call(job: Job) -> str:
    """The file that draws the job's hinge: all its values, in the Customizer."""
    return emit_settings(job.hinge, _head(job))


def job_file_names(job: Job) -> list[str]:
    """The names of those files: the family's module first."""
    kinds = (".scad", ".stl", ".3mf", ".txt", "_sheet.md", "_sheet.html")
    return [f"{job.family}.scad", *(f"{job.name}{kind}" for kind in kinds)]


def _head(job: Job) -> Iterator[str]:
    others = ", ".join(part for part in definition(type(job.hinge)).parts if part != "both")
    sentences = (
        f"{plain(job.name)}.scad - {job.heading}",
        plain(job.note),
        f"Needs {job.family}.scad beside it. Written by scadgen {VERSION}.",
        f"Also drawn, if asked for by part: {others}." if others else "",
    )
    return _wrapped(sentences)


def _report(job: Job, verdict: Verdict) -> Iterator[str]:
    hinge = job.hinge
    yield from (*_wrapped([job.heading, plain(job.note)]), "")
    yield from _wrapped([f"{job.family}: {hinge.title}", f"Print it {hinge.posture}. No supports."])
    yield ""
    yield from _wrapped((typeset(line.text) for line in page(verdict)), hanging=5)
    yield from ("", "Values:")
    for name, key in job_keys(type(hinge)).items():
        limits = bounds(type(hinge))[name]
        value = typeset(f"{number(getattr(hinge, name))}{limits.suffix}")
        why = ", as needed" if name in hinge.left_open else ""
        yield f"{INDENT}{key:<22} {value:<9} {limits.sentence}{why}"
    heights = ", ".join(map(number, job.layer_heights))
    yield f"{INDENT}{'printers.layer_heights':<22} {heights} mm"
    yield from ("", *_wrapped(CAUTION), "", f"Written by scadgen {VERSION}.")


def _wrapped(sentences: Iterable[str], hanging: int = len(INDENT)) -> Iterator[str]:
    width = WIDTH - len("// ")
    for sentence in sentences:
        yield from textwrap.wrap(sentence, width, subsequent_indent=" " * hanging)


def _text(lines: Iterable[str]) -> str:
    return "".join(f"{line}\n" for line in lines)
