"""Solids out of OpenSCAD files: the program renders them into a folder of its own."""

from __future__ import annotations

import math
import os
import re
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from scadgen.openscad.bounds import Bounds, environment, files_read, refuse_strangers
from scadgen.tables.documents import JobError
from scadgen.tables.hints import closest, instead
from scadgen.text.quoting import scad_string

#: Most of what OpenSCAD says that is read, bytes from the end.
_SAID = 100_000
#: Its files in the folder of its own: the solid, what it read for that, what it said.
_STL, _READ, _MESSAGES = "out.stl", "read.txt", "messages.txt"
_NAME = re.compile(r"\$?[A-Za-z][A-Za-z0-9_]*")
_ASSIGNED = re.compile(r"^[ \t]*(\$?[A-Za-z]\w*)[ \t]*=[^=]", re.MULTILINE)
_ERROR = re.compile(r"^(?:ERROR|Parser error)\b.*", re.MULTILINE)
_WARNING = re.compile(r"^(?:WARNING|DEPRECATED): *(.*)", re.MULTILINE)


def settings(given: Sequence[str]) -> dict[str, str]:
    """Values as OpenSCAD text by name, out of ``name=value``.

    A value is a finite number, true or false, or text in double quotes. Raises JobError for others.
    """
    return dict(map(_setting, given))


def _setting(given: str) -> tuple[str, str]:
    name, equals, value = (part.strip() for part in given.partition("="))
    if not equals or not _NAME.fullmatch(name):
        raise JobError(f"setting {given}; it must be name=value, such as clearance=0.4.")
    if value in ("true", "false"):
        return name, value
    if len(value) >= 2 and value[0] == value[-1] == '"':
        return name, scad_string(value[1:-1])
    try:
        number = float(value)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        hint = f"text stands in quotes: '{name}=\"{value}\"'"
        raise JobError(f"setting {given}; the value must be a number, true or false; {hint}.")
    return name, repr(number)


@dataclass(frozen=True)
class Drawing:
    """What OpenSCAD drew: an STL, the files that it read besides the one given, its warnings."""

    stl: Path
    read: Sequence[Path]
    warnings: Sequence[str]


@contextmanager
def rendered(
    path: Path, values: Mapping[str, str], bounds: Bounds | None = None
) -> Iterator[Drawing]:
    """What OpenSCAD draws from ``path``; it is gone afterwards.

    ``values`` override assignments of the file. ``bounds``: what it may take, and read; a file
    may come from a stranger. Raises JobError (without the path) when OpenSCAD is not there, fails,
    leaves a part out, draws nothing, takes too much, or has read what it must not: then nothing of
    it is used.
    """
    bounds = bounds or Bounds()
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except OSError as error:
        raise JobError(f"cannot be read: {error.strerror or error}.") from None
    if not text.strip():
        raise JobError("the file is empty.")
    _refuse_unknown(text, values)
    program = _program()
    with tempfile.TemporaryDirectory(prefix="scadgen-") as name:
        folder = Path(name)
        command = [program, "-o", str(folder / _STL), "-d", str(folder / _READ)]
        for name, value in values.items():
            command += ["-D", f"{name}={value}"]
        code, messages = _run([*command, str(path.resolve())], folder, bounds)
        others = refuse_strangers(_files_read(folder), path, Path(program), bounds)
        stl = folder / _STL
        warnings = list(dict.fromkeys(_WARNING.findall(messages)))
        if code or _ERROR.search(messages) or not stl.exists() or not stl.stat().st_size:
            raise JobError(_failed(code, messages, bounds))
        yield Drawing(stl, others, warnings)


def _files_read(folder: Path) -> list[Path]:
    """What was read; nothing if OpenSCAD stopped before it could say so."""
    told = folder / _READ
    return files_read(told.read_text("utf-8", "replace")) if told.exists() else []


def _program() -> str:
    named = os.environ.get("OPENSCAD")
    found = shutil.which(named or "openscad")
    if found:
        return found
    if named:
        raise JobError(f"the variable OPENSCAD names {named}, which is no program that runs.")
    raise JobError(
        "OpenSCAD renders it, and is not to be found. Install it so that 'openscad' is on the "
        "PATH, name it by the variable OPENSCAD, or export an STL and inspect that."
    )


def _refuse_unknown(text: str, values: Mapping[str, str]) -> None:
    """OpenSCAD ignores a name that it doesn't know, so that a slip would go unnoticed."""
    known = sorted(set(_ASSIGNED.findall(text)))
    if re.search(r"^\s*include\s*<", text, re.MULTILINE):
        return
    for name in values:
        if name not in known and not name.startswith("$"):
            hint = instead(closest(name, known), known)
            raise JobError(f"setting {name}; the file assigns no {name}; {hint}")


def _run(command: Sequence[str], folder: Path, bounds: Bounds) -> tuple[int, str]:
    """Exit status and last messages; the program and what it started end with the time limit."""
    with (folder / _MESSAGES).open("w+b") as said:
        with subprocess.Popen(  # noqa: S603 - the user's own program on a file that is bounded
            command,
            stdin=subprocess.DEVNULL,
            stdout=said,
            stderr=subprocess.STDOUT,
            start_new_session=True,
            env=environment(),
        ) as process:
            try:
                bounds.hold(process.pid)
                process.wait(bounds.seconds)
            except BaseException as error:
                _kill(process)
                process.wait()
                if isinstance(error, subprocess.TimeoutExpired):
                    raise JobError(
                        f"OpenSCAD took longer than {bounds.seconds:g} s. Lower the facets ($fn), "
                        "or allow more time."
                    ) from None
                raise
        said.seek(max(0, said.seek(0, os.SEEK_END) - _SAID))
        return process.returncode, said.read().decode(errors="replace")


def _kill(process: subprocess.Popen[bytes]) -> None:
    """End it, and what it started; where the system has no groups of processes (Windows), it."""
    if hasattr(os, "killpg"):
        os.killpg(process.pid, signal.SIGKILL)
    else:
        process.kill()


def _failed(code: int, messages: str, bounds: Bounds) -> str:
    if code < 0 and signal.Signals(-code).name == "SIGXFSZ":
        return f"OpenSCAD writes more than {bounds.output:g} GB for it. Lower the facets ($fn)."
    if "bad_alloc" in messages or "Out of memory" in messages:
        return (
            f"OpenSCAD needs more than {bounds.room:g} GB of memory for it. Lower the facets "
            "($fn), or allow more memory."
        )
    found = _ERROR.search(messages)
    if found:
        return f"OpenSCAD refuses it: {found[0].strip()[:300]}"
    if "top level object is empty" in messages:
        return "OpenSCAD draws nothing from it: a library draws only when a module is called."
    if "not a 3D object" in messages:
        return "OpenSCAD draws only flat outlines from it; extrude them."
    last = (messages.strip().splitlines() or ["it said nothing"])[-1]
    return f"OpenSCAD wrote no solid (exit status {code}): {last[:300]}"
