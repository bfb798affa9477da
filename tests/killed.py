"""Writers to be killed: ``python -m tests.killed FOLDER``.

For each line that it reads it starts a process that writes, prints its number, waits for its end
and prints the status. With a number on the line, the writer kills itself as it comes to so many
operations on files; with none, it writes without end.
"""

from __future__ import annotations

import itertools
import os
import signal
import sys
import time
from pathlib import Path

from scadgen.keeping.edits import write_keeping
from scadgen.keeping.fingerprint import sealed

LINES = 5_000
MESH = 150_000  # lines in the mesh, so that kills come in the middle of writing it
#: Appears in the folder above if a writer ever takes its own file for an edited one.
FAULT = "fault"


def files(version: int) -> dict[str, bytes]:
    """What is written: a text, a mesh and a report, each filled with the number of the version."""
    line = f"// {version}\n"
    text = sealed(line, line * LINES, "// ").encode()
    return {"lid.scad": text, "lid.stl": b"\0" + f"{version}\n".encode() * MESH, "lid.txt": text}


def write(folder: Path, version: int) -> None:
    if write_keeping(folder, files(version)).kept:
        (folder.parent / FAULT).touch()


def kill_at(operation: int) -> None:
    """Let this process kill itself just before an operation on files, counted from 1."""
    count = itertools.count(1)

    def hook(event: str, _: object) -> None:
        if event.startswith(("open", "os.", "shutil.")) and next(count) == operation:
            os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(hook)


if __name__ == "__main__":
    for asked in sys.stdin:
        writer = os.fork()
        if writer == 0 and asked.strip():
            kill_at(int(asked))
            write(Path(sys.argv[1]), time.monotonic_ns())
            os._exit(0)
        elif writer == 0:
            for version in itertools.count(time.monotonic_ns()):
                write(Path(sys.argv[1]), version)
        print(writer, flush=True)
        print(os.waitpid(writer, 0)[1], flush=True)
