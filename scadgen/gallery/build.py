"""The gallery's files: made anew where they must be, checked, told from those written by hand.

The files of a family are kept account of in the manifest. The page is quick to make, so it is
made and compared.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path

from scadgen.gallery import manifest
from scadgen.gallery.cards import LINKS, VIEWS, Card, card, picture
from scadgen.gallery.family_data import family_script
from scadgen.gallery.family_page import family_pages
from scadgen.gallery.fleet_data import fleet_script
from scadgen.gallery.manifest import Made
from scadgen.gallery.page import THUMBNAIL, page_files
from scadgen.gallery.products import (
    ProductCard,
    card_of,
    card_path,
    made_of_product,
    product_files,
    products_of,
)
from scadgen.gallery.told import TOLD
from scadgen.hinge.family import Hinge, all_families
from scadgen.keeping.files import write_all

FOLDER = Path("gallery")
HAND_WRITTEN = (".toml", ".scad", ".py")  # right in the folder
GUIDE = "guide"  # its folder of pages written by hand
OF_THE_TESTS = ("validation.md", "speed.md")  # scripts of the tests write them
WORKERS = 2

Files = dict[str, bytes]
Progress = Callable[[str], None]


def pictures(hinge: Hinge) -> Files:
    """Stills, their thumbnails, and stills for dark surroundings."""
    from scadgen.pictures.stills import still, still_in_the_dark, thumbnail

    files = {}
    for view in VIEWS:
        png = still(hinge, view)
        files[picture(hinge.family, view)] = png
        files[picture(hinge.family, view, small=True)] = thumbnail(png, THUMBNAIL)
        files[picture(hinge.family, view, dark=True)] = still_in_the_dark(hinge, view)
    return files


def drawings(hinge: Hinge) -> Files:
    """The section drawing."""
    from scadgen.pictures.drawings import drawing

    return {LINKS["Drawing"].format(hinge.family): drawing(hinge).encode()}


def parts(hinge: Hinge) -> Files:
    """What a slicer takes."""
    from scadgen.hinge.meshing import mesh
    from scadgen.meshfiles.writing import stl, three_mf

    pieces = {piece.bodies[0]: piece.solid for piece in hinge.mechanism().pieces}
    packed = three_mf(hinge.family, hinge.title, pieces)
    files = {"3MF": packed, "STL": stl(mesh(hinge))}
    return {LINKS[label].format(hinge.family): data for label, data in files.items()}


def curves(hinge: Hinge) -> Files:
    """Shares of fleets, and what decides the strength, as far as the family tells of them."""
    from scadgen.gallery.curves import fleet_curve
    from scadgen.gallery.strength_curves import strength_curve

    draw: dict[str, Callable[[Hinge], bytes]] = {
        "Fleet": fleet_curve,
        "Strength": lambda hinge: strength_curve(type(hinge)),
    }
    told = [label for label in draw if TOLD[label](type(hinge))]
    return {LINKS[label].format(hinge.family): draw[label](hinge) for label in told}


def cards(hinge: Hinge) -> Files:
    """What the page tells."""
    return {f"cards/{hinge.family}.json": card(hinge).to_json().encode()}


#: What is made of every family, and the modules (below scadgen) that decide how.
KINDS: dict[str, tuple[Callable[[Hinge], Files], tuple[str, ...]]] = {
    "cards": (cards, ("gallery.cards", "families.{}")),
    "curves": (
        curves,
        ("gallery.curves", "gallery.strength_curves", "gallery.told", "families.{}"),
    ),
    "drawings": (drawings, ("pictures.drawings", "families.{}")),
    "parts": (parts, ("meshfiles.writing", "families.{}")),
    "pictures": (pictures, ("pictures.stills", "families.{}")),
}

#: What is made of the products whose files are in the folder.
PRODUCTS = "products"
#: Libraries of the extras that a kind is drawn with.
DRAWN_WITH = {"curves": "matplotlib", "pictures": "PIL", PRODUCTS: "PIL"}


def write_gallery(
    folder: str | Path = FOLDER, progress: Progress | None = None, workers: int = WORKERS
) -> list[Path]:
    """Bring the gallery in ``folder`` up to date and return what was written.

    ``progress`` is told in words how far it has come; ``workers`` is the number of processes.
    Raises WriteError, and before anything is drawn ModuleNotFoundError for an extra's library;
    then every file is as it was.
    """
    folder = Path(folder)
    kept, jobs = manifest.load(folder), _jobs(folder)
    stale = [job for job in jobs if job not in kept or [*_faults(folder, job, kept[job])]]
    for kind in sorted({jobs[job][1] for job in stale} & {*DRAWN_WITH}):
        import_module(DRAWN_WITH[kind])
    entries = {job: kept[job] for job in jobs if job not in stale}
    files: Files = {}
    for job, made in _made(folder, stale, progress or (lambda _: None), workers):
        files |= made
        hashes = {path: manifest.hashed(data) for path, data in made.items()}
        entries[job] = Made(_made_of(folder, job), hashes)
    files |= _page(folder, files) | {manifest.NAME: manifest.text(entries)}
    changed = {path: data for path, data in files.items() if _bytes(folder / path) != data}
    for path in changed:
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
    return write_all(folder, changed)


def check_gallery(folder: str | Path = FOLDER) -> list[str]:
    """What in ``folder`` is not as it would be written, and how to mend it; empty if all is well.

    Nothing is drawn: files are held against the hashes of their bytes and of their inputs.
    """
    folder = Path(folder)
    kept, page = manifest.load(folder), _page(folder, {})
    jobs = _jobs(folder)
    missing = [f"{folder}: the manifest has no {job}" for job in jobs if job not in kept]
    entries = {job: kept[job] for job in jobs if job in kept}
    faults = [fault for job, entry in entries.items() for fault in _faults(folder, job, entry)]
    hashes = {path: manifest.hashed(data) for path, data in page.items()}
    found = [*missing, *faults, *_edited(folder, hashes, "edited or stale")]
    if found:
        found.append(f"To mend: scadgen gallery{'' if folder == FOLDER else f' --out {folder}'}")
    known = {manifest.NAME, *page, *(path for entry in entries.values() for path in entry.files)}
    return found + [
        f"{path}: nothing makes this file; delete it" for path in _strays(folder, known)
    ]


def _jobs(folder: Path) -> dict[str, tuple[str, str]]:
    """Everything to make, by its name in the manifest: a family and a kind, slow kinds first."""
    slow_first = reversed(KINDS)
    jobs = {f"{kind} of {name}": (name, kind) for kind in slow_first for name in all_families()}
    return jobs | {f"{PRODUCTS}: {name}": (name, PRODUCTS) for name in products_of(folder)}


def _made_of(folder: Path, job: str) -> str:
    name, kind = _jobs(folder)[job]
    if kind == PRODUCTS:
        return made_of_product(products_of(folder)[name])
    return manifest.made_of(name, *(module.format(name) for module in KINDS[kind][1]))


def _make(folder: Path, name: str, kind: str) -> Files:
    if kind == PRODUCTS:
        return product_files(products_of(folder)[name])
    return KINDS[kind][0](all_families()[name]())


def _made(
    folder: Path, stale: Sequence[str], tell: Progress, workers: int
) -> Iterator[tuple[str, Files]]:
    """Each stale job with its files, in the order in which they get ready."""
    jobs = _jobs(folder)
    if workers == 1 or len(stale) < 2:
        for count, job in enumerate(stale):
            tell(f"{count} of {len(stale)} made, now {job}")
            yield job, _make(folder, *jobs[job])
        return
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from multiprocessing import active_children, get_context

    with ProcessPoolExecutor(workers, get_context("spawn")) as pool:
        futures = {pool.submit(_make, folder, *jobs[job]): job for job in stale}
        try:
            for count, future in enumerate(as_completed(futures), 1):
                tell(f"{count} of {len(stale)} made, last {futures[future]}")
                yield futures[future], future.result()
        except BaseException:
            for worker in active_children():  # its drawing is of no use to anyone
                worker.terminate()
            pool.shutdown(cancel_futures=True)
            raise


def _page(folder: Path, files: Files) -> Files:
    """The page as it is with the cards that are among ``files`` or else in the folder."""
    paths = (f"cards/{name}.json" for name in all_families())
    texts = [files.get(path) or _bytes(folder / path) or b"" for path in paths]
    shown = []
    for text in texts:
        with suppress(ValueError, TypeError, KeyError):  # a card that --check names
            shown.append(Card.from_json(text.decode()))
    forms = {f"forms/{name}.js": family_script(cls) for name, cls in all_families().items()}
    return (
        page_files(shown, _products(folder, files))
        | family_pages(shown)
        | forms
        | {"fleets.js": fleet_script()}
    )


def _products(folder: Path, files: Files) -> list[ProductCard]:
    """What is told of products, as far as their cards are there."""
    paths = (card_path(stem) for stem in products_of(folder))
    found = []
    for text in (files.get(path) or _bytes(folder / path) or b"" for path in paths):
        with suppress(ValueError, TypeError, KeyError):  # a card that --check names
            found.append(card_of(text))
    return found


def _faults(folder: Path, job: str, entry: Made) -> Iterator[str]:
    """What is wrong with files that were made together."""
    if entry.made_of == _made_of(folder, job):
        yield from _edited(folder, entry.files, "edited")
    else:
        paths = [str(folder / path) for path in entry.files] or [f"{folder}: {job}"]
        yield from (f"{path}: stale, what it is made of has changed" for path in paths)


def _edited(folder: Path, hashes: Mapping[str, str], what: str) -> Iterator[str]:
    for path, wanted in hashes.items():
        there = _bytes(folder / path)
        if there is None:
            yield f"{folder / path}: missing"
        elif manifest.hashed(there) != wanted:
            yield f"{folder / path}: {what}"


def _strays(folder: Path, known: Collection[str]) -> Iterator[Path]:
    """Files that are neither known nor written by hand."""
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        parts = path.relative_to(folder).parts
        by_hand = _is_by_hand(parts, path.suffix)
        hidden = any(part.startswith((".", "__")) for part in parts)
        if not by_hand and not hidden and "/".join(parts) not in {*known, *OF_THE_TESTS}:
            yield path


def _is_by_hand(parts: Sequence[str], suffix: str) -> bool:
    """Whether people write files of that suffix there: sources in the gallery, pages in guides."""
    if len(parts) == 1:
        return suffix in HAND_WRITTEN
    return len(parts) == 2 and parts[0] == GUIDE and suffix == ".md"


def _bytes(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None
