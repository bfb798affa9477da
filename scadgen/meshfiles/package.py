"""What a 3MF package says of itself: where its relationships lead, and that it says one thing only.

Source: ECMA-376 part 2 (open packaging: names that differ in case only are one) and 3MF core
specification 1.3 (the model that is built is where the package's relationship leads).
"""

from __future__ import annotations

import posixpath
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping
from xml.parsers import expat

from scadgen.tables.documents import JobError
from scadgen.text.quoting import visible

RELATIONSHIPS = "_rels/.rels"
#: The type of the relationship to the model that is built.
BUILDS = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"


def targets(text: bytes, kind: str, refused: type[ValueError] = ValueError) -> Iterator[str]:
    """Where relationships of a kind lead, from the package's root. Raises ``refused`` for a text
    that declares a document type: there are entities, which can make much out of little.
    """
    found: list[str] = []

    def start(name: str, attributes: Mapping[str, str]) -> None:
        if name == "Relationship" and attributes.get("Type") == kind:
            found.append(attributes.get("Target", ""))

    def doctype(*_: object) -> None:
        raise refused("its relationships declare a document type")

    parser = expat.ParserCreate()
    parser.StartElementHandler = start
    parser.StartDoctypeDeclHandler = doctype
    parser.Parse(text, True)
    return (posixpath.normpath(one).lstrip("/") for one in found)


def refuse_two_models(archive: zipfile.ZipFile, root: str) -> None:
    """Raise JobError for a package that others may read otherwise.

    It has a name twice, or leads to another model than ``root`` (in small letters).
    """
    names = Counter(name.lower().strip("/") for name in archive.namelist())
    twice = next((name for name, count in names.items() if count > 1), None)
    if twice is not None:
        words = f"'{visible(twice)[:80]}' is in it twice: which one is printed, nobody knows"
        raise JobError(f"{words}. Write it again.")
    if RELATIONSHIPS in archive.NameToInfo:
        built = next(targets(archive.read(RELATIONSHIPS), BUILDS), root)
        if built.lower() != root:
            raise JobError(
                f"its model is '{visible(built)[:80]}', and not 3D/3dmodel.model, which is read."
            )
