"""The gallery is made anew where it must be, and a check sees whatever differs."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from scadgen.cli.main import main
from scadgen.gallery import build, manifest
from scadgen.gallery.build import FOLDER, Files, check_gallery, write_gallery
from scadgen.gallery.page import page_files
from scadgen.hinge.family import Hinge, all_families
from tests.gallery.pages import made_up
from tests.support import ROOT

MEND = "To mend: scadgen gallery"
Made = list[tuple[str, str]]


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> Made:
    """Makes cards and drawings quickly, and keeps account of which were made."""
    done: Made = []

    def cards(hinge: Hinge) -> Files:
        done.append((hinge.family, "cards"))
        return {f"cards/{hinge.family}.json": made_up(hinge.family).to_json().encode()}

    def drawings(hinge: Hinge) -> Files:
        done.append((hinge.family, "drawings"))
        return {f"drawings/{hinge.family}.svg": hinge.title.encode()}

    kinds = {
        "cards": (cards, ("gallery.cards",)),
        "drawings": (drawings, ("pictures.palette",)),
    }
    monkeypatch.setattr(build, "KINDS", kinds)
    return done


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the gallery is kept that every test gets a copy of."""
    return tmp_path_factory.mktemp("kept") / "gallery"


@pytest.fixture
def folder(tmp_path: Path, made: Made, kept: Path) -> Path:
    if not kept.exists():
        write_gallery(kept, workers=1)
        made.clear()
    return shutil.copytree(kept, tmp_path / "gallery")


def rewritten(folder: Path) -> set[str]:
    written = write_gallery(folder, workers=1)
    assert check_gallery(folder) == []
    return {path.relative_to(folder).as_posix() for path in written}


def test_all_is_made_once(tmp_path: Path, made: Made) -> None:
    folder = tmp_path / "gallery"
    told: list[str] = []
    written = {
        path.relative_to(folder).as_posix() for path in write_gallery(folder, told.append, 1)
    }
    families = all_families()
    files = {f"cards/{n}.json" for n in families} | {f"drawings/{n}.svg" for n in families}
    page = {"index.html", "page.css", "page.js", "viewer.js", "kernel.js", "fleets.js", "README.md"}
    page |= {f"families/{n}.{end}" for n in families for end in ("md", "html")}
    page |= {f"forms/{n}.js" for n in families}
    assert written == files | page | {"manifest.json"}
    assert sorted(made) == sorted((n, kind) for n in families for kind in ("cards", "drawings"))
    assert told[0] == f"0 of {len(made)} made, now drawings of {next(iter(families))}"
    assert len(told) == len(made)
    made.clear()
    assert rewritten(folder) == set()
    assert made == []


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda path: path.unlink(), "missing"),
        (lambda path: path.write_bytes(path.read_bytes() + b"\n"), "edited"),
    ],
)
def test_what_is_missing_or_edited_is_named_and_mended(
    change: Callable[[Path], object], said: str, folder: Path, made: Made
) -> None:
    path = folder / "drawings" / "rod_loops.svg"
    change(path)
    assert check_gallery(folder) == [f"{path}: {said}", f"{MEND} --out {folder}"]
    assert rewritten(folder) == {"drawings/rod_loops.svg"}
    assert made == [("rod_loops", "drawings")]


@pytest.mark.parametrize(
    "name", ["index.html", "README.md", "page.js", "page.css", "kernel.js", "forms/rod_loops.js"]
)
def test_the_page_is_checked_too(name: str, folder: Path, made: Made) -> None:
    (folder / name).write_text("mine")
    assert check_gallery(folder)[0] == f"{folder / name}: edited or stale"
    assert rewritten(folder) == {name}
    assert made == []


def test_a_changed_family_is_stale(
    folder: Path, made: Made, monkeypatch: pytest.MonkeyPatch
) -> None:
    emitted = manifest._emitted
    changed = {"rod_loops": "module of another shape"}
    monkeypatch.setattr(manifest, "_emitted", lambda name: changed.get(name, emitted(name)))
    why = "stale, what it is made of has changed"
    assert check_gallery(folder) == [
        f"{folder / 'drawings/rod_loops.svg'}: {why}",
        f"{folder / 'cards/rod_loops.json'}: {why}",
        f"{MEND} --out {folder}",
    ]
    assert rewritten(folder) == {"manifest.json"}  # the made-up makers still draw the same
    assert sorted(made) == [("rod_loops", "cards"), ("rod_loops", "drawings")]


