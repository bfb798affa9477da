"""A written text knows whether it was edited."""

from __future__ import annotations

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen import emit
from scadgen.hinge.family import Hinge, all_families
from scadgen.keeping.fingerprint import WORDS, fingerprint, is_as_written, sealed, stated, unsealed
from scadgen.openscad.presets import preset_file
from scadgen.openscad.settings import emit_customizer
from tests.support import each_family

MODULE = emit(all_families()["slit_lattice"]())
TEXTS = st.text(st.characters(exclude_characters="\r"))


def by_hand(text: str, mark: str) -> tuple[str, str]:
    """The digits that the one line with ``mark`` holds, and those that it should hold."""
    lines = text.splitlines(keepends=True)
    (line,) = (line for line in lines if mark in line)
    rest = "".join(other for other in lines if other is not line)
    held = line.rstrip('",\n').rsplit(" ", 1)[1].strip('"')
    return held, hashlib.sha256(rest.encode()).hexdigest()[:16]


@each_family
def test_the_line_holds_the_hash_of_the_other_lines(cls: type[Hinge]) -> None:
    texts = (emit(cls()), emit_customizer(cls()))
    for text, mark in (*((one, WORDS) for one in texts), (preset_file(cls), '"fingerprint"')):
        held, wanted = by_hand(text, mark)
        assert held == wanted
        assert is_as_written(text)


@given(st.integers(0, len(MODULE)), st.integers(0, 3), st.text(max_size=3))
def test_any_edit_is_noticed(at: int, removed: int, put: str) -> None:
    edited = MODULE[:at] + put + MODULE[at + removed :]
    same = edited.replace("\r\n", "\n") == MODULE
    assert is_as_written(edited) == same


def test_the_ends_of_lines_are_no_edit() -> None:
    assert is_as_written(MODULE.replace("\n", "\r\n"))
    assert unsealed(MODULE.replace("\n", "\r\n")) == unsealed(MODULE)


@given(TEXTS, TEXTS)
def test_sealing_adds_one_line_that_can_be_taken_out(before: str, after: str) -> None:
    before = f"{before}\n" if before else ""
    text = sealed(before, after, "// ")
    assert is_as_written(text)
    assert before + after in (unsealed(text), text[: len(before)] + after)


@pytest.mark.parametrize("digits", ["0" * 16, fingerprint("// a\n")])
def test_a_line_that_people_wrote_fools_nobody(digits: str) -> None:
    said = f"// {WORDS}: {digits}\n"
    text = sealed(said + "// a\n", said, "// ")
    assert is_as_written(text)
    assert not is_as_written(text + " ")
    assert not is_as_written(f"{said}b")
    assert len([*stated(text)]) == 3
