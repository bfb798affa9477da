"""The layers of a file with the areas that they cover; those of large files by a second process.

To read lines and to lay them as areas takes about as long as to follow these. So a second process
runs ahead by as many layers as a pipe holds; memory stays flat.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import subprocess
import sys
from collections.abc import Generator
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

from scadgen.tables.documents import JobError
from scadgen.toolpaths.areas import Slab, slabs
from scadgen.toolpaths.lines import Laid
from scadgen.toolpaths.reading import laid_layers

if TYPE_CHECKING:
    import numpy

    Array = numpy.ndarray[Any, Any]

#: Files from this size on, bytes, are read by a second process where there is a second core.
LARGE = 20 << 20
#: What the second process runs.
SENDER = "scadgen.toolpaths.sending"

Layer = tuple[Laid, list[Slab]]


def laid_areas(path: Path, filament: float | None = None) -> Generator[Layer]:
    """The layers of a file from the bed up, each with what is printed of it by height.

    Raises JobError as ``laid_layers`` does.
    """
    if path.stat().st_size >= LARGE and _cores() > 1:
        with contextlib.suppress(OSError):  # no second process: then in this one
            return _received(path, _started(path, filament))
    return laid_here(path, filament)


def laid_here(path: Path, filament: float | None) -> Generator[Layer]:
    """The same, by this process."""
    for laid in laid_layers(path, filament):
        yield laid, list(slabs(laid.printed)) if len(laid.printed.width) else []


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _started(path: Path, filament: float | None) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-P", "-m", SENDER, str(path), str(filament or 0)]
    root = str(Path(__file__).parents[2])
    found = os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))
    environment = {**os.environ, "PYTHONPATH": found}
    # Nothing of the command is anybody's but ours and the file's name.
    return subprocess.Popen(command, stdout=subprocess.PIPE, env=environment)  # noqa: S603


def _received(path: Path, process: subprocess.Popen[bytes]) -> Generator[Layer]:
    """What the other process sends; it is ended if nobody wants more."""
    assert process.stdout
    try:
        while (sent := _next(process.stdout)) is not None:
            if isinstance(sent, str):
                raise JobError(sent)
            yield _layer(*sent)
        if process.wait():
            raise JobError(f"{path}: it was not read to its end.")
    finally:
        process.kill()
        process.stdout.close()
        process.wait()


def _next(pipe: IO[bytes]) -> Any:
    try:
        return pickle.load(pipe)  # noqa: S301 - our own process wrote it
    except EOFError:
        return None


def _layer(laid: Laid, outlines: list[list[Array]]) -> Layer:
    from manifold3d import CrossSection, FillRule

    layer = list(slabs(laid.printed)) if outlines else []
    for slab, some in zip(layer, outlines, strict=True):
        slab.__dict__["area"] = CrossSection(some, FillRule.Positive)
    return laid, layer
