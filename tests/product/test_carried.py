"""A product's 3MF carries its own proof: its file and its bodies, from which it is proven anew."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from scadgen.cli.main import main
from scadgen.inspection.carried import Carried, found_proof
from scadgen.mechanism.joint import silent
from scadgen.meshfiles import carried as carrying
from scadgen.meshfiles.carried import PRODUCT, PROOF, hashed
from scadgen.meshfiles.reading import read
from scadgen.meshfiles.writing import stl
from scadgen.product.bodies import Plate
from scadgen.product.carried import READERS, given
from scadgen.product.outputs import product_files
from scadgen.product.proving import Proven, check_product
from scadgen.product.reading import load_product
from tests.inspection.test_carried import MODEL, forged, not_believed, packed

#: Two plates on a hinge, one of them a mesh.
TEXT = """name = "leaves"
printers.layer_heights = [0.2]
[bodies.front]
form = "plate"
length = 40
width = 16
height = 4
[bodies.cover]
form = "model"
file = "parts/../cover.stl"
[joints.pin]
family = "side_cones"
fixed = "front"
moving = "cover"
place = [0, 14, 90]
moving_place = [0, 14, -90]
size = {facets = 16, leaf_length = 8}
"""
FOLDER = "Metadata/scadgen"
BODY = f"{FOLDER}/body_cover.stl"

Parts = dict[str, Any]


@pytest.fixture(scope="module")
def proven(tmp_path_factory: pytest.TempPathFactory) -> Proven:
    folder = tmp_path_factory.mktemp("leaves")
    (folder / "parts").mkdir()
    (folder / "cover.stl").write_bytes(stl(Plate(length=40, width=16, height=4).solid))
    (folder / "leaves.toml").write_text(TEXT)
    return check_product(load_product(folder / "leaves.toml"))


@pytest.fixture(scope="module")
def data(proven: Proven, tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return product_files(proven, tmp_path_factory.mktemp("out"))["leaves.3mf"]


@pytest.fixture
def path(data: bytes, tmp_path: Path) -> Path:
    (tmp_path / "leaves.3mf").write_bytes(data)
    return tmp_path / "leaves.3mf"


def asked(path: Path) -> Carried:
    found = found_proof(path, read(path), silent, READERS)
    assert found
    return found


def test_it_is_found_and_proven_anew_from_nothing_but_itself(
    path: Path, proven: Proven, capsys: pytest.CaptureFixture[str]
) -> None:
    assert proven.verdict.passed
    main(["inspect", str(path), "--json", "--layers", "0.2"])
    told = json.loads(capsys.readouterr().out)
    assert told["carried"]["holds"] is True
    assert told["carried"]["proven_anew"] == {"passed": True, "proven": proven.verdict.proven}
    assert any("from the product in it" in one["words"] for one in told["findings"])
    assert told["carried"]["facts"]["bodies"]["cover"]["hash"] == hashed(parts_of(path)[BODY])


def with_part(parts: Parts, name: str, data: str | bytes, **facts: Any) -> None:
    """Another text or body, the proof sealed to fit it."""
    parts[f"{FOLDER}/{name}"] = data

    def change(told: Any) -> None:
        if name in told["texts"]:
            told["texts"][name] = hashed(data)
        else:
            told["bodies"]["cover"]["hash"] = hashed(data)

    forged(parts, change)


def rewritten(before: str, after: str) -> Callable[[Parts], object]:
    return lambda parts: with_part(parts, PRODUCT, TEXT.replace(before, after))


def moved_corner(parts: Parts) -> None:
    before, mark, after = parts[MODEL].partition('z="4.00000"')
    assert mark
    parts[MODEL] = f'{before}z="4.00100"{after}'


def told_body(**fact: object) -> Callable[[Parts], object]:
    def change(told: Any) -> None:
        told["bodies"]["cover"].update(fact)

    return lambda parts: forged(parts, change)


WIDER = stl(Plate(length=42, width=16, height=4).solid)
HOSTILE: dict[str, tuple[Callable[[Parts], object], str]] = {
    "another geometry": (moved_corner, "its geometry is not the one that was proven"),
    "product changed": (
        lambda parts: parts.update({f"{FOLDER}/{PRODUCT}": TEXT.replace("40", "41")}),
        "its product.toml was changed",
    ),
    "product missing": (
        lambda parts: parts.pop(f"{FOLDER}/{PRODUCT}"),
        "its product.toml is missing",
    ),
    "another product": (
        rewritten("length = 40", "length = 41"),
        "the product in it makes other triangles here",
    ),
    "other printers": (rewritten("[0.2]", "[0.3]"), "other printers than the product in it"),
    "body changed": (
        lambda parts: parts.update({BODY: WIDER}),
        "its body_cover.stl was changed",
    ),
    "another body": (
        lambda parts: with_part(parts, "body_cover.stl", WIDER),
        "the product in it makes other triangles here",
    ),
    "body missing": (lambda parts: parts.pop(BODY), "its body_cover.stl is missing"),
    "body not told": (
        lambda parts: forged(parts, lambda told: told.pop("bodies")),
        "the body cover of the product in it is missing",
    ),
    "body elsewhere": (told_body(file="../../x.stl"), "a text of it lies elsewhere"),
    "body that is run": (told_body(file="body_cover.scad"), "a body of it is no mesh"),
    "body that is nowhere": (told_body(file=3), "does not tell where a body of it is"),
    "bodies that are none": (
        lambda parts: forged(parts, lambda told: told.update(bodies=[1])),
        "it must name its bodies",
    ),
    "a name that steers a terminal": (
        lambda parts: forged(parts, lambda told: told.update(texts={"\x1b[2J": ""})),
        "its \\x1b[2J is missing",
    ),
    "no mesh": (
        lambda parts: with_part(parts, "body_cover.stl", b"solid but not so"),
        "the product in it is none",
    ),
    "a file of the reader's": (
        rewritten('[bodies.front]\nform = "plate"', '[bodies.front]\nform = "model"\nfile = "/x"'),
        "the body front of the product in it is missing",
    ),
    "a fleet of the reader's": (
        rewritten("printers.layer", 'printers.fleet = "/etc/passwd"\nprinters.layer'),
        "the product in it names a file (printers.fleet)",
    ),
    "no product": (lambda parts: with_part(parts, PRODUCT, "bodies = 3"), "the product in it is"),
}


def parts_of(path: Path) -> Parts:
    """Its texts, and its body as bytes."""
    with zipfile.ZipFile(path) as archive:
        read = {name: archive.read(name) for name in archive.namelist()}
    return {name: data if name == BODY else data.decode() for name, data in read.items()}


@pytest.mark.parametrize(("change", "why"), HOSTILE.values(), ids=HOSTILE)
def test_what_was_changed_is_not_believed(
    change: Callable[[Parts], object], why: str, path: Path
) -> None:
    parts = parts_of(path)
    change(parts)
    not_believed(asked(packed(parts, path)), why)


def test_a_module_is_carried_as_the_program_drew_it_and_is_not_run(path: Path) -> None:
    """Whatever a stranger's file names as a module, the mesh beside it is what is read."""
    parts = parts_of(path)
    rewritten('form = "model"', 'form = "scad"\nmodule = "cover"')(parts)
    found = asked(packed(parts, path))
    assert found.anew
    assert found.anew.passed


def test_a_body_that_is_too_large_is_told_by_name(
    proven: Proven, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("scadgen.product.carried.LARGEST_BODY", 100)
    target = tmp_path / "leaves.3mf"
    target.write_bytes(product_files(proven, tmp_path)["leaves.3mf"])
    found = asked(target)
    assert found.holds
    assert found.anew is None
    assert found.why == "Its body cover is too large to be carried, so it was not proven anew."


def test_no_more_of_a_body_is_unpacked_than_may_be_read(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(carrying, "LARGEST_BODY", 100)
    assert "its body_cover.stl is larger than 100 bytes" in asked(path).why


def test_what_was_changed_after_it_was_read_carries_no_file(proven: Proven) -> None:
    assert given(proven.product)[0] == TEXT
    assert given(replace(proven.product, title="other"))[0] == ""


def test_whoever_cannot_read_products_says_so(path: Path) -> None:
    found = found_proof(path, read(path), silent)
    assert found
    assert found.holds
    assert found.why == "It carries no job, so it was not proven anew."
    assert PROOF in parts_of(path)
