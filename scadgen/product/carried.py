"""What a product's 3MF carries, so that it is proven from it anew; and the reading of it.

The product's file goes in as it is, and every body that is a file as the mesh that was read for it:
of an OpenSCAD module what the program drew. So nothing that a stranger wrote is run.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.inspection.carried import Again, NotThereError, Reader, named_file
from scadgen.jobs.written import printing
from scadgen.meshfiles.carried import (
    LARGEST,
    LARGEST_BODY,
    MOST_BODIES,
    PRODUCT,
    MeshFile,
    NotBelievedError,
    Proof,
)
from scadgen.product.bodies import Model
from scadgen.product.building import mechanism, settled
from scadgen.product.proving import check_product
from scadgen.product.reading import read_product
from scadgen.tables.documents import JobError, parsed
from scadgen.text.quoting import shortened

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.model import Product


def printing_of(product: Product) -> dict[str, Any]:
    """For which printers a product asks, in plain data."""
    return printing(
        product.layer_heights, product.line_width, product.longest_bridge, product.population
    )


def made(whole: Mechanism) -> dict[str, Manifold]:
    """The pieces of a product as its 3MF holds them (mm), by their titles."""
    return {piece.title: piece.solid for piece in whole.pieces}


def given(product: Product) -> tuple[str, dict[str, MeshFile]]:
    """The file of a product, and its bodies that are files, by the names that it gives them.

    "" and none where nobody else could read it: one that was made in Python, or changed there, or
    that names a fleet or a plastic of its own, or has too many such bodies.
    """
    data = product.source.encode()
    if not data or len(data) > LARGEST or named_file(parsed(data)):
        return "", {}
    bodies = _files(product)
    return ("", {}) if len(bodies) > MOST_BODIES else (product.source, bodies)


def _files(product: Product) -> dict[str, MeshFile]:
    found: dict[str, MeshFile] = {}
    for name, form in product.bodies.items():
        file = None if form.like in found else form.mesh_file()
        if file is not None:
            kind, data = file
            found[form.like or name] = MeshFile(kind, data if len(data) <= LARGEST_BODY else None)
    return found


def product_again(proof: Proof) -> Again:
    """The product of a proof. It names what is built in and bodies beside it, and no other file."""
    text = proof.texts[PRODUCT]
    try:
        document = parsed(text.encode())
        named = named_file(document)
        if named:
            raise NotBelievedError(f"the product in it names a file ({named})")
        with tempfile.TemporaryDirectory(prefix="scadgen-") as folder:
            told = {**document, "bodies": dict(_put(document, proof, Path(folder)))}
            product = read_product(told, Path(folder))
            for form in product.bodies.values():  # read while the files are there
                _ = form.solid
        settled(product)
        whole = mechanism(product)
    except JobError as error:
        raise NotBelievedError(f"the product in it is none: {shortened(error.words)}") from None

    def hashed() -> str:
        from scadgen.meshfiles.stamping import made_of

        return made_of(made(whole))

    return Again(
        "product",
        printing_of(product),
        hashed,
        lambda say: check_product(product, say, whole).verdict,
    )


def _put(document: Mapping[str, Any], proof: Proof, folder: Path) -> Iterator[tuple[str, Any]]:
    """The bodies of a document: those that are files are written into a folder, numbered."""
    tables = document.get("bodies")
    for name, table in tables.items() if isinstance(tables, dict) else ():
        if not isinstance(table, dict) or "file" not in table:
            yield name, table
            continue
        file = proof.bodies.get(name)
        if file is None:
            raise NotBelievedError(f"the body {shortened(name)} of the product in it is missing")
        if file.data is None:
            raise NotThereError(f"Its body {shortened(name)} is too large to be carried")
        path = folder / f"{len(list(folder.iterdir()))}{file.kind}"
        path.write_bytes(file.data)
        own = {key: value for key, value in table.items() if key != "module"}
        yield name, own | {"form": Model.word, "file": path.name}


#: What reads products that a 3MF carries, for ``inspect``.
READERS: Mapping[str, Reader] = {PRODUCT: product_again}
