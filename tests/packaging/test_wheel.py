"""The built package holds all that it needs, and works where there is no checkout."""

from __future__ import annotations

import re
import subprocess
import zipfile
from collections.abc import Iterator
from email.parser import Parser
from pathlib import Path

import pytest

from scadgen.hinge.family import all_families
from scadgen.openscad.library import library_texts
from scadgen.version import VERSION
from tests.packaging.wheels import WHERE, build, clean, installed, said, unpacked
from tests.support import ROOT

pytestmark = pytest.mark.packaging

JOB = ROOT / "gallery" / "tea_sampler_box.toml"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build("wheel", tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="module")
def programs(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return installed(wheel, tmp_path_factory.mktemp("installed") / "environment")


def test_the_wheel_holds_every_file_of_the_package_and_the_library(wheel: Path) -> None:
    paths = [path for path in (ROOT / "scadgen").rglob("*") if path.is_file()]
    source = {path.relative_to(ROOT).as_posix() for path in paths if path.suffix != ".pyc"}
    library = {f"scadgen/_library/{name}": text.encode() for name, text in library_texts().items()}
    with zipfile.ZipFile(wheel) as held:
        names = {name for name in held.namelist() if name.startswith("scadgen/")}
        assert names == source | set(library)
        other = [name for name, text in library.items() if held.read(name) != text]
        assert other == []
    assert "scadgen/py.typed" in names
    assert "scadgen/text/templates/module.scad.j2" in names
    assert "scadgen/gallery/web/kernel.bundle.js" in names


def test_the_wheel_made_from_the_source_archive_is_the_same(wheel: Path, tmp_path: Path) -> None:
    source = unpacked(build("sdist", tmp_path / "made"), tmp_path / "source")
    again = build("wheel", tmp_path / "again", source)
    assert again.name == wheel.name
    same = (
        again.read_bytes() == wheel.read_bytes()
    )  # no comparison of them in words: it takes minutes
    assert same
    assert (source / "tests" / "run").is_file()


def test_the_extras_have_their_names(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as held:
        (name,) = (name for name in held.namelist() if name.endswith("/METADATA"))
        facts = Parser().parsestr(held.read(name).decode())
    assert facts["Version"] == VERSION
    assert set(facts.get_all("Provides-Extra", [])) == {"curves", "pictures", "solid", "test"}
    needs = [need for need in facts.get_all("Requires-Dist", []) if "extra" not in need]
    assert needs
    assert all(re.fullmatch(r"[a-z0-9]+>=[0-9.]+", need) for need in needs)


def test_it_does_its_main_job_without_the_checkout(programs: Path, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(JOB.read_bytes())
    where = said(
        programs / "python", "-c", "import scadgen; print(scadgen.__file__)", folder=tmp_path
    )
    assert Path(where).is_relative_to(programs.parent)
    told = said(programs / "scadgen", "write", "job.toml", "--out", "parts", folder=tmp_path)
    assert "wrote parts/tea_sampler_lid.stl" in told.replace("\\", "/")
    suffixes = sorted(path.suffix for path in (tmp_path / "parts").iterdir())
    assert suffixes == [".3mf", ".html", ".json", ".md", ".scad", ".scad", ".stl", ".txt"]


def test_its_other_commands_work_too(programs: Path, tmp_path: Path) -> None:
    version = said(programs / "python", "-m", "scadgen", "--version", folder=tmp_path)
    assert version == f"scadgen {VERSION}\n"
    listed = said(programs / "scadgen", "list", folder=tmp_path)
    assert all(f"{name}: " in listed for name in all_families())
    assert "scadgen" in said(programs / "scadgen", "completion", "bash", folder=tmp_path)
    assert "$schema" in said(programs / "scadgen", "schema", folder=tmp_path)
    page = "from scadgen.gallery.page import page_files; print(*page_files([]))"
    assert "viewer.js" in said(programs / "python", "-c", page, folder=tmp_path)


@pytest.mark.parametrize("options", [[], ["--link"]], ids=["copied", "linked"])
def test_it_installs_its_library_files(options: list[str], programs: Path, tmp_path: Path) -> None:
    said(programs / "scadgen", "install-library", "--to", "there", *options, folder=tmp_path)
    folder = tmp_path / "there" / "scadgen"
    for name, text in library_texts().items():
        assert (folder / name).read_bytes() == text.encode()
    if options:
        assert folder.resolve().is_relative_to(programs.parent)
    said(programs / "scadgen", "install-library", "--to", "there", "--remove", folder=tmp_path)
    assert not folder.exists()


@pytest.fixture
def unrelated(programs: Path, tmp_path: Path) -> Iterator[str]:
    """A package of that name, for as long as a test takes."""
    packages = Path(said(programs / "python", "-c", WHERE, folder=tmp_path).strip())
    folder = packages / "scadgen-0.0.2.dist-info"
    folder.mkdir()
    yield folder.stem
    folder.rmdir()


def test_an_unrelated_package_of_its_name_is_told(
    programs: Path, unrelated: str, tmp_path: Path
) -> None:
    """As if that one had been installed beside it: nothing that then runs can be trusted."""
    for given in ([programs / "scadgen"], [programs / "python", "-m", "scadgen"]):
        asked = subprocess.run(
            [*map(str, given), "list"],
            cwd=tmp_path,
            env=clean(),
            capture_output=True,
            text=True,
            check=False,
        )
        assert asked.returncode == 2
        assert asked.stdout == ""
        assert f"an unrelated package of the same name ({unrelated})" in asked.stderr
        assert "install scadgen-hinges into an environment of its own" in asked.stderr
