"""The reader of the pages stumbles where a page is wrong."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from scadgen.jobs.job import JobError
from tests.guides.blocks import blocks
from tests.guides.commands import Shell, called
from tests.guides.session import PageError, Session
from tests.guides.told import brought_up_to_date, is_told

CAME = "first: 1\nsecond: 2\nthird: 3\n"


def page(*lines: str) -> str:
    return "\n".join(lines) + "\n"


def follow(folder: Path, *lines: str) -> Session:
    session = Session("page.md", folder, openscad=False)
    list(session.follow(page(*lines)))
    return session


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "home").mkdir()
    return tmp_path


def test_blocks_carry_their_remarks_lines_and_prose() -> None:
    text = page("Save `a.sh`:", "<!-- file: a.sh -->", "```sh", "true", "```", "```text", "```")
    first, second = blocks(text)
    assert (first.language, first.code, first.line) == ("sh", "true\n", 3)
    assert (first.remarks, first.above) == ({"file": "a.sh"}, "Save `a.sh`:")
    assert (second.remarks, second.above, second.code) == ({}, "", "")


@pytest.mark.parametrize(
    "lines", [("```sh", "true"), ("<!-- not run: why -->", "Prose.", "```sh", "```")]
)
def test_a_page_that_is_no_page_is_refused(lines: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match=r"line [12]"):
        list(blocks(page(*lines)))


@pytest.mark.parametrize(
    "shown", [CAME, "...\nthird: 3\n", "first: 1\n...\n", "first: 1\n...\nthird: 3\n", "...\n"]
)
def test_shown_lines_may_leave_out_others(shown: str) -> None:
    assert is_told(shown, CAME)


@pytest.mark.parametrize(
    "shown",
    [
        "",
        "first: 1\n",
        "third: 3\n",
        "first: 1\nthird: 3\n",
        "second: 2\n...\nthird: 3\n",
        "...\nthird: 3\n...\nfirst: 1\n...\n",
        "...\nsecond: 4\n...\n",
    ],
)
def test_lines_that_did_not_come_so_are_seen(shown: str) -> None:
    assert not is_told(shown, CAME)


def test_outputs_are_brought_up_to_date() -> None:
    assert brought_up_to_date("old\n", CAME) == CAME
    shown = "...\nsecond: 7\n...\n"
    assert brought_up_to_date(shown, CAME) == "...\nsecond: 2\n...\n"
    assert brought_up_to_date("first: 7\nthird: 7\n...\n", CAME) == "first: 1\n...\nthird: 3\n...\n"


def test_output_is_what_the_block_above_printed(folder: Path) -> None:
    session = follow(folder, "```sh", "echo out; echo err >&2", "```", "```text", "```")
    assert list(session.outputs.values()) == ["out\nerr\n"]
    session = follow(folder, "```python", "print(1 + 1)", "```", "```text", "2", "```")
    assert list(session.outputs.values()) == ["2\n"]


def test_files_are_there_for_later_blocks(folder: Path) -> None:
    saved = ("Save `a/b.txt`.", "<!-- file: a/b.txt -->", "```text", "mine", "```")
    session = follow(folder, *saved, "```sh", "cat a/b.txt", "```", "```text", "mine", "```")
    assert list(session.outputs.values()) == ["mine\n"]


@pytest.mark.parametrize(
    "lines",
    [
        ("```sh", "false", "```"),
        ("```sh", "false | true", "```"),
        ("<!-- exits: 1 -->", "```sh", "true", "```"),
        ("<!-- file: a.txt -->", "```text", "not told", "```"),
        ("<!-- from: a.txt -->", "```text", "yours", "```"),
        ("<!-- refused: size.wall -->", "```toml", 'family = "side_cones"', "```"),
    ],
)
def test_what_does_not_come_true_is_seen(folder: Path, lines: tuple[str, ...]) -> None:
    (folder / "a.txt").write_text("mine\n")
    with pytest.raises(PageError, match=r"page\.md:"):
        follow(folder, *lines)


def test_a_wrong_job_is_seen(folder: Path) -> None:
    with pytest.raises(JobError, match="did you mean side_cones"):
        follow(folder, "```toml", 'family = "side_cone"', "```")


def test_python_that_fails_is_seen(folder: Path) -> None:
    with pytest.raises(ZeroDivisionError):
        follow(folder, "```python", "1 / 0", "```")


def test_what_needs_openscad_is_left_out_without_it(folder: Path) -> None:
    drawn = ("```scad", "cube();", "```")
    session = follow(folder, *drawn, "<!-- needs: openscad -->", "```sh", "false", "```")
    assert session.outputs == {}


@pytest.mark.openscad
@pytest.mark.parametrize("text", ["cube(1;", "cub();", "if (false) cube();", "assert(false);"])
def test_a_model_that_does_not_draw_is_seen(folder: Path, text: str) -> None:
    session = Session("page.md", folder)
    with pytest.raises(PageError, match=r"page\.md:1"):
        list(session.follow(page("```scad", text, "```")))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("scadgen --quiet write lid.toml --out parts", ["--quiet", "write", "lid.toml"]),
        ("scadgen inspect 'a b.stl'", ["inspect", "a b.stl"]),
        ("scadgen check a.toml > out", None),
        ("scadgen check a.toml; true", None),
        ('scadgen check "$HOME"', None),
        ("A=1 scadgen check a.toml", None),
        ("openscad -o a.stl a.scad", None),
    ],
)
def test_only_a_plain_call_of_ours_is_called_here(line: str, words: list[str] | None) -> None:
    found = called(line)
    assert (found[: len(words)] if found and words else found) == words


def test_a_call_here_prints_and_ends_as_one_of_a_shell(folder: Path) -> None:
    environment = {"COLUMNS": "80", "NO_COLOR": "1"}
    before = dict(os.environ)
    path = f"{Path(sys.executable).parent}{os.pathsep}{before['PATH']}"
    shell = Shell("first.md", folder, {**before, **environment, "PATH": path})
    assert shell.fresh == set()
    shell.fresh = {"new"}
    started = shell.run("scadgen new rod_loop\n")
    assert shell.fresh == set()
    assert shell.run("scadgen new rod_loop\n\necho later\n") == started
    assert started[0] == 2
    assert "did you mean rod_loops?" in started[1]
    assert os.environ == before


def test_a_block_ends_at_its_first_line_that_fails(folder: Path) -> None:
    shell = Shell("first.md", folder, dict(os.environ))
    assert shell.run("echo one\nfalse\necho two\n") == (1, "one\n")
    assert shell.run("echo one \\\n  two\n") == (0, "one two\n")
