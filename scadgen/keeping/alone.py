"""One writer at a time in a folder, so that its files are all of one writing.

The folder itself is locked, with nothing put into it; a writer that ends in whatever way lets go.
Where the system locks no folders (Windows, some network disks) writers are not kept apart: each
file is whole even then.
"""

from __future__ import annotations

import errno
import os
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

#: How long a writer waits for another one, s, and how long between two looks.
PATIENCE, LOOK = 20.0, 0.01
#: What a lock says that somebody else has.
_TAKEN = (errno.EWOULDBLOCK, errno.EACCES)


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Keep other writers out of a folder, which is there, while this is at work.

    Raises OSError where another one does not let go.
    """
    with ExitStack() as held:
        if fcntl is not None:
            with suppress(PermissionError):  # who may not look into it may still write into it
                handle = os.open(folder, os.O_RDONLY)
                held.callback(os.close, handle)
                _lock(handle)
        yield


def _lock(handle: int) -> None:
    late = time.monotonic() + PATIENCE
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            if error.errno not in _TAKEN:  # there are no locks here
                return
            if time.monotonic() > late:
                words = "another program writes there, and does not end"
                raise OSError(errno.EBUSY, words) from None
        else:
            return
        time.sleep(LOOK)
