"""Names of products, bodies and joints: they become names of files, modules and variables."""

from __future__ import annotations

import re

from scadgen.hinge.family import all_families
from scadgen.keeping.names import is_device
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml

#: Longest name, in characters.
LONGEST = 48
#: What a name is made of, as a regular expression.
PATTERN = rf"[A-Za-z][A-Za-z0-9_]{{0,{LONGEST - 1}}}"
_NAME = re.compile(PATTERN)


def refuse_name(key: str, name: str) -> None:
    """Raise JobError, naming ``key``, for what can be no name of a file and of a module."""
    taken = name.lower() in all_families() or is_device(name)
    if _NAME.fullmatch(name) and not taken:
        return
    close = re.sub(r"[^A-Za-z0-9]+", "_", name).strip("_")[:LONGEST] or "part"
    works = f"my_{close}" if taken or not _NAME.fullmatch(close) else close
    rule = f"it must be at most {LONGEST} letters, digits and '_', a letter first, and no family"
    raise JobError(f"{key}: {toml(name)}; {rule}. This works: {works}.", key)
