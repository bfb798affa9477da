"""The guide for contributors is right: each of its examples is a whole family in one file."""

from __future__ import annotations

import dataclasses
import json
import re
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest

import scadgen.families
from scadgen import check, emit, mesh
from scadgen.cli.commands import all_commands
from scadgen.cli.main import main
from scadgen.gallery import build, manifest
from scadgen.handover.load import load_rows
from scadgen.hinge import family as registry
from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.rules import HingeError
from scadgen.jobs.job import load_job
from scadgen.mechanism.joint import Case
from scadgen.mechanism.mechanism import Body
from scadgen.openscad import emitter
from tests.support import ROOT
from tests.toolpaths.made import Dialect, whole

NAME, SLIDE = "grooved_strip", "rail_slide"
#: Pixels of a still, enough to be drawn.
SMALL = (160, 120)

Add = Callable[..., type[Hinge]]


def code_of(name: str) -> str:
    """The guide's example that is a file of that name."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    head = re.escape(f"<!-- file: scadgen/families/{name}.py -->")
    (code,) = re.findall(rf"{head}\n```python\n(.*?)```", guide, re.DOTALL)
    return str(code)


@pytest.fixture
def add(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Add]:
    """Adds a family as a file in a folder of families: to the others, or ``alone``."""
    added: list[str] = []

    def adds(name: str, code: str, *, alone: bool = False) -> type[Hinge]:
        added.append(name)
        folder = tmp_path / "families"
        folder.mkdir()
        (folder / f"{name}.py").write_text(code, encoding="utf-8")
        others = [] if alone else scadgen.families.__path__
        monkeypatch.setattr(scadgen.families, "__path__", [*others, str(folder)])
        known = {} if alone else dict(registry._registry)
        monkeypatch.setattr(registry, "_registry", known)
        all_families.cache_clear()
        return all_families()[name]

    yield adds
    for name in added:
        sys.modules.pop(f"scadgen.families.{name}")
        vars(scadgen.families).pop(name, None)
        registry._definitions.pop(name, None)
    monkeypatch.undo()
    for cached in (all_families, emitter._body, manifest._emitted, manifest.sources_of):
        cached.cache_clear()


@pytest.fixture
def example(add: Add) -> type[Hinge]:
    """The family of the guide's example, beside all others."""
    return add(NAME, code_of(NAME))


def test_the_example_family_is_found_emitted_and_proven(example: type[Hinge]) -> None:
    hinge = example()
    assert f"module {NAME}(" in emit(hinge)
    assert mesh(hinge).genus() == 0
    verdict = check(hinge)
    assert verdict.passed, verdict.findings
    with pytest.raises(HingeError, match="or the edges of the groove meet before"):
        example(swing=120)


def test_the_example_leaves_nothing_behind() -> None:
    assert NAME not in all_families()


def test_the_proof_of_the_example_joint_can_fail(add: Add) -> None:
    """A sleeve that stands askew has no free way, and one beside its rail no hold."""
    whole = add(SLIDE, code_of(SLIDE))().mechanism()
    (slide,) = whole.joints
    rail, sleeve = whole.bodies
    failed = {}
    for aside in (0, 0.2, 30):
        moved = Body("sleeve", "sleeve", partial(sleeve.solid.translate, (aside, 0, 0)))
        found = slide.prove(dataclasses.replace(whole, bodies=(rail, moved)), Case()).findings
        failed[aside] = [finding.name for finding in found if not finding.passed]
    assert failed == {0: [], 0.2: ["free way"], 30: ["hold"]}


@dataclasses.dataclass
class Commands:
    """Runs commands in a folder, and keeps account of which."""

    folder: Path
    capsys: pytest.CaptureFixture[str]
    run: set[str] = dataclasses.field(default_factory=set)

    def __call__(self, command: str, *words: object, status: int = 0) -> str:
        """What a command says, on whichever way out."""
        self.run.add(command)
        came = main([command, *map(str, words)])
        out, err = self.capsys.readouterr()
        assert came == status, f"{command}: {out}{err}"
        assert "Traceback" not in err
        return out + err


def renamed(code: str) -> str:
    """The example, a field of it having a name that nothing else has."""
    return re.sub(r"\bleft\b", "floor", code)


