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
from pathlib import Path

from scadgen.tables.documents import JobError
from scadgen.tables.hints import closest, instead
from scadgen.text.quoting import scad_string

#: How long OpenSCAD may take, seconds.
TIME_LIMIT = 300.0

_NAME = re.compile(r"\$?[A-Za-z][A-Za-z0-9_]*")
_ASSIGNED = re.compile(r"^[ \t]*(\$?[A-Za-z]\w*)[ \t]*=[^=]", re.MULTILINE)
_ERROR = re.compile(r"^(?:ERROR|Parser error)\b.*", re.MULTILINE)


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


@contextmanager
def rendered(path: Path, values: Mapping[str, str], time_limit: float) -> Iterator[Path]:
    """An STL of what OpenSCAD draws from ``path``; it is gone afterwards.

    ``values`` override assignments of the file. ``time_limit`` is in seconds. Raises JobError
    (without the path) when OpenSCAD is not there, fails, draws nothing or takes too long.
    """
    if not (math.isfinite(time_limit) and time_limit > 0):
        raise JobError(f"time_limit = {time_limit:g} s; it must be above 0. This works: 300.")
    try:
        text = path.read_text(encoding="utf-8", errors="replace")
    except OSError as error:
        raise JobError(f"cannot be read: {error.strerror or error}.") from None
    if not text.strip():
        raise JobError("the file is empty.")
    _refuse_unknown(text, values)
    with tempfile.TemporaryDirectory(prefix="scadgen-") as folder:
        output = Path(folder) / "out.stl"
        command = [_program(), "-o", str(output)]
        for name, value in values.items():
            command += ["-D", f"{name}={value}"]
        code, messages = _run([*command, str(path.resolve())], time_limit)
        if code or not output.exists() or not output.stat().st_size:
            raise JobError(_failed(code, messages))
        yield output


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


def _run(command: Sequence[str], time_limit: float) -> tuple[int, str]:
    """Exit status and messages; the program and what it started end with the time limit."""
    with subprocess.Popen(  # noqa: S603 - the user's own program on the user's own file
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        start_new_session=True,
    ) as process:
        try:
            said, _ = process.communicate(timeout=time_limit)
        except BaseException as error:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            if isinstance(error, subprocess.TimeoutExpired):
                raise JobError(
                    f"OpenSCAD took longer than {time_limit:g} s. Lower the facets ($fn), or allow "
                    "more time."
                ) from None
            raise
    return process.returncode, said.decode(errors="replace")


def _failed(code: int, messages: str) -> str:
    found = _ERROR.search(messages)
    if found:
        return f"OpenSCAD refuses it: {found[0].strip()[:300]}"
    if "top level object is empty" in messages:
        return "OpenSCAD draws nothing from it: a library draws only when a module is called."
    if "not a 3D object" in messages:
        return "OpenSCAD draws only flat outlines from it; extrude them."
    last = (messages.strip().splitlines() or ["it said nothing"])[-1]
    return f"OpenSCAD wrote no solid (exit status {code}): {last[:300]}"
