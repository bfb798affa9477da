"""Work on what a stranger may have written, in a process of its own that is bounded.

The kernel of solids is C++: what it does cannot be interrupted, and what it breaks takes the whole
process along. So a command that reads such files runs in a child, which ends with its time.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
from collections.abc import Callable
from types import FrameType

from scadgen.cli.ending import SIGNALLED
from scadgen.openscad.bounds import Bounds
from scadgen.tables.documents import JobError

#: How long a child may take to end when it is told to, seconds: it has a program to end itself.
PATIENCE = 3.0


def apart(
    work: Callable[[], int], name: str, bounds: Bounds, less: str = "Ask for fewer facets"
) -> int:
    """The exit status of ``work``, done in a child that ends with this process.

    name: of the file, for messages. less: what to do so that it takes less. Raises JobError when
    the child takes more time or memory than it may, or breaks. Where the system cannot split a
    process (Windows) it is done here.
    """
    if "fork" not in multiprocessing.get_all_start_methods():
        return work()
    import manifold3d  # noqa: F401 - here: a child that is to end while it loads this aborts

    sys.stdout.flush()
    sys.stderr.flush()
    child = multiprocessing.get_context("fork").Process(target=_child, args=(work, bounds))
    child.start()
    try:
        child.join(bounds.seconds)
        if child.exitcode is None:
            raise JobError(
                f"{name}: it took longer than {bounds.seconds:g} s. {less}, or allow more "
                "with --time-limit."
            )
    finally:
        _end(child)
    status = child.exitcode or 0
    if status < 0:
        raise JobError(
            f"{name}: the kernel of solids broke over it ({signal.Signals(-status).name}). A mesh "
            "may be damaged: repair it in a slicer or a mesh editor. Or it needs more memory than "
            f"{bounds.room:g} GB: {less[0].lower()}{less[1:]}, or allow more with --memory."
        )
    return status


def hear_ends() -> None:
    """Let signals to end end this process by ``terminated``: asked to, or its terminal closed."""
    signal.signal(signal.SIGTERM, terminated)
    hangs_up = getattr(signal, "SIGHUP", None)  # Windows has none
    if hangs_up is not None and signal.getsignal(hangs_up) == signal.SIG_DFL:  # else: nohup
        signal.signal(hangs_up, terminated)


def terminated(number: int, frame: FrameType | None) -> None:
    """A signal to end, as an exception: so that programs end and half a file goes.

    A second one is not heard: it would break off the clearing up.
    """
    signal.signal(number, signal.SIG_IGN)
    raise SystemExit(SIGNALLED + number)


def _end(child: multiprocessing.process.BaseProcess) -> None:
    """The child ends, by itself if it can: OpenSCAD that it started ends with it."""
    if child.exitcode is None:
        child.terminate()
        child.join(PATIENCE)
    if child.exitcode is None:
        child.kill()
        child.join()


def _child(work: Callable[[], int], bounds: Bounds) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever waits for this process ends it
    hear_ends()
    bounds.hold(os.getpid())
    os._exit(work())  # without the kernel's own clearing up, which may hang
