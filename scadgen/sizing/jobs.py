"""What was found as a job: its text, and whether that job, read back, is proven."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from scadgen.hinge.family import Hinge, bounds
from scadgen.jobs.job import job_keys, read_job
from scadgen.jobs.keys import FLEET, MATERIAL, SECTIONS
from scadgen.proof.fleet.population import POPULATIONS
from scadgen.sizing.wish import Wish
from scadgen.strength.asked import differing
from scadgen.strength.materials import materials
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml


def sized_job(wish: Wish, hinge: Hinge, folder: Path) -> str:
    """A job for ``folder`` with the values that were found and all else that the wish says."""
    keys = job_keys(type(hinge))
    found = {
        key: _moved(wish, key, value, folder)
        for key, value in wish.given.items()
        if not key.startswith("part.") and key != "family"
    }
    values = {keys[name]: getattr(hinge, name) for name in keys if _differs(hinge, name)}
    lines = {"family": hinge.family} | found | _duty(wish, hinge) | values
    text = [f"{key} = {toml(value)}" for key, value in lines.items() if "." not in key]
    for section in SECTIONS:
        inner = {k.partition(".")[2]: v for k, v in lines.items() if k.startswith(f"{section}.")}
        if inner:
            text += ["", f"[{section}]", *(f"{key} = {toml(v)}" for key, v in inner.items())]
    return "\n".join(text) + "\n"


def why_unproven(
    wish: Wish, hinge: Hinge, folder: Path, progress: Callable[[str], None] | None = None
) -> str:
    """Why ``scadgen check`` would not call the hinge's job proven, in a sentence; or nothing."""
    try:
        verdict = read_job(sized_job(wish, hinge, folder), folder).prove(progress)
    except JobError as error:
        return f"its job cannot be read back: {error.words}"
    why = verdict.why_unproven
    return f"its job is not proven: {why}" if why else ""


def _duty(wish: Wish, hinge: Hinge) -> dict[str, float]:
    """What the job has to say of the duty, so that the family's usual one does not stand in."""
    asked = differing(wish.wanted.duty, hinge.usual_duty())
    told = {f"duty.{name}": value for name, value in asked.items()}
    return told if wish.asks_strength else {}


def _moved(wish: Wish, key: str, value: object, folder: Path) -> object:
    """A value of the wish; the path of a file leads there from the folder of the job."""
    named = value in (*POPULATIONS, *materials())
    if key not in (FLEET, MATERIAL) or not isinstance(value, str) or named:
        return value
    there = wish.folder / value
    stays = Path(value).is_absolute() or folder.resolve() == wish.folder.resolve()
    if stays or not there.is_file():
        return value
    return Path(os.path.relpath(there, folder)).as_posix()


def _differs(hinge: Hinge, name: str) -> bool:
    return bool(getattr(hinge, name) != bounds(type(hinge))[name].default)
