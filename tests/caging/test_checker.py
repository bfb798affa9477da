"""The checker of stored certificates, which shares nothing with what found them."""

from __future__ import annotations

import ast
import hashlib
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from manifold3d import CrossSection, JoinType

import scadgen.caging.checker as checker
from scadgen.caging.checker import RefusedError, check

from .held import PIVOTS, held, stored

#: Certificates that were tampered with, of each kind, and families: 102 in all.
TIMES = 17


def sealed(told: dict[str, Any]) -> dict[str, Any]:
    """Sealed anew, as one would who knows how."""
    told = {key: value for key, value in told.items() if key != "seal"}
    return told | {"seal": hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()}


@pytest.mark.parametrize("family", PIVOTS)
def test_every_stored_certificate_is_accepted(family: str) -> None:
    cells = check(stored(family))
    assert cells == sum(node.place >= 0 for node in held(family).cover.nodes)


def test_it_imports_nothing_but_python_and_is_short() -> None:
    source = Path(checker.__file__).read_text(encoding="utf-8")
    imported = [
        node
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    names = {
        name
        for node in imported
        for name in (
            [node.module]
            if isinstance(node, ast.ImportFrom)
            else [alias.name for alias in node.names]
        )
    }
    assert names <= sys.stdlib_module_names | {"collections.abc"}
    assert len(source.splitlines()) < 150


@pytest.mark.parametrize("family", ["captive_cone", "side_cones"])
@pytest.mark.parametrize("seed", range(TIMES))
def test_a_dropped_cell_is_missed(family: str, seed: int) -> None:
    told, draw = stored(family), np.random.default_rng(seed)
    face = told["faces"][str(draw.choice([*told["faces"]]))]
    del face[int(draw.integers(len(face)))]
    with pytest.raises((RefusedError, IndexError)):
        check(sealed(told))


@pytest.mark.parametrize("family", ["captive_cone", "side_cones"])
@pytest.mark.parametrize("seed", range(TIMES))
def test_a_raised_depth_is_refused(family: str, seed: int) -> None:
    told = stored(family)
    told["depth"] += 10.0 ** np.random.default_rng(seed).uniform(-6, 0)
    with pytest.raises(RefusedError, match="mm only"):
        check(sealed(told))


@pytest.mark.parametrize("family", ["captive_cone", "side_cones"])
@pytest.mark.parametrize("seed", range(TIMES))
def test_a_changed_section_is_refused(family: str, seed: int) -> None:
    told, draw = stored(family), np.random.default_rng(seed)
    outline = told[str(draw.choice(["fixed", "moving"]))][0]
    outline[int(draw.integers(len(outline)))][int(draw.integers(2))] += draw.uniform(0.01, 1)
    with pytest.raises(RefusedError, match="changed after it was written"):
        check(told)


def test_a_seal_made_anew_saves_no_section_that_holds_less() -> None:
    """Half of what blocks the worst way taken off both bodies, and a little more."""
    told = stored("waisted_spindle")
    with pytest.raises(RefusedError, match="mm only"):
        check(sealed(worn(told, 0.52)))


def test_it_holds_until_each_body_has_lost_half_of_the_depth() -> None:
    told = stored("waisted_spindle")
    assert check(sealed(worn(told, 0.48) | {"depth": 1e-3})) > 0


def worn(told: dict[str, Any], share: float) -> dict[str, Any]:
    """Both bodies less a share of the depth all around."""
    lost = share * told["depth"]
    for name in ("fixed", "moving"):
        outlines = [np.array(outline) for outline in told[name]]
        # Mirrored in the axis, so that nothing is lost there.
        whole = CrossSection(outlines) + CrossSection(outlines).mirror((1, 0))
        half = whole.offset(-lost, JoinType.Round) ^ CrossSection(
            [[(0, -999), (999, -999), (999, 999), (0, 999)]]
        )
        told[name] = [outline.tolist() for outline in half.to_polygons()]
    return told


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("depth", 0.0, "it claims nothing"),
        ("region", {"aside": 1, "below": 1, "above": -1, "tilt": 1}, "does not surround rest"),
        ("region", {"aside": 1, "below": 1, "above": 1, "tilt": 4}, "does not surround rest"),
    ],
)
def test_a_claim_that_says_nothing_is_refused(key: str, value: object, words: str) -> None:
    with pytest.raises(RefusedError, match=words):
        check(sealed(stored("side_cones") | {key: value}))


@pytest.mark.parametrize("faces", [[0, 0], [-1], [-5, 0, 0], []])
def test_a_face_that_is_no_tree_is_refused(faces: list[int]) -> None:
    told = stored("side_cones")
    told["faces"]["tilt"] = faces
    with pytest.raises(RefusedError, match=r"face|cell"):
        check(sealed(told))


def test_it_runs_on_a_file(tmp_path: Path) -> None:
    good, bad = tmp_path / "good.json", tmp_path / "bad.json"
    good.write_text(json.dumps(stored("side_cones")))
    bad.write_text("{}")
    runs = [
        subprocess.run(
            [sys.executable, "-I", checker.__file__, str(path)], capture_output=True, text=True
        )
        for path in (good, bad, tmp_path / "none.json")
    ]
    assert [run.returncode for run in runs] == [0, 1, 1]
    assert runs[0].stdout.startswith("holds: ")
    assert all(run.stderr.startswith("refused: ") for run in runs[1:])
    assert all(len(run.stderr.splitlines()) == 1 for run in runs[1:])


def test_it_says_what_it_wants() -> None:
    run = subprocess.run([sys.executable, "-I", checker.__file__], capture_output=True, text=True)
    assert run.returncode == 2
    assert run.stderr == "usage: python -m scadgen.caging.checker FILE\n"
