"""What editors note beside a 3MF: parts that are there to be cut away, or to change settings.

Slicing programs keep such notes in files of their own in the package. A part that is no solid of
the print would be measured as one. Names of files and values: from memory.
"""

from __future__ import annotations

import re
import zipfile

from scadgen.tables.documents import JobError

NOTES = ("slic3r_pe_model.config", "slic3r_model.config", "model_settings.config")
_OTHER = re.compile(
    rb'"(NegativeVolume|ParameterModifier|SupportEnforcer|SupportBlocker|'
    rb'negative_part|modifier_part|support_enforcer|support_blocker)"'
)


def refuse_other_parts(archive: zipfile.ZipFile) -> None:
    """Raise JobError for a package that notes a part which does not print as the solid it is."""
    for name in archive.namelist():
        if name.lower().rpartition("/")[2] in NOTES:
            found = _OTHER.search(archive.read(name))
            if found:
                kind = found[1].decode()
                words = f"a part of it is noted as '{kind}': it does not print as a solid"
                raise JobError(f"{words}. Export what is printed as one mesh, as STL.")
