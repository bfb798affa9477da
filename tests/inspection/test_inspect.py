"""Inspecting a model says what the proof of the hinge says that it was made from."""

from __future__ import annotations

import functools
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.cli.main import main
from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.inspection import Asked, Inspection, inspect
from scadgen.inspection.bodies import bodies
from scadgen.mechanism.joint import Case
from scadgen.meshfiles.reading import read
from scadgen.meshfiles.writing import three_mf
from scadgen.motion.axis import Axis
from scadgen.motion.swing import Swing, swing
from scadgen.proof.whole import Printed, WholeProof, prove
from scadgen.tables.documents import JobError
from scadgen.text.typeset import typeset
from tests.engine import opened, run
from tests.inspection.models import (
    FLEXURES,
    MOVED,
    PIVOTS,
    TURNED,
    ascii_stl,
    fixed_number,
    soup,
    written,
)

LAYERS = (0.2,)
FEW = 24  # facets that keep proofs quick
each_pivot = pytest.mark.parametrize("cls", PIVOTS.values(), ids=PIVOTS)
each_flexure = pytest.mark.parametrize("cls", FLEXURES.values(), ids=FLEXURES)


def demands(hinge: Hinge, path: Path) -> Asked:
    """What the hinge promises, asked of the model."""
    found, _ = bodies(read(path))
    return Asked(
        layers=LAYERS,
        clearance=hinge.clearance,
        swing=(hinge.lowest(), hinge.swing),
        fixed=fixed_number(found, hinge),
    )


def by_name(verdict: Any) -> dict[str, Any]:
    return {finding.name: finding for finding in verdict.findings}


@functools.cache
def own_proof(hinge: Hinge) -> WholeProof:
    """What its own mechanism's proof finds; parts, fleet and duty are no matter of a model."""
    printed = Printed(LAYERS, hinge.longest_bridge(), hinge.line_width)
    return prove(hinge.mechanism(), printed, Case())


@functools.cache
def turning(hinge: Pivot) -> Swing:
    fixed, moving = mesh(hinge, "fixed"), mesh(hinge, "moving")
    return swing(fixed, moving, Axis(*hinge.axis()))


def assert_same_verdict(hinge: Hinge, found: Inspection) -> None:
    """Pass or fail as in the hinge's own proof for every finding, and nothing is left out."""
    proven, inspected = by_name(own_proof(hinge)), by_name(found.verdict)
    resting = {name for name in inspected if name.startswith("at rest at ")}
    assert all(inspected.pop(name).passed for name in resting)
    assert set(inspected) == set(proven)
    assert {name: f.passed for name, f in inspected.items()} == {
        name: f.passed for name, f in proven.items()
    }
    for name in ("gap at rest", "gap on the way"):
        assert inspected[name].measured == pytest.approx(proven[name].measured, abs=0.02)


def assert_same_swing(hinge: Hinge, found: Inspection) -> None:
    assert isinstance(hinge, Pivot)
    turn = turning(hinge)
    measured = turned(found)
    assert measured.low == pytest.approx(turn.low, abs=1)
    assert measured.high == pytest.approx(turn.high, abs=1)


def turned(found: Inspection) -> Swing:
    """How far the only joint turned."""
    (joint,) = found.joints
    assert joint.turn is not None
    return joint.turn


def pair(found: Inspection) -> tuple[int, int]:
    """The numbers of the bodies of the only joint."""
    (joint,) = found.joints
    return joint.pair


@each_pivot
def test_what_is_written_inspects_as_it_is_proven(cls: type[Hinge], tmp_path: Path) -> None:
    hinge = cls(facets=FEW)
    path = written(tmp_path, hinge)
    found = inspect(path, demands(hinge, path))
    assert_same_verdict(hinge, found)
    assert_same_swing(hinge, found)


