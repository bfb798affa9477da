"""What a program may take while it works on a file that a stranger may have written."""

from __future__ import annotations

import math
import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scadgen.openscad.userlibrary import user_folder
from scadgen.tables.documents import JobError

#: How long OpenSCAD may take, seconds; its memory, GB; what it writes, GB.
TIME_LIMIT, MEMORY, OUTPUT = 300.0, 6.0, 0.6
#: The most of each that may be asked for; a system cannot be told to wait much longer.
MOST = 1e6
GIGABYTE = 10**9
#: What of the environment a program is given: what it needs to start, nothing else.
_NEEDED = ("PATH", "HOME", "LANG", "LC_ALL", "TMPDIR", "LD_LIBRARY_PATH", "OPENSCADPATH")
_WINDOWS = ("SYSTEMROOT", "TEMP", "TMP", "USERPROFILE", "APPDATA", "LOCALAPPDATA")
#: One name of a file in a list of what a program has read, blanks and signs escaped.
_NAME = re.compile(r"(?:\\.|[^\\\s])+")


@dataclass(frozen=True)
class Bounds:
    """What OpenSCAD may take for one file.

    seconds: its time. memory: its address space, GB. output: the size of a file that it writes,
    GB; both are kept where the system can (Linux). folders: whose files it may read besides those
    below the file's own folder and the folders of libraries.
    """

    seconds: float = TIME_LIMIT
    memory: float = MEMORY
    output: float = OUTPUT
    folders: Sequence[Path] = ()

    def __post_init__(self) -> None:
        """Raises JobError for a bound that allows nothing, and a folder that is none."""
        asked = (
            ("time_limit", self.seconds, "s", TIME_LIMIT),
            ("memory", self.memory, "GB", MEMORY),
            ("output", self.output, "GB", OUTPUT),
        )
        for name, value, unit, works in asked:
            if not 0 < value <= MOST:
                nearest = MOST if value > MOST else works
                rule = f"it must be above 0 and at most {MOST:.0f}"
                raise JobError(f"{name} = {value:g} {unit}; {rule}. This works: {nearest:.10g}.")
        for folder in self.folders:
            if not folder.is_dir():
                raise JobError(f"allowed folder {folder}: there is no such folder.")

    def hold(self, process: int) -> None:
        """Keep a process that has just started, and what it starts, to memory, output and time.

        What it was given before, by the user's own limits, is never made more. Its processor time
        is what all processors may do in ``seconds``: whoever waits for it ends it before that, and
        one that nobody waits for any more ends by itself.
        """
        try:
            from resource import RLIMIT_AS, RLIMIT_CORE, RLIMIT_CPU, RLIMIT_FSIZE, prlimit
        except ImportError:  # only Linux has all of them
            return
        for kind, most in (
            (RLIMIT_AS, self.memory * GIGABYTE),
            (RLIMIT_FSIZE, self.output * GIGABYTE),
            (RLIMIT_CPU, max(1, self.seconds) * (os.cpu_count() or 1)),
            (RLIMIT_CORE, 0),
        ):
            least = _least(most, *prlimit(process, kind))
            prlimit(process, kind, (least, least))

    @property
    def room(self) -> float:
        """The address space, GB, that a program has: ``memory``, or what this process may have."""
        try:
            from resource import RLIMIT_AS, getrlimit
        except ImportError:
            return self.memory
        return _least(self.memory * GIGABYTE, *getrlimit(RLIMIT_AS)) / GIGABYTE


def _least(most: float, *given: int) -> int:
    """The least of limits, of which a negative one is none."""
    return math.ceil(min([most, *(limit for limit in given if limit >= 0)]))


def environment(given: Mapping[str, str] = os.environ) -> dict[str, str]:
    """What of the user's environment a program is told: where it finds what it needs to start."""
    return {name: given[name] for name in (*_NEEDED, *_WINDOWS) if name in given}


def files_read(rule: str) -> list[Path]:
    """The files that a program has read, out of the rule for make that it writes of them."""
    _, _, names = rule.partition(":")
    found = _NAME.findall(names.replace("\\\n", " "))
    return [Path(re.sub(r"\\(.)", r"\1", name)) for name in found]


def refuse_strangers(read: Sequence[Path], path: Path, program: Path, bounds: Bounds) -> list[Path]:
    """The files, besides ``path``, that were read for it; as they are reached without links.

    Raises JobError for one that stands neither below the folder of ``path``, nor below a folder
    that is allowed or one of OpenSCAD's libraries.
    """
    own = path.resolve().parent
    allowed = [own, *(one.resolve() for one in (*bounds.folders, *_libraries(program)))]
    others = sorted({(own / one).resolve() for one in read} - {path.resolve()})
    for one in others:
        if not any(one.is_relative_to(folder) for folder in allowed):
            raise JobError(
                f"it reads {one}, which is outside its own folder {own}. If you trust the file, "
                f"allow the folder {one.parent}."
            )
    return others


def _libraries(program: Path) -> list[Path]:
    """Folders of libraries: the user's, and the program's own (as its packages place them)."""
    top = program.resolve().parent.parent
    named = os.environ.get("OPENSCADPATH", "").split(os.pathsep)
    own = [*top.glob("share/openscad*/libraries"), top / "Resources" / "libraries"]
    beside = program.resolve().parent / "libraries"
    return [user_folder(), *map(Path, filter(None, named)), *own, beside]
