"""Lists that begin with a minus are values of options, and a parser tells its arguments."""

from __future__ import annotations

import re

import pytest

from scadgen.cli.arguments import joined
from scadgen.cli.commands import all_names
from scadgen.cli.main import parser


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ("--swing -90,90", "--swing=-90,90"),
        ("--axis -1,2,3e-1,.5,0,-1 a.stl", "--axis=-1,2,3e-1,.5,0,-1 a.stl"),
        ("--swing -.5,1 --axis -1,0,0,0,0,1", "--swing=-.5,1 --axis=-1,0,0,0,0,1"),
        ("--clearance -1e-3", "--clearance=-1e-3"),
        ("--sw -90,90", "--sw=-90,90"),
        ("--swing=-90,90 -1,2", "--swing=-90,90 -1,2"),
        ("--swing 90,-90", "--swing 90,-90"),
        ("--swing -x,90", "--swing -x,90"),
        ("--swing -- -90,90", "--swing -- -90,90"),
        ("-- --swing -90,90", "-- --swing -90,90"),
        ("-90,90 a.stl", "-90,90 a.stl"),
        ("a.stl --json", "a.stl --json"),
        ("", ""),
    ],
)
def test_only_a_value_that_begins_with_a_minus_joins_its_option(given: str, wanted: str) -> None:
    assert joined(given.split()) == wanted.split()


@pytest.mark.parametrize(
    ("words", "name", "value"),
    [
        ("--swing -90,90", "swing", (-90, 90)),
        ("--swing=-90,90", "swing", (-90, 90)),
        ("--axis -1,2,-3e-1,.5,0,-1", "axis", (-1, 2, -0.3, 0.5, 0, -1)),
        ("--clearance -1", "clearance", -1),
    ],
)
def test_inspect_takes_them(words: str, name: str, value: object) -> None:
    options = parser().parse_args(joined(["inspect", "a.stl", *words.split()]))
    assert getattr(options, name) == value


def test_what_is_no_list_of_numbers_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    for words, said in (
        ("--swing -90", "argument --swing: -90: it must be 2 numbers, by commas"),
        ("--swing -9-,1", "argument --swing: invalid numbers value: '-9-,1'"),
        ("--swing -x,1", "argument --swing: expected one argument"),
        ("-90,90", "unrecognized arguments: -90,90"),
    ):
        with pytest.raises(SystemExit):
            parser().parse_args(joined(["inspect", "a.stl", *words.split()]))
        assert said in capsys.readouterr().err


@pytest.mark.parametrize("name", all_names())
def test_every_option_with_a_value_is_told(name: str) -> None:
    """An option of a group is not, so it must be a flag: a shell could not complete its value."""
    one = parser().commands[name]
    told = {option for action in one.arguments for option in action.option_strings}
    assert {"-h", "--help", "--quiet"} <= told
    assert set(re.findall(r"^  (--[\w-]+) \S", one.format_help(), re.MULTILINE)) <= told


def test_everything_is_told_of_every_command() -> None:
    whole = parser()
    assert list(whole.commands) == all_names()
    told = list(whole.everything())
    assert all(action in told for one in whole.commands.values() for action in one.arguments)
