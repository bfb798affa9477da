"""Shells complete commands, families, options and files."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from scadgen.cli.commands import all_commands
from scadgen.cli.completion import SHELLS
from scadgen.cli.main import main, parser
from scadgen.hinge.family import all_families
from tests.packaging import shells

#: A line, and what its last word is completed to.
LINES = {
    "scadgen inst": "install-library",
    "scadgen new rod": "rod_loops",
    "scadgen schema rod": "rod_loops",
    "scadgen new --ou": "--out",
    "scadgen list --js": "--json",
    "scadgen check job": "job_of_a_lid.toml",
    "scadgen write job_of_a_lid.toml --out fold": "folder",
    "scadgen completion ba": "bash",
}

Script = Callable[[str], Path]


@pytest.fixture
def script(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Script:
    """Writes what the command prints for a shell, beside a job and a folder."""
    (tmp_path / "job_of_a_lid.toml").write_text("")
    (tmp_path / "folder").mkdir()

    def write(shell: str) -> Path:
        assert main(["completion", shell]) == 0
        path = tmp_path / f"script.{shell}"
        path.write_text(capsys.readouterr().out, encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize("shell", SHELLS)
def test_the_script_knows_every_command_and_family(shell: str, script: Script) -> None:
    text = script(shell).read_text(encoding="utf-8")
    names = [*(name for name, _ in all_commands()), *all_families()]
    assert [name for name in names if name not in text] == []


def test_the_help_says_how_to_use_it(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        parser().parse_args(["completion", "--help"])
    said = " ".join(capsys.readouterr().out.split())
    assert all(f"{shell}: {way}" in said for shell, way in SHELLS.items())


@pytest.mark.shells
@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("ask", [shells.bash, shells.fish])
def test_bash_and_fish_offer_the_word(
    ask: Callable[[Path, str, Path], list[str]], line: str, script: Script, tmp_path: Path
) -> None:
    offered = ask(script(ask.__name__), line, tmp_path)
    assert [word.rstrip("/") for word in offered] == [LINES[line]]


@pytest.mark.shells
@pytest.mark.parametrize("line", LINES)
def test_zsh_ends_the_line(line: str, script: Script, tmp_path: Path) -> None:
    completed = shells.zsh(script("zsh"), line, tmp_path)
    assert completed.rstrip(" /") == line.rpartition(" ")[0] + " " + LINES[line]


@pytest.mark.shells
@pytest.mark.parametrize("ask", [shells.bash, shells.fish])
def test_every_family_is_offered(
    ask: Callable[[Path, str, Path], list[str]], script: Script, tmp_path: Path
) -> None:
    offered = ask(script(ask.__name__), "scadgen new ", tmp_path)
    assert sorted(offered) == sorted(all_families())
