"""Running the real OpenSCAD, and reading what it made."""

from __future__ import annotations

import functools
import os
import re
import shutil
import subprocess
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from scadgen import emit
from scadgen.hinge.family import Hinge
from scadgen.openscad.settings import emit_customizer
from scadgen.text.quoting import scad_string
from scadgen.trees.to_scad import number

if TYPE_CHECKING:
    from trimesh import Trimesh

_TROUBLE = re.compile(r"^(WARNING|ERROR|DEPRECATED|TRACE)\b.*", re.MULTILINE)
_REFUSED = re.compile(r'^ERROR: Assertion .*? failed: "(.*)" in file ', re.MULTILINE)


#: A third of the time of its exact arithmetic goes into asking for memory and giving it back: the
#: C library keeps more small pieces at hand than it does by itself. Others do not read this.
QUICK = {"GLIBC_TUNABLES": "glibc.malloc.tcache_count=1000"}


@dataclass(frozen=True)
class Run:
    """What one run of OpenSCAD gave: exit code, messages and the mesh that it wrote."""

    code: int
    messages: str
    output: Path

    @property
    def trouble(self) -> list[str]:
        """All lines that report a warning or an error."""
        return [found[0] for found in _TROUBLE.finditer(self.messages)]

    @property
    def refusal(self) -> str | None:
        """The words of the assertion that failed."""
        found = _REFUSED.search(self.messages)
        return found[1] if found else None

    @property
    def empty(self) -> bool:
        """Whether nothing was drawn."""
        return "Current top level object is empty." in self.messages

    @functools.cached_property
    def mesh(self) -> Trimesh:
        """The mesh, after a run without any trouble; read once."""
        import trimesh

        assert (self.code, self.trouble) == (0, []), self.messages
        return trimesh.load_mesh(self.output)


def run(source: str | Path, folder: Path, *, strict: bool = True, **settings: Any) -> Run:
    """Render a file, or the text of one put into ``folder``, with ``-D`` for each of ``settings``.

    If ``strict``, the first warning ends the run.
    """
    return _run(source, folder / "out.stl", strict, settings)


def _run(source: str | Path, output: Path, strict: bool, settings: Mapping[str, Any]) -> Run:
    path = source if isinstance(source, Path) else output.with_name("main.scad")
    if isinstance(source, str):
        path.write_text(source, encoding="utf-8")
    output.unlink(missing_ok=True)
    command = [shutil.which("openscad") or "openscad", "-o", str(output)]
    command += ["--hardwarnings"] if strict else []
    for name, value in settings.items():
        command += ["-D", f"{name}={literal(value)}"]
    done = subprocess.run(
        [*command, str(path)],
        env=os.environ | QUICK,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    return Run(done.returncode, done.stdout + done.stderr, output)


def tree(source: str | Path, folder: Path, **settings: Any) -> str:
    """What OpenSCAD reckons that a file draws, to six digits: shapes and how they are moved and
    merged, without names. Files that have it in common draw the same.
    """
    made = _run(source, folder / "out.csg", True, settings)
    assert (made.code, made.trouble) == (0, []), made.messages
    return made.output.read_text(encoding="utf-8")


def shown(source: str | Path, folder: Path, **settings: Any) -> Run:
    """As :func:`run`, but that of two files with the same tree the second is not rendered.

    OpenSCAD reads it all the same, which takes a tenth of the time or less.
    """
    read = _run(source, folder / "out.csg", True, settings)
    if read.code or read.trouble or not read.output.exists():
        return run(source, folder, **settings)
    text = read.output.read_text(encoding="utf-8")
    if text not in _RENDERED:
        made = run(source, folder, **settings)
        if made.code or made.trouble or not made.output.exists():
            return made
        _RENDERED[text] = made.output.read_bytes()
    output = folder / "out.stl"
    output.write_bytes(_RENDERED[text])
    return Run(read.code, read.messages, output)


def echoed(source: str, folder: Path) -> str:
    """All that a text's statements say, and warnings; nothing is rendered."""
    made = _run(source, folder / "out.echo", False, {})
    assert made.code == 0, made.messages
    return made.output.read_text(encoding="utf-8")


#: Meshes by the trees that they were rendered of.
_RENDERED: dict[str, bytes] = {}


def opened(hinge: Hinge) -> str:
    """A hinge's module below the file that opens it, as one text that needs no other."""
    opens: str = emit_customizer(hinge).replace(f"use <{hinge.family}.scad>\n", "")
    return opens + str(emit(hinge))


def drawn(source: str, **settings: Any) -> Run:
    """A text that needs no other file, rendered once for all tests that ask for the same."""
    return _drawn(source, tuple(settings.items()))


@functools.cache
def _drawn(source: str, settings: tuple[tuple[str, Any], ...]) -> Run:
    folder = Path(_kept().name) / str(_drawn.cache_info().misses)
    folder.mkdir()
    return shown(source, folder, **dict(settings))


@functools.cache
def _kept() -> TemporaryDirectory[str]:
    """A folder that lasts as long as the process."""
    return TemporaryDirectory()


def literal(value: Any) -> str:
    """A number or a string as OpenSCAD source."""
    return scad_string(value) if isinstance(value, str) else number(value)
