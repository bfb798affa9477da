"""The files of a product: the model, the modules that it uses, meshes and the report."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.findings.page import page
from scadgen.handover.carrying import CALL, REPORT, judged, with_metadata
from scadgen.handover.small_parts import may_be_small_part
from scadgen.keeping.fingerprint import sealed
from scadgen.meshfiles.carried import PRODUCT, Proof
from scadgen.meshfiles.writing import stl, three_mf
from scadgen.openscad.emitter import CAUTION, emit
from scadgen.product.bodies import Model
from scadgen.product.carried import given, made, printing_of
from scadgen.product.choosing import choices
from scadgen.product.drawing import draw, mesh_name
from scadgen.product.modules import own_files
from scadgen.text.quoting import plain, visible
from scadgen.text.typeset import typeset
from scadgen.trees.to_scad import INDENT, WIDTH
from scadgen.version import VERSION

if TYPE_CHECKING:
    from scadgen.product.model import Product
    from scadgen.product.proving import Proven


def product_file_names(product: Product) -> list[str]:
    """The names of the files that a product gives."""
    families = sorted({fitted.hinge.family for fitted in product.merged})
    meshes = [mesh_name(product, name) for name, form in product.bodies.items() if _is_mesh(form)]
    own = (f"{product.name}{kind}" for kind in (".scad", ".stl", ".3mf", ".txt"))
    called = own_files(product, Path())
    return [*(f"{family}.scad" for family in families), *own, *meshes, *called]


def product_files(proven: Proven, folder: Path) -> dict[str, bytes]:
    """The files of a product by name, to be written into ``folder``; the same gives the same.

    Texts hold the fingerprint by which an edit is noticed.
    """
    from manifold3d import Manifold

    product, whole = proven.product, proven.whole
    classes = {fitted.hinge.family: type(fitted.hinge) for fitted in product.merged}
    solids = made(whole)
    title = plain(product.title) or product.name
    texts = {f"{family}.scad": emit(classes[family]()) for family in sorted(classes)}
    model = draw(product, folder)
    report = sealed("".join(f"{line}\n" for line in _report(proven)), "")
    proof = _proof(proven, {**texts, CALL: model, REPORT: report})
    data = [
        *(text.encode() for text in (*texts.values(), model)),
        stl(Manifold.compose(list(solids.values()))),
        three_mf(product.name, title, solids, proof),
        report.encode(),
        *(stl(form.solid) for form in product.bodies.values() if _is_mesh(form)),
        *(text.encode() for text in own_files(product, folder).values()),
    ]
    return dict(zip(product_file_names(product), data, strict=True))


def _proof(proven: Proven, texts: Mapping[str, str]) -> Proof:
    """What the product's 3MF carries: with its file and its bodies it is proven from it anew."""
    product = proven.product
    printed, (told, bodies) = printing_of(product), given(product)
    facts = {"name": visible(product.name), **judged(proven.verdict), "printing": printed}
    own = {PRODUCT: told} if told else {}
    return Proof(with_metadata(facts), {**texts, **own}, bodies)


def _is_mesh(form: object) -> bool:
    return isinstance(form, Model)


def _report(proven: Proven) -> Iterator[str]:
    product = proven.product
    yield from _wrapped(plain(product.title) or product.name)
    yield from _wrapped(plain(product.note))
    yield ""
    for line in page(proven.verdict):
        yield from _wrapped(typeset(line.text), 5)
    yield ""
    yield from (line for words in choices(product) for line in _wrapped(words, 6))
    yield from _wrapped(small_parts(proven))
    yield from (line for words in CAUTION for line in _wrapped(words))
    heights = ", ".join(f"{height:g}" for height in product.layer_heights)
    yield from ("", f"Layer heights: {heights} mm. Written by scadgen {VERSION}.")


def small_parts(proven: Proven) -> str:
    """Which pieces may be small parts, in a sentence."""
    small = [piece.said for piece in proven.whole.pieces if may_be_small_part(piece.solid)]
    cylinder = "the small-parts cylinder (16 CFR 1501.4, EN 71-1, ISO 8124-1)"
    broken = "A piece that breaks off may be a small part too."
    if small:
        return (
            f"By itself {' or '.join(small)} may be a small part: it may fit {cylinder}. {broken}"
        )
    return f"No piece by itself fits {cylinder}. {broken}"


def _wrapped(text: str, hanging: int = len(INDENT)) -> list[str]:
    return textwrap.wrap(text, WIDTH - len("// "), subsequent_indent=" " * hanging)
