"""The models of products in the newer OpenSCAD, too: without a warning, and the same solids."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.openscad.newer import run_each
from tests.product.test_drawing import written

pytestmark = [pytest.mark.newer]


@pytest.mark.parametrize("name", ["chain"])
def test_the_newer_openscad_draws_the_bodies_that_were_proven(name: str, tmp_path: Path) -> None:
    """In both poses: what is shut shares no volume."""
    import trimesh

    model = written(name, tmp_path)
    beside = [path for path in tmp_path.glob("*.scad") if path != model]
    assert beside
    poses = [{"pose": pose} for pose in ("printed", "shut")]
    runs = run_each(model, tmp_path, poses, "--backend=manifold", beside=beside)
    ours = trimesh.load_mesh(tmp_path / f"{name}.stl")
    for run in runs:
        assert run.mesh.volume == pytest.approx(ours.volume, rel=1e-4)
    assert runs[0].mesh.bounds == pytest.approx(ours.bounds, abs=1e-3)
    assert runs[0].mesh.body_count == ours.body_count
