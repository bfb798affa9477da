"""Products in the gallery: pictures of them as they print, half open and shut, and what is proven.

Their files are written by hand, right in the gallery's folder.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.findings.page import summary
from scadgen.gallery.manifest import hashed, made_of, sources_of
from scadgen.pictures.sides import Sides
from scadgen.tables.documents import JobError
from scadgen.text.quoting import plain

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.findings.finding import Verdict
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.model import Product

#: How the name of a product's file ends.
ENDING = "_product.toml"
#: What the pictures show, in words, and how far on its turn the first joint is.
VIEWS = {"printed": ("as it prints", 0.0), "half": ("half open", 0.5), "shut": ("shut", 1.0)}
#: Modules below scadgen that decide what is told and drawn of a product.
MODULES = ("gallery.products", "product.proving", "product.reading", "pictures.stills")


@dataclass(frozen=True)
class ProductCard:
    """What the gallery tells of a product.

    file: of the product, in the gallery's folder. families: of its joints and catches. said: the
    verdict in a sentence.
    """

    name: str
    file: str
    title: str
    note: str
    families: tuple[str, ...]
    proven: bool
    said: str

    @property
    def pictures(self) -> list[dict[str, str]]:
        """Its pictures: their words, and their paths below the gallery."""
        return [
            {
                "words": words,
                "path": picture(self.name, view),
                "thumbnail": picture(self.name, view, small=True),
            }
            for view, (words, _) in VIEWS.items()
        ]


def picture(name: str, view: str, *, small: bool = False) -> str:
    """Path below the gallery of a picture of a product."""
    return f"products/{name}_{view}{'_small' * small}.png"


def products_of(folder: Path) -> dict[str, Path]:
    """The files of products in a gallery, by their stems."""
    return {path.stem: path for path in sorted(folder.glob(f"*{ENDING}"))}


def made_of_product(path: Path) -> str:
    """Hash of a product's file and of all that decides what is told of it."""
    from scadgen.product.reading import load_product

    families: set[str] = set()
    with suppress(JobError):  # making it says what is wrong
        families = {type(fitted.hinge).family for fitted in load_product(path).merged}
    own = [made_of(family) for family in sorted(families)]
    sources = [hashed(source.read_bytes()) for source in sources_of(*MODULES)]
    return hashed("".join([hashed(path.read_bytes()), *own, *sources]).encode())


def product_files(path: Path, size: tuple[int, int] = (800, 600)) -> dict[str, bytes]:
    """The files of a product in a gallery, by path: its pictures and its card. Raises JobError."""
    from scadgen.gallery.page import THUMBNAIL
    from scadgen.pictures.scene import EYE, scene_of
    from scadgen.pictures.stills import drawn, thumbnail
    from scadgen.product.proving import check_product
    from scadgen.product.reading import load_product

    product = load_product(path)
    proven = check_product(product)
    files = {}
    for view, (_, share) in VIEWS.items():
        png = drawn(scene_of(_sides(proven.whole, share), EYE), size)
        files[picture(product.name, view)] = png
        files[picture(product.name, view, small=True)] = thumbnail(png, THUMBNAIL)
    card = _card(path, product, proven.verdict)
    text = json.dumps(asdict(card), indent=1, ensure_ascii=False) + "\n"
    return files | {card_path(path.stem): text.encode()}


def card_path(stem: str) -> str:
    """Path below the gallery of what is told of a product's file."""
    return f"products/{stem}.json"


def card_of(data: bytes) -> ProductCard:
    """The card that a file holds. Raises ValueError, TypeError or KeyError if it is none."""
    facts = json.loads(data)
    return ProductCard(**facts | {"families": tuple(facts["families"])})


def _card(path: Path, product: Product, verdict: Verdict) -> ProductCard:
    families = {type(fitted.hinge).family for fitted in product.merged}
    return ProductCard(
        name=product.name,
        file=path.name,
        title=plain(product.title) or product.name,
        note=plain(product.note),
        families=tuple(sorted(families)),
        proven=verdict.proven,
        said=summary(verdict).partition(": ")[2],
    )


def _sides(whole: Mechanism, share: float) -> Mapping[str, Manifold]:
    """What stays and what moves, the first joint so far on its turn."""
    sides = Sides(whole)
    low, high = sides.ends
    return sides.at(share * (high if high >= -low else low))
