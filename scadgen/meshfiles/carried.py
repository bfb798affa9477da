"""A proof that a 3MF carries: what was proven of its very triangles, and the texts beside it.

A relationship of the package leads to ``proof.json``, which tells the verdict, the printers that it
holds for, a hash of the geometry, and one of each text and of each body's file beside it. It is no
signature: anybody can write one. It tells whether a file is still what was proven, and from what to
prove it anew.

Source: ECMA-376 part 2 (open packaging: relationships, content types) and 3MF core specification
1.3 (metadata of other namespaces, "preserve", the relationship "mustpreserve"); from memory, the
name of the last one looked up.
"""

from __future__ import annotations

import hashlib
import json
import posixpath
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any

from scadgen.keeping.fingerprint import is_as_written, sealed_json
from scadgen.meshfiles.package import RELATIONSHIPS, targets
from scadgen.version import VERSION

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Of the form of ``proof.json``: it grows when what is in it changes its meaning.
FORM = 1
FOLDER = "Metadata/scadgen"
PROOF = f"{FOLDER}/proof.json"
#: The names of the texts that are the job, or the product.
JOB, PRODUCT = "job.toml", "product.toml"
#: Types of relationships: to the proof, from the proof to its texts, and to what editors keep.
CARRIES, BESIDE = "urn:scadgen:3mf:proof", "urn:scadgen:3mf:text"
KEPT = "http://schemas.openxmlformats.org/package/2006/relationships/mustpreserve"
NAMESPACE = "urn:scadgen:3mf"
#: Largest text that is read, bytes, and most of them.
LARGEST, MOST = 1_000_000, 16
#: The same of files of bodies, and what they may be.
LARGEST_BODY, MOST_BODIES = 10_000_000, 16
KINDS = {".stl": "model/stl", ".3mf": "model/3mf", ".obj": "model/obj"}
#: To this, mm, corners are told apart: as finely as they are written.
GRAIN = 1e-5
_DIGEST = 32


@dataclass(frozen=True)
class MeshFile:
    """A body as a file: the ending of its name, and its bytes, None where they are too many."""

    kind: str
    data: bytes | None


@dataclass(frozen=True)
class Proof:
    """facts: what was proven and for what, plain data. texts: by name what belongs to it. bodies:
    by name those that were files.
    """

    facts: Mapping[str, Any]
    texts: Mapping[str, str]
    bodies: Mapping[str, MeshFile] = field(default_factory=dict)


class NotBelievedError(ValueError):
    """A proof that a file carries, and that does not hold; its words say why."""


def geometry(soup: Array) -> str:
    """A hash of loose triangles (mm), whatever their order and whichever corner is first."""
    import numpy as np

    corners = np.round(soup.reshape(-1, 3, 3) / GRAIN).astype("<i8")
    order = np.lexsort((corners[:, :, 2], corners[:, :, 1], corners[:, :, 0]), axis=1)
    turned = (order[:, :1] + np.arange(3)) % 3
    rows = np.take_along_axis(corners, turned[:, :, None], axis=1).reshape(-1, 9)
    rows = rows[np.lexsort(rows.T[::-1])]
    return hashlib.sha256(rows.tobytes()).hexdigest()[:_DIGEST]


def proof_json(proof: Proof, made: str) -> str:
    """The file that tells a proof of the geometry with that hash."""
    told = {"form": FORM, "written_by": f"scadgen {VERSION}", **proof.facts, "geometry": made}
    texts = {name: hashed(text) for name, text in proof.texts.items()}
    bodies = {name: body_fact(name, file) for name, file in proof.bodies.items()}
    return sealed_json(told | {"texts": texts} | ({"bodies": bodies} if bodies else {}))


def body_fact(name: str, file: MeshFile) -> dict[str, str]:
    """Where the file of a body is, and its hash: empty where it is not there."""
    if file.data is None:
        return {"file": "", "hash": ""}
    return {"file": f"body_{name}{file.kind}", "hash": hashed(file.data)}


