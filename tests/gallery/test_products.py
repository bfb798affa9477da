"""Products in the gallery: their pictures, their cards, and what makes these stale."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from scadgen.gallery import build, manifest
from scadgen.gallery.build import check_gallery, write_gallery
from scadgen.gallery.products import MODULES, card_of, made_of_product, product_files, products_of
from tests.product.test_reading import TEXT
from tests.support import ROOT

if TYPE_CHECKING:
    from PIL.Image import Image

TITLE = 'title = "A small box"\n'
SMALL = (160, 120)


@cache
def files(folder: Path) -> dict[str, bytes]:
    path = folder / "small_box_product.toml"
    path.write_text(TITLE + TEXT, encoding="utf-8")
    return product_files(path, SMALL)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    pytest.importorskip("PIL")
    return files(tmp_path_factory.mktemp("gallery"))


def opened(data: bytes) -> Image:
    from PIL import Image

    return Image.open(io.BytesIO(data))


def test_a_product_is_drawn_in_three_poses(made: dict[str, bytes]) -> None:
    names = [f"products/small_box_{view}.png" for view in ("printed", "half", "shut")]
    assert len({made[name] for name in names}) == 3
    assert all(opened(made[name]).size == SMALL for name in names)


def test_its_card_tells_the_verdict_and_where_its_file_is(made: dict[str, bytes]) -> None:
    card = card_of(made["products/small_box_product.json"])
    assert (card.title, card.file) == ("A small box", "small_box_product.toml")
    assert card.families == ("side_cones",)
    assert card.proven
    assert card.said.startswith("proven, all")
    assert {one["path"] for one in card.pictures} <= set(made)
    assert {one["thumbnail"] for one in card.pictures} <= set(made)


def test_the_gallery_makes_what_its_products_need_and_tells_what_is_stale(
    tmp_path: Path, made: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "small_box_product.toml"
    path.write_text(TITLE + TEXT, encoding="utf-8")
    monkeypatch.setattr(build, "KINDS", {})
    monkeypatch.setattr(build, "product_files", lambda _: made)
    write_gallery(tmp_path, workers=1)
    assert check_gallery(tmp_path) == []
    readme = (tmp_path / "README.md").read_text(encoding="utf-8")
    assert "### A small box" in readme
    assert "[small_box_product.toml](small_box_product.toml)" in readme
    path.write_text(f"{TITLE}{TEXT}# changed\n", encoding="utf-8")
    stale = check_gallery(tmp_path)
    assert any("small_box_printed.png: stale" in line for line in stale)


def test_the_sources_of_the_proof_of_products_count(tmp_path: Path) -> None:
    sources = {
        one.relative_to(manifest.SOURCES).as_posix() for one in manifest.sources_of(*MODULES)
    }
    wanted = ("product/resting.py", "product/building.py", "motion/at_once.py", "pictures/light.py")
    assert set(wanted) <= sources
    path = tmp_path / "one_product.toml"
    path.write_text(TEXT, encoding="utf-8")
    before = made_of_product(path)
    path.write_text(TEXT.replace("height = 14", "height = 15"), encoding="utf-8")
    assert made_of_product(path) != before


def test_the_gallery_has_the_tea_sampler_box() -> None:
    assert "tea_sampler_box_product" in products_of(ROOT / "gallery")