@pytest.mark.parametrize(
    ("name", "change", "inspected"),
    [
        (NAME, str, (1, "one body with no joint: no hinge")),
        (NAME, renamed, (1, "one body with no joint: no hinge")),
        (SLIDE, str, (2, "no axis found")),
    ],
    ids=["as_it_is", "a_field_renamed", "a_joint_of_its_own"],
)
def test_every_command_takes_a_family_added_as_one_file(
    name: str,
    change: Callable[[str], str],
    inspected: tuple[int, str],
    add: Add,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    cls = add(name, change(code_of(name)), alone=True)
    monkeypatch.chdir(tmp_path)
    call = Commands(tmp_path, capsys)
    assert call("list", "--long").startswith(f"{name}: {cls.title}")
    call("new", name, "--out", "job.toml")
    job = (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert f"{name}: proven" in call("check", "job.toml")
    assert f"wrote parts/{name}.scad" in call("write", "job.toml", "--out", "parts")
    printed = job.replace("# material", "material")
    Path("printed.toml").write_text(printed, encoding="utf-8")
    Path("loaded.toml").write_text(printed.replace("# load = 0", "load = 3"), encoding="utf-8")
    assert f"load: {name} tells no strength" in call("check", "loaded.toml", status=1)
    assert "nothing was written" in call("write", "loaded.toml", "--out", "loaded", status=1)
    rows = {row.label: row.words for row in load_rows(load_job("loaded.toml"))}
    assert rows["Plastics that bear it"].startswith("its family tells no strength")
    assert "1000 printers" in call("fleet", "job.toml", "--count", 1000)
    sized = call("size", "printed.toml", "--out", "sized.toml")
    assert "its family tells no strength" in sized
    stands = {"standing": "standing", "flat": "lying"}[cls.stance()]
    Path("wish.toml").write_text(f'{printed}\n[part]\nposture = "{stands}"\n', encoding="utf-8")
    assert f"favourite: {name}; its family tells no strength" in call("choose", "wish.toml")
    assert f"{name}: no coupon; its family names no field" in call("coupon", name, status=2)
    results = f'family = "{name}"\nlayer = 0.2\n[steps]\n"0.3" = "free"\n'
    Path("results.toml").write_text(results, encoding="utf-8")
    refused = call("calibrate", "results.toml", status=2)
    assert "its coupon does not tell how far lines spread" in refused
    assert f"wrote library/{name}.scad" in call("library")
    assert call("library", "--check") == "library: as scadgen writes it\n"
    status, said = inspected
    assert said in call("inspect", f"parts/my_{name}.stl", status=status)
    assert f"{name}.scad" in call("install-library", "--to", "libraries")
    assert set(json.loads(call("schema", name))["properties"]) >= {"family", "size", "duty"}
    assert "scadgen" in call("completion", "bash")
    sent = Dialect().write(Path("sent.gcode"), whole())
    assert "bodies" in call("toolpath", str(sent), "--job", "job.toml", "--at", "0,0", status=1)
    Path("two.toml").write_text(product_of(name), encoding="utf-8")
    assert "wrote parts/two.scad" in call("product", "two.toml", "--out", "parts")
    drawn_by_gallery(name, call, monkeypatch)
    assert call.run == {command for command, _ in all_commands()}


#: By family two plates, their length and height (mm): what bends lies between or slides around one.
PLACES = {
    NAME: ("place = [0, 9, 90]\nmoving_place = [0, -9, 90]", 30, 2.4),
    SLIDE: ("place = [0, 0, 90]\nmoving_place = [-8, 0, 90]", 6, 5),
}


def product_of(name: str) -> str:
    """A product of the family."""
    places, length, height = PLACES[name]
    size = f'form = "plate"\nlength = {length}\nwidth = 6\nheight = {height}\n'
    joint = f'[joints.j]\nfamily = "{name}"\nfixed = "a"\nmoving = "b"\n{places}\n'
    return f'name = "two"\n[bodies.a]\n{size}[bodies.b]\n{size}{joint}'


def drawn_by_gallery(name: str, call: Commands, monkeypatch: pytest.MonkeyPatch) -> None:
    """The gallery of one family: small stills, in this process, which knows the family."""
    from scadgen.pictures.stills import still, still_in_the_dark

    for drawn in (still, still_in_the_dark):
        monkeypatch.setattr(drawn, "__defaults__", (SMALL,))
    monkeypatch.setattr(build, "write_gallery", partial(build.write_gallery, workers=1))
    call("gallery", "--out", "drawn")
    assert call("gallery", "--check", "--out", "drawn") == "drawn: as scadgen writes it\n"
    card = json.loads(Path(f"drawn/cards/{name}.json").read_text(encoding="utf-8"))
    assert card["materials"] == []
    assert "Strength" in card["untold"]
    assert not Path(f"drawn/curves/{name}_strength.svg").exists()
    page = Path(f"drawn/families/{name}.md").read_text(encoding="utf-8")
    assert "Its family tells no strength" in page
    assert f"{name}_strength" not in page + Path("drawn/index.html").read_text(encoding="utf-8")
    for made in (f"drawings/{name}.svg", f"forms/{name}.js", f"pictures/{name}_opened.png"):
        assert Path("drawn", made).stat().st_size > 1000