@pytest.mark.openscad
@each_pivot
def test_what_openscad_writes_inspects_as_it_is_proven(cls: type[Hinge], tmp_path: Path) -> None:
    hinge = cls(facets=FEW)
    assert isinstance(hinge, Pivot)
    path = run(opened(hinge), tmp_path).output
    found = inspect(path, demands(hinge, path))
    assert_same_verdict(hinge, found)
    assert_same_swing(hinge, found)
    (joint,) = found.joints
    origin, direction = hinge.axis()
    off = np.subtract(joint.axis.axis.origin, origin)
    assert np.linalg.norm(np.cross(off, direction)) < 0.02
    assert np.linalg.norm(np.cross(joint.axis.axis.unit, direction)) < np.radians(0.1)


@each_flexure
def test_one_body_is_no_hinge_and_has_its_printing_judged(cls: type[Hinge], tmp_path: Path) -> None:
    hinge = cls()
    path = written(tmp_path, hinge)
    found = inspect(path, Asked(layers=LAYERS))
    assert found.joints == ()
    failed = [finding for finding in found.verdict.findings if not finding.passed]
    assert [finding.name for finding in failed] == ["joint"]
    assert "no hinge, or links that are welded together" in failed[0].words
    loose = inspect(path, Asked(layers=LAYERS, loose=(1,)))
    assert loose.passed
    proven, inspected = by_name(own_proof(hinge)), by_name(loose.verdict)
    both = set(inspected) & set(proven)
    assert "layers of 0.2 mm" in both
    assert set(inspected) - both == {"body", "body is loose", "footing of the body"}
    assert {name: inspected[name].passed for name in both} == {
        name: proven[name].passed for name in both
    }


def one_pivot(**values: float) -> Hinge:
    return next(iter(PIVOTS.values()))(facets=FEW, **values)


def test_gap_and_swing_are_the_same_wherever_the_model_stands(tmp_path: Path) -> None:
    hinge = one_pivot()
    straight, askew = tmp_path / "straight.stl", tmp_path / "askew.stl"
    triangles = soup(mesh(hinge))
    straight.write_bytes(ascii_stl(triangles))
    askew.write_bytes(ascii_stl(triangles @ TURNED.T + MOVED))
    one, other = (
        inspect(path, Asked(layers=(0.3,), fixed=fixed_number(bodies(read(path))[0], hinge)))
        for path in (straight, askew)
    )
    ends = [sorted((abs(turned(found).low), abs(turned(found).high))) for found in (one, other)]
    assert ends[1] == pytest.approx(ends[0], abs=0.1)
    assert turned(other).gap == pytest.approx(turned(one).gap, abs=0.005)
    for found in (one, other):
        closest = found.joints[0].closest
        assert closest is not None
        apart = np.linalg.norm(np.subtract(closest.fixed, closest.moving))
        assert apart == pytest.approx(closest.gap, abs=1e-6)
        assert turned(found).gap - 1e-3 <= closest.gap <= turned(found).gap_most + 1e-3


def test_solids_and_3mf_inspect_alike(tmp_path: Path) -> None:
    hinge = one_pivot()
    parts = {name: mesh(hinge, name) for name in ("fixed", "moving")}
    (tmp_path / "a.3mf").write_bytes(three_mf("a", "", parts))
    asked = Asked(layers=(0.3,))
    one, other = inspect(tmp_path / "a.3mf", asked), inspect(list(parts.values()), asked)
    assert one.passed
    assert {n: f.passed for n, f in by_name(one.verdict).items()} == {
        n: f.passed for n, f in by_name(other.verdict).items()
    }


def eye(bore: float = 2.4) -> Manifold:
    ring = Manifold.cylinder(4, 5, 5, 32) - Manifold.cylinder(6, bore, bore, 32).translate(
        (0, 0, -1)
    )
    return ring.translate((0, 0, 1))


PIN = Manifold.cylinder(6, 2, 2, 32)


def test_a_pin_that_slips_out_is_not_held_and_turns_without_end() -> None:
    found = inspect([PIN, eye()], Asked(layers=(0.3,)))
    assert (turned(found).stopped_low, turned(found).stopped_high) == (False, False)
    findings = by_name(found.verdict)
    assert findings["swing"].passed
    assert findings["gap at rest"].measured == pytest.approx(0.4, abs=0.01)
    assert not findings["hold at 0 deg"].passed
    assert not findings["hold at 90 deg"].passed
    assert not findings["layers of 0.3 mm"].passed  # the eye starts in the air
    assert not found.passed


