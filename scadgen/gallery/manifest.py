"""What the gallery's files were made of, so that what is still the same is not made again.

``manifest.json`` keeps, for each kind of file of a family, a hash of all that it depends on and the
hashes of the bytes that came out.
"""

from __future__ import annotations

import ast
import functools
import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from scadgen.hinge.family import all_families
from scadgen.openscad.emitter import emit

NAME = "manifest.json"
SOURCES = Path(__file__).parents[1]
#: Data that cards and curves are made of.
PLASTICS = tuple(sorted(SOURCES.glob("strength/plastics/*.toml")))
#: Modules whose text decides what is drawn; the rest shows in the text of the emitted module.
DECISIVE = (
    "caging",
    "families",
    "findings",
    "gallery",
    "hinge.kinds",
    "hinge.measures",
    "hinge.meshing",
    "mechanism",
    "meshfiles",
    "motion",
    "pictures",
    "printing",
    "proof",
    "text.dates",
    "text.quoting",
    "text.typeset",
    "trees.to_mesh",
    "trees.to_numpy",
)
#: Modules that decide what cards and curves tell of sizes and strengths, too.
TOLD = (*DECISIVE, "hinge", "product", "sizing", "strength")


@dataclass(frozen=True)
class Made:
    """Files that were made together: a hash of their inputs, and one of each file's bytes."""

    made_of: str
    files: Mapping[str, str]


def load(folder: Path) -> dict[str, Made]:
    """The entries of the manifest in ``folder``; none where it is missing or broken."""
    try:
        facts = json.loads((folder / NAME).read_bytes())
        return {job: Made(entry["made_of"], dict(entry["files"])) for job, entry in facts.items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return {}


def text(entries: Mapping[str, Made]) -> bytes:
    """The manifest as a file."""
    facts = {job: asdict(entry) for job, entry in sorted(entries.items())}
    return (json.dumps(facts, indent=1, sort_keys=True) + "\n").encode()


def hashed(data: bytes) -> str:
    """The SHA-256 of ``data``."""
    return hashlib.sha256(data).hexdigest()


def made_of(family: str, *modules: str) -> str:
    """Hash of what the family is by default and of the source of the modules that draw it.

    For cards and curves what it says of strength counts too, and the plastics.
    """
    paths = (*sources_of(*modules), *(PLASTICS if _told(modules) else ()))
    sources = "".join(hashed(path.read_bytes()) for path in paths)
    return hashed(f"{_emitted(family)}{sources}".encode())


@functools.cache
def _emitted(family: str) -> str:
    return emit(all_families()[family]())


def _told(modules: Iterable[str]) -> bool:
    return any(module.startswith("gallery.") for module in modules)


@functools.cache
def sources_of(*modules: str) -> tuple[Path, ...]:
    """Files of ``modules`` (below scadgen) and of all the decisive modules that they import."""
    decisive = TOLD if _told(modules) else DECISIVE
    found: dict[str, Path] = {}
    pending = [*modules]
    while pending:
        name = pending.pop()
        path = SOURCES.joinpath(*name.split(".")).with_suffix(".py")
        if name not in found and name.startswith(decisive) and path.is_file():
            found[name] = path
            pending += _imported(name, path)
    return tuple(found[name] for name in sorted(found))


@functools.cache
def _imported(name: str, path: Path) -> tuple[str, ...]:
    """Modules below scadgen that a file imports, at its top or where it uses them."""
    found: list[str] = []
    for node in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(node, ast.ImportFrom):
            package = name.split(".")[: -node.level] if node.level else []
            whole = ".".join([*package, *(node.module or "").split(".")]).removeprefix("scadgen.")
            found += [whole, *(f"{whole}.{alias.name}" for alias in node.names)]
    return tuple(found)
