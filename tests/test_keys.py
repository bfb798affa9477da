"""The reader of declared keys: what it fills in, what it refuses, and what it says then."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen.tables.documents import JobError
from scadgen.tables.kinds import AnyNumber, AnyTable, ListOf, Number, OneOf, Text
from scadgen.tables.limits import Limits
from scadgen.tables.reading import Key, load, read

WALL = Limits("mm", 0.5, 5, 2)
KEYS = (
    Key("name", Text(filled=True), needed=True),
    Key("colour", OneOf(("red", "green"), "as it is printed"), default="red"),
    Key("size.wall", Number(WALL), default=1.5, also="thickness"),
    Key("size.turn", AnyNumber(Limits("deg", 0, 90))),
    Key("lid.wall", Number(WALL), needed=True),
    Key("lid.heights", ListOf(Number(WALL), "a list of numbers", (1, 2))),
    Key("steps", AnyTable()),
    Key("count", Number(Limits("", 1, math.inf, whole=True))),
)


def values(text: str) -> dict[str, Any]:
    return read(tomllib.loads(f"name = 'a'\n{text}"), KEYS)


def test_what_is_left_out_has_its_default() -> None:
    found = values("")
    assert found.keys() == {key.name for key in KEYS}
    assert found == {key.name: key.default for key in KEYS} | {"name": "a"}


def test_what_is_given_comes_as_its_kind() -> None:
    found = values("count = 3\nsize.wall = 2\nlid = { wall = 1, heights = [1, 2.5] }")
    assert (found["count"], found["size.wall"], found["lid.heights"]) == (3, 2, (1, 2.5))
    assert isinstance(found["count"], int)
    assert isinstance(found["size.wall"], float)
    assert values("size.turn = 900")["size.turn"] == 900


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        ("size.wal = 2", "size.wal", "no such key; did you mean size.wall?"),
        ("lid.wal = 2", "lid.wal", "no such key; did you mean lid.wall?"),
        ("WALL = 2", "WALL", "no such key; did you mean lid.wall?"),
        ("thickness = 2", "thickness", "no such key; did you mean size.wall?"),
        ("lid.zz = 2", "lid.zz", "no such key; there are wall, heights."),
        ("zz = 2", "zz", "no such key; there are name, colour, size.wall, size.turn, lid.wall, "),
        ('"lid.wall" = 2', '"lid.wall"', "no such key; did you mean lid.wall?"),
        ("lid = {}", "lid.wall", "missing; it must be a number, 0.5 to 5 mm."),
        ("size = 2", "size", "it must be a table, headed by [size]."),
        ("steps = 2", "steps", "it must be a table, headed by [steps]."),
        ("size.wall = 9", "size.wall", "= 9 mm; it must be 0.5 to 5 mm. This works: 5."),
        ("size.wall = 0.1", "size.wall", "This works: 0.5. Values are in mm: 0.1 cm is 1, 0.1 in"),
        ("size.wall = nan", "size.wall", "= nan mm; it must be 0.5 to 5 mm. This works: 2."),
        (
            "size.wall = true",
            "size.wall",
            "= true; it must be a number, 0.5 to 5 mm. This works: 2",
        ),
        ("size.turn = []", "size.turn", "= []; it must be a number, 0 to 90 deg."),
        ("count = 1.5", "count", "= 1.5; it must be 1 or more in steps of 1. This works: 2."),
        ("count = inf", "count", "= inf; it must be 1 or more in steps of 1. This works: 1."),
        ("colour = 'grene'", "colour", "did you mean green? It must be one of red, green: as it"),
        ("colour = 3", "colour", "= 3; it must be one of red, green: as it is printed."),
        ("lid = { wall = 1, heights = [] }", "lid.heights", "This works: [1, 2]."),
        ("lid = { wall = 1, heights = [9] }", "lid.heights", "= 9 mm; it must be 0.5 to 5 mm."),
    ],
)
def test_a_refusal_names_the_key_the_rule_and_what_works(text: str, key: str, words: str) -> None:
    with pytest.raises(JobError) as caught:
        values(text)
    assert caught.value.key == key
    assert caught.value.words.startswith(key)
    assert words in caught.value.words


def test_a_table_within_a_file_names_the_whole_key() -> None:
    with pytest.raises(JobError, match=r"^box\.size\.wal: no such key; did you mean box\.size\.wa"):
        read({"name": "a", "size": {"wal": 1}}, KEYS, within="box")
    with pytest.raises(JobError, match=r"^box\.name: missing; it must be text in quotes\.$"):
        read({}, KEYS, within="box")


def test_the_file_that_is_at_fault_is_named(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("name = 3")
    with pytest.raises(JobError) as caught:
        load(path, lambda document, _: read(document, KEYS))
    assert str(caught.value) == f"{path}: name = 3; it must be text in quotes."


@given(st.floats() | st.integers(-(10**400), 10**400) | st.booleans() | st.text(max_size=3))
def test_what_the_limits_say_works_is_accepted(value: object) -> None:
    whole = Limits("", 2, 8, whole=True, step=2)
    for limits in (WALL, whole, Limits("mm", 1, math.inf), Limits("N", -1, 1)):
        if isinstance(value, int) and abs(value) > 10**300:
            assert not limits.accepts(value)
        elif not limits.accepts(value):
            assert limits.accepts(limits.nearest(value))
            assert limits.refusal("key", value).startswith("key = ")