def test_the_gap_that_is_asked_decides() -> None:
    for clearance, passed in ((0.35, True), (0.45, False)):
        found = inspect([PIN, eye()], Asked(layers=(0.3,), clearance=clearance))
        assert by_name(found.verdict)["gap at rest"].passed is passed
        assert by_name(found.verdict)["gap on the way"].passed is passed
    narrow = by_name(inspect([PIN, eye(2.08)], Asked(layers=(0.3,))).verdict)["gap at rest"]
    assert not narrow.passed
    assert "none is asked, less than 0.1 mm fuses" in narrow.words


def test_bodies_that_overlap_are_measured_and_fail() -> None:
    found = inspect([PIN, eye(1.9)], Asked(layers=(0.3,), axis=(0, 0, 0, 0, 0, 1)))
    findings = by_name(found.verdict)
    assert not findings["gap at rest"].passed
    assert not findings["swing"].passed
    assert (
        findings["hold at 0 deg"].words == "not measured: the bodies overlap when turned to there."
    )
    assert found.joints[0].closest is None


def test_the_fixed_body_has_more_on_the_bed_unless_told() -> None:
    asked = {"layers": (0.3,), "axis": (0, 0, 0, 0, 0, 1)}
    assert pair(inspect([PIN, eye()], Asked(**asked))) == (2, 1)  # type: ignore[arg-type]
    assert pair(inspect([PIN, eye()], Asked(**asked, fixed=1))) == (1, 2)  # type: ignore[arg-type]


def test_a_body_that_no_joint_holds_fails_unless_it_is_loose() -> None:
    crumb = Manifold.cube((1, 1, 1)).translate((20, 0, 0))
    found = inspect([PIN, eye(), crumb], Asked(layers=(0.3,)))
    assert set(pair(found)) == {1, 2}
    assert any("body 3 (no joint): 1 mm3" in line for line in found.lines())
    held = by_name(found.verdict)["body 3 is held"]
    assert not held.passed
    assert held.words == "no joint holds it, and nobody said that it is loose."
    asked = Asked(layers=(0.3,), loose=(3,))
    findings = by_name(inspect([PIN, eye(), crumb], asked).verdict)
    assert "body 3 is held" not in findings
    assert findings["body 3 is loose"].passed
    asked = Asked(layers=(0.3,), bodies=(3, 1), axis=(0, 0, 0, 0, 0, 1))
    assert set(pair(inspect([PIN, eye(), crumb], asked))) == {1, 3}


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"bodies": (1, 3)}, "bodies = 1,3; it must be two different bodies, 1 to 2."),
        ({"bodies": (1, 1)}, "bodies = 1,1; it must be two different bodies"),
        ({"fixed": 3}, "fixed = 3; it must be one of the bodies that turn, 1 or 2."),
        ({"axis": (0, 0, 0, 0, 0, 0)}, "axis = 0,0,0,0,0,0; it must be six numbers"),
        ({"settings": {"a": "1"}, "solids": [PIN]}, "only an OpenSCAD file has values to set"),
        (
            {"swing": (0, 90), "solids": [PIN]},
            "swing: asked of two bodies",
        ),
        ({"clearance": 0.3, "fixed": 1, "solids": [PIN]}, "clearance, fixed: asked of two bodies"),
        ({"solids": []}, "its triangles enclose nothing"),
        ({"loose": (3,)}, "loose = 3; it must be one of the bodies, 1 to 2."),
    ],
)
def test_demands_that_the_model_cannot_meet_are_refused(asked: Any, words: str) -> None:
    solids = asked.pop("solids", [PIN, eye()])
    with pytest.raises(JobError) as caught:
        inspect(solids, Asked(**asked))
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "asked",
    [
        {"layers": ()},
        {"layers": (0.2, 9.0)},
        {"layers": (float("nan"),)},
        {"clearance": 0.0},
        {"clearance": 3.0},
        {"clearance": float("nan")},
        {"swing": (10, 90)},
        {"swing": (-90, 400)},
        {"swing": (float("nan"), 90)},
        {"bridge": -1.0},
    ],
)
def test_demands_that_make_no_sense_are_refused_with_one_that_works(asked: Any) -> None:
    with pytest.raises(JobError, match="This works: "):
        Asked(**asked)


