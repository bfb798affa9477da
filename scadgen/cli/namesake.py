"""An unrelated distribution of the package index has a package of this one's name, too.

Where both are installed into one folder their files replace each other, and whichever is removed
takes files of the other along: nothing that then runs can be trusted.
"""

from __future__ import annotations

import os

from scadgen.tables.documents import JobError

#: How folders begin in which pip keeps what it knows of the other distribution.
_OTHER = "scadgen-"
_KNOWN = (".dist-info", ".egg-info")


def refuse_namesake(package: str) -> None:
    """Raise JobError where the other distribution stands beside ``package``, the folder of ours."""
    beside = os.path.dirname(os.path.abspath(package))  # noqa: PTH100, PTH120 - pathlib is slow
    names = (entry.name for entry in os.scandir(beside))
    found = [name for name in names if name.startswith(_OTHER) and name.endswith(_KNOWN)]
    if found:
        name = found[0].rpartition(".")[0]
        raise JobError(
            f"an unrelated package of the same name ({name}) is installed in {beside}, too: the "
            "files of both replace each other. Take both away (pip uninstall scadgen "
            "scadgen-hinges), and install scadgen-hinges into an environment of its own."
        )
