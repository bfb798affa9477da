"""Where Python lacks what it has on Unix alone, as on Windows, every command works or says why not.

It is a simulation: what is marked "Availability: Unix" in the documentation of Python's standard
library is hidden. No Windows was at hand.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.toolpaths.made import Dialect, whole

pytestmark = pytest.mark.openscad

#: What OpenSCAD comes to no end with, cannot read, and draws.
ENDLESS = "for (i = [0:999], j = [0:999], k = [0:999], l = [0:999]) cube(i);\n"
BROKEN = "cube(;\n"
SOUND = "use <made/captive_cone.scad>\ncaptive_cone(facets = 16);\n"
PRODUCT = """
name = "tin"
[bodies.box]
form = "tray"
length = 60
width = 40
height = 22
wall = 2
floor = 1.6
[bodies.lid]
form = "tray"
length = 60
width = 40
height = 8
wall = 2
floor = 1.6
[joints.hinge]
family = "side_cones"
fixed = "box"
moving = "lid"
closes = true
[joints.hinge.size]
length = 40
facets = 16
"""
JOB = 'family = "captive_cone"\nname = "hinge"\n[size]\nfacets = 16\n'
FILES = {
    "hinge.toml": JOB,
    "tin.toml": PRODUCT,
    "endless.scad": ENDLESS,
    "broken.scad": BROKEN,
    "sound.scad": SOUND,
}
#: Commands that work, with words of their answers; and that refuse, with words of the sentence.
WORK = {
    "check hinge.toml": "captive_cone: proven",
    "write hinge.toml --out made": "captive_cone: proven",
    "inspect made/hinge.stl": "hold: certified for rigid bodies",
    "inspect made/hinge.3mf": "proven anew from the job in it: all",
    "inspect sound.scad": "hold: certified for rigid bodies",
    "product tin.toml --out made": "tin: proven",
    "toolpath bars.gcode": "bars.gcode: passed",
}
REFUSED = {
    "inspect broken.scad": "OpenSCAD refuses it",
    "inspect endless.scad --time-limit 2": "OpenSCAD took longer than 2 s",
}
COMMANDS = (*WORK, *REFUSED)


@dataclass(frozen=True)
class Told:
    """What a command gave back."""

    status: int
    out: str
    err: str


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Told]:
    """What commands give, all run by one process in a folder with the files that they name."""
    folder = tmp_path_factory.mktemp("lacking")
    for name, text in FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    Dialect().write(folder / "bars.gcode", whole())
    given = json.dumps([command.split() for command in COMMANDS])
    done = subprocess.run(
        [sys.executable, "-m", "tests.strangers.lacking"],
        input=given,
        capture_output=True,
        text=True,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
    )
    assert not done.returncode, done.stderr
    lines = [Told(**json.loads(line)) for line in done.stdout.splitlines()]
    return dict(zip(COMMANDS, lines, strict=True)).__getitem__


@pytest.mark.parametrize("command", WORK)
def test_a_command_works(told: Callable[[str], Told], command: str) -> None:
    assert told(command).status == 0, told(command)
    assert WORK[command] in told(command).out


@pytest.mark.parametrize("command", REFUSED)
def test_what_cannot_be_read_is_a_sentence(told: Callable[[str], Told], command: str) -> None:
    assert told(command).status == 2, told(command)
    assert REFUSED[command] in told(command).err


def test_nothing_of_unix_is_left_in_the_process() -> None:
    hidden = "import fcntl", "import os; os.killpg", "import signal; signal.SIGKILL"
    for line in hidden:
        run = f"from tests.strangers.lacking import hide; hide(); {line}"
        done = subprocess.run([sys.executable, "-c", run], capture_output=True, text=True)
        assert done.returncode == 1
        assert (
            done.stderr.rstrip()
            .rpartition("\n")[2]
            .startswith(("ModuleNotFoundError", "ImportError", "AttributeError"))
        )
