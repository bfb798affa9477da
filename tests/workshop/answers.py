"""What the page's own modules answer, run in Node.js."""

from __future__ import annotations

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
    done = subprocess.run(
        ["node", str(SCRIPT), str(WEB), str(PACKAGES)],
        input=json.dumps(told),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert len(found) == len(questions)
    return list(found)


def given(hinge: Hinge) -> dict[str, Any]:
    """The values of a hinge as they were given."""
    from scadgen.hinge.automatic import given_values

    return given_values(hinge)