@pytest.fixture
def pin_in_eye(tmp_path: Path) -> Path:
    path = tmp_path / "pin.stl"
    path.write_bytes(ascii_stl(soup(PIN, eye())))
    return path


COMMON = ["--layers", "0.3", "--axis", "-0,0,-1,0,0,1"]


def test_the_command_prints_what_was_found_then_the_verdict(
    pin_in_eye: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["inspect", str(pin_in_eye), *COMMON, "--swing", "-30,30"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("     body 1 (moving): ")
    assert lines[2] == (
        "     axis: through (0, 0, -1) along (0, 0, 1); as told; a turn from -4 to 4° meets nothing"
    )
    assert "     turn: no stop up to -360° and no stop up to 360°" in lines
    assert any(line.startswith("     closest: 0.3") for line in lines)
    assert any(line.startswith("FAIL hold at 25°: ") for line in lines)
    assert main(["inspect", str(pin_in_eye), *COMMON, "--quiet"]) == 1
    assert all(line[:5] in ("FAIL ", " " * 5) for line in capsys.readouterr().out.splitlines())


def test_the_command_as_json(pin_in_eye: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", str(pin_in_eye), *COMMON, "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    (joint,) = said["joints"]
    assert (said["name"], said["passed"], joint["pair"]) == ("pin.stl", False, [2, 1])
    assert [body["number"] for body in said["bodies"]] == [1, 2]
    assert joint["axis"]["direction"] == [0, 0, 1]
    assert joint["axis"]["sure"] == "told"
    assert joint["turn"]["stopped_high"] is False
    assert joint["closest"]["gap"] == pytest.approx(0.4, abs=0.02)
    assert {"gap at rest", "swing", "layers of 0.3 mm"} <= {f["name"] for f in said["findings"]}


def test_a_small_model_may_be_in_inches(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "small.stl"
    path.write_bytes(ascii_stl(soup(Manifold.cube((30, 20, 20))) / 25.4))
    assert main(["inspect", str(path), "--loose", "1"]) == 0
    assert "largest side is 1.18 mm; if those are inches" in capsys.readouterr().out
    assert main(["inspect", str(path), "--loose", "1", "--scale", "25.4"]) == 0
    said = capsys.readouterr().out
    assert "inches" not in said
    assert f"body 1 (loose): {typeset('12000 mm3, 30.0 x 20.0 x 20.0 mm')}" in said


@pytest.mark.parametrize(
    "arguments", [["--swing", "90"], ["--axis", "1,2"], ["--bodies", "1,x"], ["--layers", ""]]
)
def test_lists_that_are_none_end_with_2(
    arguments: list[str], pin_in_eye: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["inspect", str(pin_in_eye), *arguments])
    assert ended.value.code == 2
    assert f"argument {arguments[0]}" in capsys.readouterr().err


@pytest.mark.openscad
def test_an_openscad_file_is_rendered_with_its_values(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "plate.scad"
    path.write_text("thick = 3;\ncube([30, 20, thick]);\n")
    assert main(["inspect", str(path), "--layers", "0.2", "--loose", "1", "--set", "thick=5"]) == 0
    assert "body 1 (loose): 3000 mm³" in capsys.readouterr().out
    assert main(["inspect", str(path), "--set", "tick=5"]) == 2
    assert f"scadgen: {path}: setting tick; the file assigns no tick; did you mean thick?" in (
        capsys.readouterr().err
    )
    assert list(tmp_path.iterdir()) == [path]


def test_progress_is_told() -> None:
    said: list[str] = []
    tell: Callable[[str], None] = said.append
    inspect([PIN, eye()], Asked(layers=(0.3,)), tell)
    assert said[:5] == ["reading", "axis", "bodies", "swing", "hold"]
