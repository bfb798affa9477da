"""The second process of ``ahead``: it lays the layers of a file and sends them on, pickled."""

from __future__ import annotations

import contextlib
import os
import pickle
import signal
import sys
from dataclasses import fields
from pathlib import Path
from typing import IO

from scadgen.tables.documents import JobError
from scadgen.toolpaths.ahead import laid_here
from scadgen.toolpaths.lines import Laid


def send(path: Path, filament: float | None, pipe: IO[bytes]) -> None:
    """Each layer with the outlines of its slabs; or in the end a sentence, where it is refused."""
    try:
        for laid, layer in laid_here(path, filament):
            outlines = [slab.area.to_polygons() for slab in layer]
            bare = Laid(**{field.name: getattr(laid, field.name) for field in fields(Laid)})
            pickle.dump((bare, outlines), pipe, pickle.HIGHEST_PROTOCOL)
    except JobError as error:
        pickle.dump(str(error), pipe)


def main() -> None:
    """Send the layers of a file to standard output."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who began this ends it
    path, filament = Path(sys.argv[1]), float(sys.argv[2])
    with contextlib.suppress(BrokenPipeError):  # nobody wants more
        send(path, filament or None, sys.stdout.buffer)
        sys.stdout.flush()
    os._exit(0)


if __name__ == "__main__":
    main()
