"""What the written pages say comes true: every block is run, every table and link is right."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fnmatch import fnmatch
from pathlib import Path

import pytest

from scadgen.text.typeset import typeset
from tests.guides import GUIDES, PAGES
from tests.guides.blocks import Block, blocks
from tests.guides.sections import sections
from tests.guides.session import Session, copy_checkout
from tests.guides.told import is_told
from tests.support import ROOT
from tests.tables import named, with_tables

KINDS = {"sh", "python", "toml", "scad", "text"}
#: All that is not run, by page and the beginning of its first line; each says why in the page.
NOT_RUN = [
    ("README.md", "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/scadgen write "),
    ("README.md", "tests/run"),
    ("DEVELOPERS.md", "scadgen/"),
    ("gallery/guide/first_hinge.md", "python3 -m venv .venv"),
]


def text_of(page: str) -> str:
    return (ROOT / page).read_text(encoding="utf-8")


def needs_openscad(block: Block) -> bool:
    drawn = block.language == "scad" and "from" not in block.remarks
    return drawn or block.remarks.get("needs") == "openscad"


def each_page() -> Iterator[object]:
    for page in PAGES:
        every = list(blocks(text_of(page)))
        marks = [pytest.mark.openscad] if any(map(needs_openscad, every)) else []
        if any(block.remarks.get("needs") == "slicers" for block in every):
            marks.append(pytest.mark.slicers)
        yield pytest.param(page, marks=marks)


@pytest.mark.parametrize("page", list(each_page()))
def test_a_reader_who_follows_the_page_finds_what_it_says(page: str, tmp_path: Path) -> None:
    """Mending of outputs: python -m tests.tables."""
    session = Session(page, copy_checkout(tmp_path, text_of(page)))
    for block in session.follow(text_of(page)):
        assert block.language in KINDS, f"{page}:{block.line}"
        came = session.outputs.get(block.line)
        if came is not None:
            assert is_told(block.code, came), f"{page}:{block.line}: {came}"
        elif block.language == "text":
            assert block.remarks, f"{page}:{block.line}: nothing is run that prints it"


def test_what_is_not_run_is_on_the_list() -> None:
    found = [(p, b) for p in PAGES for b in blocks(text_of(p)) if "not run" in b.remarks]
    assert len(found) == len(NOT_RUN)
    for (page, block), (listed, first) in zip(found, NOT_RUN, strict=True):
        assert page == listed
        assert block.first.startswith(first)


@pytest.mark.parametrize("page", PAGES)
def test_tables_are_as_generated(page: str) -> None:
    """Mending: python -m tests.tables."""
    assert with_tables(text_of(page)) == text_of(page)


def test_every_table_is_shown_once() -> None:
    shown = [name for page in PAGES for name in named(text_of(page))]
    assert sorted(shown) == sorted(sections())


def anchors(path: Path) -> set[str]:
    heads = re.findall(r"^#+ (.+)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    plain = (re.sub(r"[^\w\- ]", "", head).lower() for head in heads)
    return {head.replace(" ", "-") for head in plain}


@pytest.mark.parametrize("page", [*PAGES, "gallery/README.md"])
def test_links_lead_somewhere(page: str) -> None:
    """Those within the checkout: pages of others come and go, and are not asked for."""
    links = re.findall(r"\]\(([^)\s]+)\)", text_of(page))
    for link in (link for link in links if not link.startswith("https://")):
        name, _, anchor = link.partition("#")
        target = (ROOT / page).parent / name if name else ROOT / page
        assert target.exists(), link
        assert not anchor or anchor in anchors(target), link


def test_the_readme_leads_to_every_guide() -> None:
    guides = {path.name for path in GUIDES.glob("*.md")}
    assert guides
    for page in ("README.md", "gallery/README.md"):
        assert guides == set(re.findall(r"guide/(\w+\.md)\)", text_of(page)))


def test_the_readme_is_read_in_five_minutes() -> None:
    assert text_of("README.md").count("\n") <= 150


def test_every_finding_of_a_proof_is_explained() -> None:
    table = text_of("gallery/guide/proving.md").partition("## What each")[2].partition("\n## ")[0]
    cells = [line.split("|")[1] for line in table.splitlines() if line.startswith("| `")]
    known = [name.replace("...", "*") for cell in cells for name in re.findall("`(.+?)`", cell)]
    cards = [json.loads(path.read_text()) for path in (ROOT / "gallery" / "cards").iterdir()]
    found = {typeset(finding["name"]) for card in cards for finding in card["proof"]["findings"]}
    assert len(found) > 10
    assert [name for name in found if not any(fnmatch(name, each) for each in known)] == []


def test_the_house_has_all_its_rooms() -> None:
    (house,) = (b for b in blocks(text_of("DEVELOPERS.md")) if b.first == "scadgen/")
    patterns = {
        name.rstrip("/") for name in re.findall(r"(?<![\w./])[\w*]+(?:\.py|/(?!\w))", house.code)
    }
    rooms = {
        path.name
        for path in (ROOT / "scadgen").iterdir()
        if not path.name.startswith("_") and (path.is_dir() or path.suffix == ".py")
    }
    assert {r for r in rooms if not any(fnmatch(r, pattern) for pattern in patterns)} == set()
    folders = ("*", "gallery/*", "scadgen/*/*")
    here = rooms | {path.name for folder in folders for path in ROOT.glob(folder)}
    assert {p for p in patterns if not any(fnmatch(name, p) for name in here)} == set()


def test_every_folder_of_tests_is_named() -> None:
    guide = text_of("DEVELOPERS.md")
    folders = {
        path.parent.relative_to(ROOT).as_posix() for path in ROOT.glob("tests/*/**/test_*.py")
    }
    assert len(folders) > 5
    tops = {"/".join(folder.split("/")[:2]) for folder in folders}
    assert {folder for folder in tops if f"`{folder}/" not in guide} == set()
