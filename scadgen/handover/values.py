"""The values of a job's hinge on its sheet, and the files that go with it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

from scadgen.handover.rows import Row
from scadgen.hinge.family import bounds
from scadgen.jobs.job import Job
from scadgen.text.numbers import digits
from scadgen.text.quoting import visible

#: Digits of a file's SHA-256 that are told; the group of fields that say how it prints; the pose.
DIGITS, PRINTS, POSE = 16, "Quality", "angle"


def value_rows(job: Job) -> Iterator[Row]:
    """What shapes the hinge, by name; what is 0, so that there is none of it, is left out."""
    for name, limits in bounds(type(job.hinge)).items():
        value = getattr(job.hinge, name)
        if limits.group == PRINTS or name == POSE or not (value or limits.labels):
            continue
        said = limits.labels[int(value)] if limits.labels else f"{digits(value)}{limits.suffix}"
        needed = ", as needed" if name in job.hinge.left_open else ""
        yield Row(name.replace("_", " "), f"{said}{needed}")


def file_rows(files: Mapping[str, bytes]) -> Iterator[Row]:
    """The files by name, each with the beginning of its SHA-256."""
    for name, data in files.items():
        yield Row(visible(name), hashlib.sha256(data).hexdigest()[:DIGITS])