def test_changed_drawing_code_is_seen(
    folder: Path, made: Made, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only what the changed file decides is stale: the palette has no say in cards."""
    other = tmp_path / "palette.py"
    other.write_text("LIGHT = {}\n")
    sources_of = manifest.sources_of

    def sources(*modules: str) -> tuple[Path, ...]:
        found = sources_of(*modules)
        return tuple(other if path.name == "palette.py" else path for path in found)

    monkeypatch.setattr(manifest, "sources_of", sources)
    stale = [line for line in check_gallery(folder) if "stale" in line]
    assert [Path(line.split(": ")[0]).parent.name for line in stale] == ["drawings"] * len(
        all_families()
    )
    rewritten(folder)
    assert {kind for _, kind in made} == {"drawings"}


def test_a_changed_card_changes_the_page(
    folder: Path, made: Made, monkeypatch: pytest.MonkeyPatch
) -> None:
    def retold(hinge: Hinge) -> build.Files:
        card = made_up(hinge.family, title="Another title.")
        return {f"cards/{hinge.family}.json": card.to_json().encode()}

    monkeypatch.setitem(build.KINDS, "cards", (retold, ("version",)))
    (folder / "cards" / "rod_loops.json").unlink()
    rewritten(folder)
    assert "Another title." in (folder / "index.html").read_text()
    assert "Another title." in (folder / "README.md").read_text()


def test_a_kind_that_made_no_file_is_made_again_when_its_family_changes(
    folder: Path, made: Made, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A family that told nothing of it may tell something now."""
    tried: list[str] = []

    def none(hinge: Hinge) -> Files:
        tried.append(hinge.family)
        return {}

    monkeypatch.setitem(build.KINDS, "curves", (none, ("gallery.curves",)))
    assert rewritten(folder) == {"manifest.json"}
    assert sorted(tried) == sorted(all_families())
    emitted = manifest._emitted
    changed = {"rod_loops": "module of another shape"}
    monkeypatch.setattr(manifest, "_emitted", lambda name: changed.get(name, emitted(name)))
    tried.clear()
    stale = f"{folder}: curves of rod_loops: stale, what it is made of has changed"
    assert stale in check_gallery(folder)
    rewritten(folder)
    assert tried == ["rod_loops"]


@pytest.mark.parametrize("text", [None, "", "[]", '{"cards of rod_loops": 3}', "{}"])
def test_without_a_manifest_all_is_made_again(text: str | None, folder: Path, made: Made) -> None:
    path = folder / "manifest.json"
    whole = path.read_bytes()
    path.unlink()
    if text is not None:
        path.write_text(text)
    assert f"{folder}: the manifest has no cards of rod_loops" in check_gallery(folder)
    assert rewritten(folder) == {"manifest.json"}
    assert path.read_bytes() == whole
    assert len(made) == 2 * len(all_families())


def test_orphans_are_named_and_left_alone(folder: Path) -> None:
    strays = [folder / "old.png", folder / "parts" / "demo.scad", folder / "drawings" / "old.svg"]
    for stray in strays:
        stray.parent.mkdir(exist_ok=True)
        stray.write_text("old")
    said = [f"{path}: nothing makes this file; delete it" for path in sorted(strays)]
    assert check_gallery(folder) == said
    write_gallery(folder, workers=1)
    assert all(stray.read_text() == "old" for stray in strays)
    assert check_gallery(folder) == said


def test_the_files_of_a_family_that_is_gone_are_orphans(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    left = {name: cls for name, cls in all_families().items() if name != "rod_loops"}
    monkeypatch.setattr(build, "all_families", lambda: left)
    write_gallery(folder, workers=1)
    names = (
        "cards/rod_loops.json",
        "drawings/rod_loops.svg",
        "families/rod_loops.html",
        "families/rod_loops.md",
        "forms/rod_loops.js",
    )
    gone = [folder / name for name in names]
    assert check_gallery(folder) == [f"{p}: nothing makes this file; delete it" for p in gone]
    assert "rod_loops" not in (folder / "index.html").read_text()


def test_what_was_written_by_hand_is_left_alone(folder: Path) -> None:
    by_hand = [folder / name for name in ("box.toml", "box.scad", "box.py")]
    for path in by_hand:
        path.write_text("mine")
    assert check_gallery(folder) == []
    assert rewritten(folder) == set()
    assert all(path.read_text() == "mine" for path in by_hand)
    assert all(f"`*{path.suffix}`" in (folder / "README.md").read_text() for path in by_hand)


def test_guides_are_left_alone_and_nothing_else_hides_there(folder: Path) -> None:
    guides = folder / build.GUIDE
    (guides / "deep").mkdir(parents=True)
    for name in ("first.md", "spot.png", "deep/first.md"):
        (guides / name).write_text("mine")
    strays = [guides / "deep" / "first.md", guides / "spot.png"]
    assert check_gallery(folder) == [f"{p}: nothing makes this file; delete it" for p in strays]


def test_nothing_is_written_when_something_fails(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(hinge: Hinge) -> Files:
        raise ZeroDivisionError(hinge.family)

    (folder / "index.html").write_text("mine")
    (folder / "drawings" / "rod_loops.svg").unlink()
    monkeypatch.setitem(build.KINDS, "drawings", (fails, ("pictures.palette",)))
    with pytest.raises(ZeroDivisionError):
        write_gallery(folder, workers=1)
    assert (folder / "index.html").read_text() == "mine"


def test_the_command(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder.parent)
    assert main(["gallery", "--check"]) == 0
    assert capsys.readouterr().out == f"{FOLDER}: as scadgen writes it\n"
    (folder / "page.js").unlink()
    assert main(["gallery", "--check", "--quiet"]) == 1
    assert capsys.readouterr().out == f"{FOLDER / 'page.js'}: missing\n{MEND}\n"
    assert main(["gallery"]) == 0
    assert capsys.readouterr().out == f"wrote {FOLDER / 'page.js'}\n"
    assert main(["gallery", "--out", str(folder), "--check", "--quiet"]) == 0
    assert capsys.readouterr() == ("", "")


def test_a_missing_extra_is_named_before_anything_is_drawn(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn = []

    def draws(hinge: Hinge) -> Files:
        drawn.append(hinge.family)
        return {}

    monkeypatch.setitem(build.KINDS, "drawings", (draws, ("pictures.palette",)))
    monkeypatch.setitem(build.DRAWN_WITH, "drawings", "no_such_library")
    (folder / "drawings" / "rod_loops.svg").unlink()
    assert main(["gallery", "--out", str(folder)]) == 2
    said = capsys.readouterr().err
    assert "No module named 'no_such_library'; install the extras: " in said
    assert said.count("\n") == 1
    assert not drawn


@pytest.mark.parametrize("kind", build.KINDS)
def test_the_libraries_of_the_extras_are_known(kind: str) -> None:
    """Without them, in a process of its own, only the kinds that name one fail, and over that."""
    done = making(kind, "sys.modules |= {'matplotlib': None, 'PIL': None}")
    if kind not in build.DRAWN_WITH:
        assert done.returncode == 0, done.stderr
    else:
        assert f"ModuleNotFoundError: import of {build.DRAWN_WITH[kind]}" in done.stderr


def test_two_processes_make_what_one_makes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    quick = {kind: build.KINDS[kind] for kind in ("parts", "drawings")}
    few = dict(list(all_families().items())[:2])
    monkeypatch.setattr(build, "KINDS", quick)
    monkeypatch.setattr(build, "all_families", lambda: few)
    for workers in (1, 2):
        write_gallery(tmp_path / str(workers), workers=workers)
    one, two = (
        {p.relative_to(folder): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
        for folder in (tmp_path / "1", tmp_path / "2")
    )
    made = 2 * (2 + 1) + 2  # two parts, a drawing, a form
    assert len(one) == made + len({**page_files([]), "fleets.js": b"", "manifest.json": b""})
    assert one == two


MAKERS = {
    "cards": "from scadgen.gallery.cards import card; card(hinge)",
    "curves": "from scadgen.gallery.curves import fleet_curve; fleet_curve(hinge); "
    "from scadgen.gallery.strength_curves import strength_curve; strength_curve(RodLoops)",
    "drawings": "from scadgen.pictures.drawings import drawing; drawing(hinge)",
    "parts": "from scadgen.meshfiles.writing import stl; "
    "[stl(piece.solid) for piece in hinge.mechanism().pieces]",
    "pictures": "from scadgen.pictures.stills import still, still_in_the_dark, thumbnail; "
    "thumbnail(still(hinge, 'cut', (40, 30))); still_in_the_dark(hinge, 'cut', (40, 30))",
}


@pytest.mark.parametrize("kind", build.KINDS)
def test_no_source_that_decides_is_forgotten(kind: str) -> None:
    """What a maker really loads, in a process of its own, is among the sources of its kind.

    What the family itself loads shows in its emitted text, or is named by the kind.
    """
    done = making(kind)
    assert done.returncode == 0, done.stderr
    loaded = (name for name in json.loads(done.stdout) if name.startswith("scadgen."))
    names = [name.removeprefix("scadgen.") for name in loaded]
    told = manifest.TOLD if kind in ("cards", "curves") else manifest.DECISIVE
    decisive = {name for name in names if name.startswith(told)}
    known = modules(*(root.format("rod_loops") for root in build.KINDS[kind][1]))
    others = modules(*(f"families.{name}" for name in all_families() if name != "rod_loops"))
    folders = {path.parent for path in (ROOT / "scadgen").rglob("__init__.py")}
    packages = {".".join(path.relative_to(ROOT / "scadgen").parts) for path in folders}
    packages |= (
        {"text.quoting"} if kind in ("cards", "curves") else set()
    )  # loaded to read the plastics
    assert decisive - packages - others <= known
    assert kind != "cards" or {"families.rod_loops", "strength.rod", "sizing.size"} <= known


def making(kind: str, before: str = "") -> subprocess.CompletedProcess[str]:
    """Making files of a kind, which prints the modules loaded beyond those of the hinge itself."""
    code = (
        f"import json, sys; from scadgen import RodLoops; hinge = RodLoops(); {before}\n"
        f"before = set(sys.modules); {MAKERS[kind]}; "
        "print(json.dumps(sorted(set(sys.modules) - before)))"
    )
    command = [sys.executable, "-W", "error", "-c", code]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def modules(*roots: str) -> set[str]:
    """What the roots are made of, as names below scadgen."""
    sources = manifest.sources_of(*roots)
    return {".".join(p.relative_to(manifest.SOURCES).with_suffix("").parts) for p in sources}
