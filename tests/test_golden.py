"""The emitted text is exactly the text that somebody has read and accepted."""

from __future__ import annotations

import difflib

import pytest

from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.rules import HingeError
from tests.golden import FOLDER, texts
from tests.support import changed, each_family, moved

MEND = "If the change is meant, look at it and run: python -m tests.golden"


@each_family
def test_text_is_as_accepted(cls: type[Hinge]) -> None:
    name = f"{cls.family}.scad"
    path = FOLDER / name
    accepted = path.read_bytes().decode() if path.exists() else ""
    emitted = texts()[name]
    changes = difflib.unified_diff(
        accepted.splitlines(), emitted.splitlines(), f"accepted {name}", "emitted", lineterm=""
    )
    assert accepted == emitted, "\n".join([*changes, MEND])


@each_family
def test_every_field_is_moved_off_its_default_unless_a_rule_holds_it(cls: type[Hinge]) -> None:
    hinge, bounds = moved(cls), definition(cls).bounds
    still = [name for name, limits in bounds.items() if getattr(hinge, name) == limits.default]
    assert len(still) < len(bounds) / 4
    for name in still:
        for step in (bounds[name].step, -bounds[name].step):
            with pytest.raises(HingeError):
                changed(hinge, {name: bounds[name].default + step})
