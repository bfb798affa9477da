"""What the page's own modules answer, run in Node.js."""

from __future__ import annotations

import atexit
import functools
import json
import subprocess
from typing import Any

from scadgen.gallery.family_data import family_data
from scadgen.gallery.page import WEB
from scadgen.hinge.family import Hinge, all_families
from tests.conftest import PACKAGES
from tests.support import ROOT

SCRIPT = ROOT / "tests" / "workshop" / "answer.mjs"


@functools.cache
def _data(family: str) -> dict[str, Any]:
    return family_data(all_families()[family])


def answers(*questions: tuple[Any, ...]) -> list[Any]:
    """The answer to each question: its kind, the family or "", and what else is asked."""
    named = {question[1] for question in questions} - {""}
    told = {"families": {name: _data(name) for name in named}, "questions": questions}
    engine = _engine()
    assert engine.stdin is not None
    assert engine.stdout is not None
    engine.stdin.write(f"{json.dumps(told)}\n")
    engine.stdin.flush()
    answer = engine.stdout.readline()
    if not answer:  # what went wrong is on its standard error
        _engine.cache_clear()
        raise OSError(f"Node.js ended with status {engine.wait()}")
    found = json.loads(answer)
    assert len(found) == len(questions)
    return list(found)


@functools.cache
def _engine() -> subprocess.Popen[str]:
    """Node.js, started once for all tests of a process: its start takes most of the time."""
    command = ["node", str(SCRIPT), str(WEB), str(PACKAGES)]
    engine = subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
    )
    atexit.register(engine.communicate)
    return engine


def given(hinge: Hinge) -> dict[str, Any]:
    """The values of a hinge as they were given."""
    from scadgen.hinge.automatic import given_values

    return given_values(hinge)
