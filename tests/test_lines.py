"""Layers that lines cannot print are refused everywhere, by one rule."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen import WaistedSpindle, check
from scadgen.cli.main import main
from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.inspection import Asked, inspect
from scadgen.jobs.job import load_job
from scadgen.printing.lines import LAYER_OF_LINE, LINE_WIDTH, TOO_HIGH, thickest_layer
from scadgen.proof.fleet.findings import fleet_finding
from scadgen.proof.fleet.population import ROUGH, LayerHeights
from scadgen.proof.fleet.room_left import TOO_FINE
from scadgen.proof.fleet.shares import fleet
from scadgen.sizing.wish import load_wish
from scadgen.tables.documents import JobError
from tests.proof.fleet.fleets import default, nothing_but
from tests.support import each_family, refusal, remedied

#: Layer height and line width, mm, that were once proven on every printer.
ABSURD = [(0.8, 0.2), (0.5, 0.3)]


@pytest.mark.parametrize(
    ("bore", "line", "low", "high"), [(0.4, 0.42, 0.28, 0.32), (0.6, 0.65, 0.42, 0.49)]
)
def test_the_limit_is_what_slicers_know(bore: float, line: float, low: float, high: float) -> None:
    """At most 0.8 of the bore, and what is in use with it, is let through; far more is not."""
    assert low <= thickest_layer(line) <= high + 0.01
    assert thickest_layer(line) <= 0.85 * bore


@each_family
@pytest.mark.parametrize(("layer", "line_width"), ABSURD)
def test_every_family_refuses_layers_too_high_for_its_lines(
    cls: type[Hinge], layer: float, line_width: float
) -> None:
    given = {"layer": layer, "line_width": line_width}
    error = refusal(cls, given)
    works = remedied(cls, given, error)
    assert error.param == "layer" or "layer" in error.works
    assert works.layer <= thickest_layer(works.line_width) + 1e-6


@each_family
def test_the_rule_is_the_one_definition(cls: type[Hinge]) -> None:
    (rule,) = (r for r in definition(cls).rules if r.param == "layer" and r.why == TOO_HIGH)
    for width in (0.2, 0.45, 1.2):
        limit = numbers(cls()).replaced(line_width=width)(rule.limit)
        assert float(limit) == pytest.approx(thickest_layer(width))
    assert cls().line_width == LINE_WIDTH
    assert cls().layer_share == LAYER_OF_LINE


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(
        'family = "side_cones"\n[printers]\nlayer_heights = [0.1, 0.5]\nline_width = 0.3\n'
        'material = "petg"\n'
    )
    return path


@pytest.mark.parametrize("command", ["check", "write", "fleet", "size", "choose"])
def test_every_command_with_a_job_names_the_key_and_what_works(
    command: str, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = ["--out", str(job.parent / "out")] if command == "write" else []
    assert main([command, str(job), *out]) == 2
    said = capsys.readouterr().err
    assert "printers.layer_heights = 0.5 mm" in said
    assert TOO_HIGH in said
    works = said.partition("This works: ")[2].rstrip(".\n").rpartition("= ")[2].strip("[]")
    job.write_text(job.read_text().replace("0.5", works))
    assert load_job(job).layer_heights == (0.1, float(works))
    assert load_wish(job).layer_heights == (0.1, float(works))


@pytest.mark.parametrize(("layer", "line"), ABSURD)
def test_inspect_refuses_layers_too_high_for_the_line(layer: float, line: float) -> None:
    with pytest.raises(JobError) as caught:
        Asked(layers=(0.1, layer), line_width=line)
    words = str(caught.value)
    assert words.startswith(f"layers = {layer:g} mm; with lines of {line:g} mm it must be at most ")
    works = float(words.partition("This works: ")[2].rstrip("."))
    assert Asked(layers=(0.1, works), line_width=line).layers == (0.1, works)


@pytest.mark.parametrize("line", [0.1, 3, float("nan")])
def test_inspect_refuses_a_line_that_is_none(line: float) -> None:
    with pytest.raises(JobError, match=r"line = .*; it must be 0\.2 to 1\.2 mm"):
        Asked(line_width=line)


def test_inspect_looks_for_walls_of_the_line_that_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A wall of 0.6 mm is one line and a half of 0.45 mm, and none of 0.8 mm."""
    wall = Manifold.cube((20, 0.6, 6)) + Manifold.cube((20, 10, 2))
    walls = {
        line: next(
            finding
            for finding in inspect([wall], Asked(layers=(0.2,), line_width=line)).verdict.findings
            if finding.name == "walls"
        )
        for line in (0.3, 0.45, 0.8)
    }
    assert [walls[line].passed for line in walls] == [True, True, False]
    assert [walls[line].marginal for line in walls] == [False, True, False]
    assert main(["inspect", str(tmp_path / "none.stl"), "--line", "0.3"]) == 2
    assert "layers = 0.3 mm; with lines of 0.3 mm" in capsys.readouterr().err


def test_printers_whose_layers_are_too_high_for_the_lines_fail() -> None:
    hinge = default("side_cones")
    half = nothing_but(layer=LayerHeights((0.2, 0.8), (1, 1), "made up"))
    found = fleet(hinge, half, 20_000)
    assert found.share_both.value == pytest.approx(0.5, abs=0.02)
    assert found.commonest is not None
    assert found.commonest.words == TOO_FINE
    assert found.commonest.share == pytest.approx(1 - found.share_both.value)
    assert found.worst is not None
    assert (found.worst.cause, found.worst.printer.layer) == (TOO_FINE, hinge.layer)
    assert found.worst.margin == pytest.approx(thickest_layer(hinge.line_width) - 0.8)


def test_usual_printers_print_usual_lines() -> None:
    """None of the heights of the named fleets is too high for lines of 0.4 mm and more."""
    found = fleet(default("side_cones"), ROUGH, 20_000)
    assert all(cause.words != TOO_FINE for cause in found.causes)
    assert max(ROUGH.layer.heights) <= thickest_layer(0.4) + 1e-9
    fine = fleet(WaistedSpindle(line_width=0.3, layer=0.2), ROUGH, 20_000)
    finding = fleet_finding(WaistedSpindle(line_width=0.3, layer=0.2), ROUGH, 20_000)
    assert not finding.passed
    assert finding.change.startswith("lines of 0.4 mm or wider")
    heights = np.array(ROUGH.layer.heights)
    weights = np.array(ROUGH.layer.weights)
    coarse = weights[heights > thickest_layer(0.3)].sum() / weights.sum()
    (cause,) = (cause for cause in fine.causes if cause.words == TOO_FINE)
    assert cause.share == pytest.approx(coarse, abs=0.02)


def test_a_height_that_is_asked_of_the_proof_is_held_against_the_lines() -> None:
    found = {f.name: f for f in check(WaistedSpindle(facets=16), [0.2, 0.5]).findings}
    assert found["layers of 0.2 mm"].passed
    thick = found["layers of 0.5 mm"]
    assert not thick.passed
    assert (thick.measured, thick.unit) == (0.5, "mm")
    assert thick.needed == pytest.approx(thickest_layer(LINE_WIDTH))
    assert "too high for its lines" in thick.words
