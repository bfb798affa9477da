"""A 3MF with its proof put into it: further parts, and what its model tells of them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import TYPE_CHECKING

from scadgen.meshfiles.carried import (
    BESIDE,
    CARRIES,
    FOLDER,
    KEPT,
    KINDS,
    NAMESPACE,
    PROOF,
    Proof,
    body_fact,
    geometry,
    proof_json,
)
from scadgen.meshfiles.writing import (
    CONTENT_TYPES,
    LEADS,
    RELATIONS,
    TYPES,
    content_types,
    relations,
    three_mf,
)
from scadgen.text.quoting import xml

if TYPE_CHECKING:
    from manifold3d import Manifold

#: What the texts of a proof are, by the endings of their names.
TEXTS = {
    "json": "application/json",
    "scad": "application/x-openscad",
    "toml": "application/toml",
    "txt": "text/plain",
}


def proof_parts(package: bytes, proof: Proof) -> tuple[dict[str, str | bytes], str]:
    """All parts of the package but its model, by path, and the hash of its geometry."""
    made = read_back(package)
    texts = {f"{FOLDER}/{name}": text for name, text in proof.texts.items()}
    bodies = {
        f"{FOLDER}/{body_fact(name, file)['file']}": file
        for name, file in proof.bodies.items()
        if file.data is not None
    }
    types = {file.kind[1:]: KINDS[file.kind] for file in bodies.values()}
    kept = [(KEPT, f"/{path}") for path in (PROOF, *texts, *bodies)]
    beside = [(BESIDE, f"/{path}") for path in (*texts, *bodies)]
    folder, _, name = PROOF.rpartition("/")
    return {
        CONTENT_TYPES: content_types(TYPES | TEXTS | types),
        RELATIONS: relations([*LEADS, (CARRIES, f"/{PROOF}"), *kept]),
        PROOF: proof_json(proof, made),
        f"{folder}/_rels/{name}.rels": relations(beside),
        **texts,
        **{path: file.data or b"" for path, file in bodies.items()},
    }, made


def made_of(bodies: Mapping[str, Manifold]) -> str:
    """The hash of bodies as a 3MF of them holds them."""
    return read_back(three_mf("", "", bodies))


def read_back(package: bytes) -> str:
    """The hash of the geometry that a reader finds in a package."""
    import numpy as np

    from scadgen.meshfiles.three_mf import placed

    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        return geometry(np.concatenate(list(placed(archive))))


def stamped(proof: Proof, made: str) -> tuple[str, str]:
    """What the model says of its proof: its namespace, and its metadata."""
    told = {**proof.facts.get("metadata", {}), "Geometry": made}
    rows = (
        f'<metadata name="p:{name}" preserve="1">{xml(str(value))}</metadata>\n'
        for name, value in told.items()
    )
    return f' xmlns:p="{NAMESPACE}"', "".join(rows)
