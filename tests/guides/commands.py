"""Commands that a page shows, as a reader's shell runs them.

A shell starts each of our commands once, where the pages show it first. Every other time it is
called here, which takes half the time: what it needs of Python is loaded by then.
"""

from __future__ import annotations

import contextlib
import functools
import io
import os
import re
import shlex
import subprocess
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from scadgen.cli.main import main
from tests.guides import PAGES
from tests.guides.blocks import blocks
from tests.support import ROOT

_OURS = "scadgen"
#: What a shell does more than to start a command with words.
_SHELL = re.compile(r"[|&;<>()$`*?\[#~=%{]|^\s*\w+=")
#: Lines that others depend on: such a block is left to one shell.
_TOGETHER = re.compile(r"\\$|<<|^\s*(cd|export|set|for|if|while|function)\b", re.MULTILINE)


@dataclass
class Shell:
    """A reader's shell on a page: its folder, and the commands that it has to start in earnest.

    ours: whether the package that the folder holds is the one that is loaded here.
    """

    page: str
    folder: Path
    environment: Mapping[str, str]
    ours: bool = True
    fresh: set[str] = field(init=False)

    def __post_init__(self) -> None:
        self.fresh = {command for command, page in _first().items() if page == self.page}

    def run(self, code: str) -> tuple[int, str]:
        """The status with which a block ends, at its first line that fails, and what it printed."""
        parts = [code] if _TOGETHER.search(code) else filter(str.strip, code.splitlines())
        status, printed = 0, ""
        for part in parts:
            status, more = self._line(part)
            printed += more
            if status:
                break
        return status, printed

    def _line(self, line: str) -> tuple[int, str]:
        words = called(line)
        if words is None or not self.ours or _command(words) in self.fresh:
            self.fresh -= {_command(words or [])}
            return self._started(line)
        return self._called(words)

    def _started(self, code: str) -> tuple[int, str]:
        done = subprocess.run(
            ["bash", "-euo", "pipefail", "-c", code],
            cwd=self.folder,
            env=self.environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            timeout=300,
            check=False,
        )
        return done.returncode, done.stdout

    def _called(self, words: list[str]) -> tuple[int, str]:
        printed = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True)
        outputs = contextlib.redirect_stdout(printed), contextlib.redirect_stderr(printed)
        with outputs[0], outputs[1], contextlib.chdir(self.folder), _set(self.environment):
            try:
                status = main(words)
            except SystemExit as ended:  # of the reader of arguments
                status = int(ended.code or 0)
        printed.seek(0)
        return status, printed.read()


def called(line: str) -> list[str] | None:
    """The words after our name, where a line is a call of ours and nothing else."""
    if _SHELL.search(line):
        return None
    name, *words = shlex.split(line) or [""]
    return words if name == _OURS else None


def _command(words: list[str]) -> str:
    """Which of our commands the words call."""
    return next((word for word in words if not word.startswith("-")), "")


@functools.cache
def _first() -> dict[str, str]:
    """The page on which each command is called first."""
    found: dict[str, str] = {}
    for page in PAGES:
        text = (ROOT / page).read_text(encoding="utf-8")
        shown = (block for block in blocks(text) if block.language == "sh")
        run = (block for block in shown if "not run" not in block.remarks)
        for line in (line for block in run for line in block.code.splitlines()):
            if (words := called(line)) is not None:
                found.setdefault(_command(words), page)
    return found


@contextlib.contextmanager
def _set(environment: Mapping[str, str]) -> Iterator[None]:
    """The environment of this process, for a while."""
    before = dict(os.environ)
    os.environ.update(environment)
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)