def hashed(text: str | bytes) -> str:
    """What tells whether a text or a file is still the same."""
    data = text.encode(errors="surrogatepass") if isinstance(text, str) else text
    return hashlib.sha256(data).hexdigest()[:_DIGEST]


def carried(path: Path) -> Proof | None:
    """The proof that a 3MF carries; None where it carries none.

    Its texts are as they were written; whether the geometry is, is for the reader of the triangles
    to say. Raises NotBelievedError for a proof that is damaged, changed, too large or newer.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            where = _target(archive)
            return None if where is None else _read(archive, where)
    except NotBelievedError:
        raise
    except Exception as error:  # whatever a reader stumbles over in a damaged package
        raise NotBelievedError(f"it cannot be read ({type(error).__name__})") from None


def _read(archive: zipfile.ZipFile, where: str) -> Proof:
    text = _text(archive, where)
    facts = json.loads(text)
    if not isinstance(facts, dict) or not isinstance(facts.get("form"), int):
        raise NotBelievedError("it is not of the form that scadgen writes")
    if facts["form"] > FORM:
        writer = facts.get("written_by")
        raise NotBelievedError(
            f"it is of a newer form, written by {str(writer)[:40]}; this is {VERSION}"
        )
    if not is_as_written(text):
        raise NotBelievedError("it was changed after it was written")
    told = facts.get("texts")
    if not isinstance(told, dict) or len(told) > MOST:
        raise NotBelievedError(f"it must name its texts, {MOST} at most")
    texts = {}
    for name, mark in told.items():
        data = _beside(archive, where, name, mark, LARGEST)
        texts[name] = data.decode("utf-8")
    return Proof(facts, texts, dict(_bodies(archive, where, facts.get("bodies", {}))))


def _bodies(archive: zipfile.ZipFile, where: str, told: Any) -> Iterator[tuple[str, MeshFile]]:
    """The files of bodies. Their names are the package's: on no disk is anything called so."""
    if not isinstance(told, dict) or len(told) > MOST_BODIES:
        raise NotBelievedError(f"it must name its bodies, {MOST_BODIES} at most")
    for name, fact in told.items():
        file = fact.get("file") if isinstance(fact, dict) else None
        if not isinstance(file, str):
            raise NotBelievedError("it does not tell where a body of it is")
        if not file:
            yield name, MeshFile("", None)
            continue
        kind = PurePosixPath(file).suffix
        if kind not in KINDS:
            raise NotBelievedError("a body of it is no mesh")
        yield name, MeshFile(kind, _beside(archive, where, file, fact.get("hash"), LARGEST_BODY))


def _beside(archive: zipfile.ZipFile, where: str, name: str, mark: object, most: int) -> bytes:
    """What lies beside the proof, and is as it was written."""
    if "/" in name or "\\" in name:
        raise NotBelievedError("a text of it lies elsewhere")
    data = _part(archive, posixpath.join(posixpath.dirname(where), name), most)
    if hashed(data) != mark:
        raise NotBelievedError(f"its {name[:80]} was changed after it was written")
    return data


def _text(archive: zipfile.ZipFile, name: str) -> str:
    return _part(archive, name, LARGEST).decode("utf-8")


def _part(archive: zipfile.ZipFile, name: str, most: int) -> bytes:
    """A part of the package. However small it is packed, no more is unpacked than may be read."""
    if name not in archive.NameToInfo:
        raise NotBelievedError(f"its {posixpath.basename(name)[:80]} is missing")
    with archive.open(name) as file:
        data = file.read(most + 1)
    if len(data) > most:
        raise NotBelievedError(f"its {posixpath.basename(name)[:80]} is larger than {most:,} bytes")
    return data


def _target(archive: zipfile.ZipFile) -> str | None:
    """Where the package's relationship leads to that says that it carries a proof."""
    if RELATIONSHIPS not in archive.NameToInfo:
        return None
    text = _text(archive, RELATIONSHIPS).encode()
    return next(targets(text, CARRIES, NotBelievedError), None)
