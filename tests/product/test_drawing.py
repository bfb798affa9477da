"""The model of a product, drawn by a real OpenSCAD: the same bodies, apart at any angle, shut."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from scadgen.product.outputs import product_file_names, product_files
from scadgen.product.proving import check_product
from tests import engine
from tests.product.support import box, chain, plain, tea
from tests.test_files import contents

if TYPE_CHECKING:
    from scadgen.product.model import Product

pytestmark = pytest.mark.openscad

#: Turns of the lid that are drawn, degrees; at the last one it is shut.
TURNS = (0, 5, 31, 64, 90, 127, 158, 175, 179, 180)
#: What six digits in a text of triangles, 0.0005 mm from 100 mm on, make of a volume.
ROUNDED = 5e-5
#: How far a lid may hover over its rim, mm.
HOVERS = 0.2


def chain_of_3() -> Product:
    return chain(3)


@cache
def files(name: str) -> dict[str, bytes]:
    product = {"small_box": box, "plain_box": plain, "tea_sampler_box": tea, "chain": chain_of_3}[
        name
    ]()
    return product_files(check_product(product), Path())


def written(name: str, folder: Path) -> Path:
    for file, data in files(name).items():
        (folder / file).write_bytes(data)
    return folder / f"{name}.scad"


def drawn(name: str, folder: Path, **settings: Any) -> Any:
    """The mesh that OpenSCAD draws, without any warning."""
    return engine.run(written(name, folder), folder, **settings).mesh


@pytest.mark.parametrize("name", ["small_box", "tea_sampler_box", "chain"])
def test_openscad_draws_the_bodies_that_were_proven(name: str, tmp_path: Path) -> None:
    import trimesh

    there = drawn(name, tmp_path, pose="printed")
    ours = trimesh.load_mesh(tmp_path / f"{name}.stl")
    assert there.volume == pytest.approx(ours.volume, rel=1e-4)
    assert there.bounds == pytest.approx(ours.bounds, abs=1e-3)
    assert there.body_count == ours.body_count


def test_lid_and_box_share_nothing_at_any_angle(tmp_path: Path) -> None:
    """Bodies that meet are drawn as one, and what they share is missing in the volume."""
    apart = _volumes(drawn("plain_box", tmp_path, pose="printed"))
    for turn in TURNS:
        there = drawn("plain_box", tmp_path, pose="angles", hinge_angle=turn)
        assert _volumes(there) == pytest.approx(apart, rel=ROUNDED), turn


def _volumes(mesh: Any) -> list[float]:
    return sorted(float(body.volume) for body in mesh.split())


def test_the_hook_is_under_its_ledge_when_the_lid_is_shut(tmp_path: Path) -> None:
    """On what OpenSCAD draws: shut, nothing meets; lifted straight, the hook meets the ledge."""
    from manifold3d import Manifold, Mesh

    def solid(mesh: Any) -> Manifold:
        return Manifold(Mesh(mesh.vertices.astype(np.float32), mesh.faces.astype(np.uint32)))

    parts = drawn("tea_sampler_box", tmp_path, pose="printed").split()
    low, lid = sorted(parts, key=lambda part: part.bounds[0][1])
    product = tea()
    (height,) = (fitted.hinge.axis()[0][2] for fitted in product.fitted.values())  # type: ignore[attr-defined]
    y = product.bodies["box"].width / 2 + product.fitted["hinge"].off  # type: ignore[attr-defined]
    there = solid(lid).translate((0, -y, -height)).rotate((180, 0, 0)).translate((0, y, height))
    drop = product.caught["snap"].hinge.drop  # type: ignore[attr-defined]
    shared = [(solid(low) ^ there.translate((0, 0, up))).volume() for up in (0.05, drop + 0.3, 30)]
    assert shared[0] < 0.01
    assert shared[1] > 0.1
    assert shared[2] < 0.01


def test_lid_and_hook_are_free_until_they_snap(tmp_path: Path) -> None:
    apart = _volumes(drawn("tea_sampler_box", tmp_path, pose="printed"))
    for turn in (60, 120, 160):
        there = drawn("tea_sampler_box", tmp_path, pose="angles", hinge_angle=turn)
        assert _volumes(there) == pytest.approx(apart, rel=ROUNDED), turn


@pytest.mark.parametrize("name", ["small_box", "tea_sampler_box"])
def test_the_shut_lid_lies_on_its_rim(name: str, tmp_path: Path) -> None:
    """Seen from outside: lid and box are as high as both together, and touching faces vanish."""
    product: Product = tea() if name == "tea_sampler_box" else box()
    low, lid = product.bodies["box"], product.bodies["lid"]
    printed = drawn(name, tmp_path, pose="printed")
    shut = drawn(name, tmp_path, pose="shut")
    inside = np.abs(shut.vertices[:, 0]) > low.length / 2 - 1e-3  # type: ignore[attr-defined]
    heights = shut.vertices[inside][:, 2]
    assert heights.max() == pytest.approx(low.height + lid.height, abs=HOVERS)  # type: ignore[attr-defined]
    touching = (printed.area - shut.area) / 2
    wall, x, y = low.wall, low.length, low.width  # type: ignore[attr-defined]
    rim = x * y - (x - 2 * wall) * (y - 2 * wall)
    assert touching == pytest.approx(rim, rel=0.1)


def test_a_higher_box_closes_too_because_the_axis_follows(tmp_path: Path) -> None:
    apart = drawn("small_box", tmp_path, pose="printed", box_height=19)
    shut = drawn("small_box", tmp_path, pose="shut", box_height=19)
    assert shut.volume == pytest.approx(apart.volume, rel=ROUNDED)
    assert (apart.area - shut.area) / 2 > 200


def test_the_same_product_gives_the_same_files() -> None:
    again = product_files(check_product(box()), Path())
    assert again == files("small_box")
    assert list(again) == product_file_names(box())


def test_the_command_writes_what_it_has_proven(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    from scadgen.cli.main import main
    from tests.product.test_reading import TEXT

    monkeypatch.chdir(tmp_path)
    Path("box.toml").write_text(TEXT, encoding="utf-8")
    assert main(["product", "box.toml", "--out", "made"]) == 0
    said = capsys.readouterr().out
    assert "small_box: proven" in said
    assert {name: data for name, data in contents(Path("made")).items() if name[0] != "."} == files(
        "small_box"
    )
    Path("box.toml").write_text(f"{TEXT}bed = [40, 40]\n", encoding="utf-8")
    assert main(["product", "box.toml", "--out", "none"]) == 1
    assert "nothing was written" in capsys.readouterr().err
    assert not Path("none").exists()
