"""Which named values of a family its text writes where they are used."""

from __future__ import annotations

import re

from scadgen import emit
from scadgen.hinge.family import Hinge, definition
from scadgen.openscad.spelling import SHORT, spelt
from scadgen.trees.expr import Let, Num
from scadgen.trees.to_scad import spelt_out, text
from tests.support import each_family


@each_family
def test_what_is_written_where_it_is_used_has_no_line_of_its_own(cls: type[Hinge]) -> None:
    family = definition(cls)
    written, source = emit(cls()), spelt(family)
    module = written[: written.index("\n}\n")]
    names = {value.name for value in source} - set(family.bounds)
    assert names
    assert not [name for name in names if re.search(rf"^  {name} = ", module, re.MULTILINE)]


@each_family
def test_numbers_keep_the_names_that_say_what_they_are(cls: type[Hinge]) -> None:
    values = spelt(definition(cls))
    assert not [value.name for value in values if isinstance(value.value, Num)]
    assert not [value.name for value in values if "practice" in value.note]


@each_family
def test_no_long_value_is_written_into_another(cls: type[Hinge]) -> None:
    noted = [value for value in spelt(definition(cls)) if value.note]
    assert all(len(text(value.value)) <= SHORT for value in noted)


def test_a_value_is_written_out_only_where_it_is_asked_for() -> None:
    gap = Let("gap", Num(2.0), "A gap")
    assert text(gap) == "gap"
    with spelt_out([gap]):
        assert text(1 - (gap - 3)) == "1 - (2 - 3)"
    assert text(gap) == "gap"
