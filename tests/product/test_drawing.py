"""The model of a product, drawn by a real OpenSCAD: the same bodies, apart at any angle, shut."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from scadgen.meshfiles.carried import PRODUCT, carried
from scadgen.product.outputs import product_file_names, product_files
from scadgen.product.proving import check_product
from tests import engine
from tests.product.support import book, box, chain, tea
from tests.test_files import contents

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.product.model import Product

pytestmark = pytest.mark.openscad

#: What two bodies share where they touch, mm3: no more than digits in a file make.
SHARED = 0.01
#: What six digits in a text of triangles, 0.0005 mm from 100 mm on, make of a volume.
ROUNDED = 5e-5
#: How far a lid may hover over its rim, mm.
HOVERS = 0.2


def chain_of_3() -> Product:
    return chain(3)


MADE = {
    "small_box": box,
    "tea_sampler_box": tea,
    "chain": chain_of_3,
    "book": book,
}


@cache
def files(name: str) -> dict[str, bytes]:
    return product_files(check_product(MADE[name]()), Path())


def written(name: str, folder: Path) -> Path:
    for file, data in files(name).items():
        (folder / file).write_bytes(data)
    return folder / f"{name}.scad"


def drawn(name: str, **settings: Any) -> Any:
    """The mesh that OpenSCAD draws, without any warning; once for all tests that ask for it."""
    return _drawn(name, tuple(sorted(settings.items())))


@cache
def _drawn(name: str, settings: tuple[tuple[str, Any], ...]) -> Any:
    with TemporaryDirectory() as folder:
        return engine.run(written(name, Path(folder)), Path(folder), **dict(settings)).mesh


@pytest.mark.parametrize("name", ["small_box", "tea_sampler_box", "chain", "book"])
def test_openscad_draws_the_bodies_that_were_proven(name: str, tmp_path: Path) -> None:
    import trimesh

    there = drawn(name, pose="printed")
    ours = trimesh.load_mesh(written(name, tmp_path).with_suffix(".stl"))
    assert there.volume == pytest.approx(ours.volume, rel=1e-4)
    assert there.bounds == pytest.approx(ours.bounds, abs=1e-3)
    assert there.body_count == ours.body_count


def solids(name: str) -> tuple[Manifold, Manifold]:
    """Box and lid as printed, out of what OpenSCAD draws."""
    from manifold3d import Manifold, Mesh

    parts = drawn(name, pose="printed").split()
    low, lid = sorted(parts, key=lambda part: part.bounds[0][1])
    meshes = [Mesh(p.vertices.astype(np.float32), p.faces.astype(np.uint32)) for p in (low, lid)]
    return Manifold(meshes[0]), Manifold(meshes[1])


def turned(lid: Manifold, product: Any, turn: float) -> Manifold:
    """The lid about the axis of its hinge, by another program."""
    hinge = product.fitted["hinge"]
    y, height = product.bodies["box"].width / 2 + hinge.off, hinge.hinge.axis()[0][2]
    return lid.translate((0, -y, -height)).rotate((turn, 0, 0)).translate((0, y, height))


def test_lid_and_box_share_nothing_at_any_degree() -> None:
    (low, lid), product = solids("small_box"), box()
    shared = [(low ^ turned(lid, product, turn)).volume() for turn in range(181)]
    assert max(shared) < SHARED
    assert (low ^ turned(lid, product, 181)).volume() > 10 * SHARED


def test_openscad_turns_the_lid_as_we_do() -> None:
    (low, lid), product = solids("small_box"), box()
    for turn in (31, 158):
        there = drawn("small_box", pose="angles", hinge_angle=turn)
        ours = (low + turned(lid, product, turn)).bounding_box()
        assert there.bounds.reshape(-1) == pytest.approx(ours, abs=1e-3)
        assert there.body_count == 2


def test_the_hook_is_under_its_ledge_when_the_lid_is_shut() -> None:
    """Free until it snaps; shut, nothing meets; lifted straight, the hook meets the ledge."""
    (low, lid), product = solids("tea_sampler_box"), tea()
    shared = [(low ^ turned(lid, product, turn)).volume() for turn in range(0, 161, 4)]
    assert max(shared) < SHARED
    shut, drop = turned(lid, product, 180), product.caught["snap"].hinge.drop  # type: ignore[attr-defined]
    lifted = [(low ^ shut.translate((0, 0, up))).volume() for up in (0.05, drop + 0.3, 30)]
    assert lifted[0] < SHARED
    assert lifted[1] > 10 * SHARED
    assert lifted[2] < SHARED


@pytest.mark.parametrize("name", ["small_box", "tea_sampler_box"])
def test_the_shut_lid_lies_on_its_rim(name: str) -> None:
    """Seen from outside: lid and box are as high as both together, and touching faces vanish."""
    product: Product = tea() if name == "tea_sampler_box" else box()
    low, lid = product.bodies["box"], product.bodies["lid"]
    printed = drawn(name, pose="printed")
    shut = drawn(name, pose="shut")
    inside = np.abs(shut.vertices[:, 0]) > low.length / 2 - 1e-3  # type: ignore[attr-defined]
    heights = shut.vertices[inside][:, 2]
    assert heights.max() == pytest.approx(low.height + lid.height, abs=HOVERS)  # type: ignore[attr-defined]
    touching = (printed.area - shut.area) / 2
    wall, x, y = low.wall, low.length, low.width  # type: ignore[attr-defined]
    rim = x * y - (x - 2 * wall) * (y - 2 * wall)
    assert touching == pytest.approx(rim, rel=0.1)


def test_what_bends_is_drawn_bent_as_it_is_proven() -> None:
    from scadgen.hinge.meshing import mesh
    from scadgen.product.joints import PlacedFold

    whole = check_product(book()).whole
    (fold,) = whole.joints
    assert isinstance(fold, PlacedFold)
    (fitted,) = book().fitted.values()
    bent = fold.frame.carry(mesh(fitted.hinge, "both", 50))
    front, cover = whole.bodies
    ours = bent + front.solid + fold.moved(cover.solid, 50)
    there = drawn("book", pose="angles", spine_angle=50)
    assert there.volume == pytest.approx(ours.volume(), rel=1e-3)
    assert there.bounds.ravel() == pytest.approx(ours.bounding_box(), abs=0.01)
    assert there.body_count == 1


def test_a_looser_hinge_has_its_bodies_further_apart() -> None:
    wide = drawn("small_box", pose="printed", hinge_clearance=0.35)
    usual = drawn("small_box", pose="printed")
    more = 2 * (1 + 2**0.5) * 0.05
    assert np.ptp(wide.bounds[:, 1]) - np.ptp(usual.bounds[:, 1]) == pytest.approx(more, abs=1e-3)
    assert wide.body_count == 2


def test_a_higher_box_closes_too_because_the_axis_follows() -> None:
    apart = drawn("small_box", pose="printed", box_height=19)
    shut = drawn("small_box", pose="shut", box_height=19)
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
    made = {name: data for name, data in contents(Path("made")).items() if name[0] != "."}
    assert made.keys() == files("small_box").keys()
    told = {name for name, data in made.items() if data != files("small_box")[name]}
    assert told == {"small_box.3mf"}, "that carries the file from which it was proven"
    proof = carried(Path("made/small_box.3mf"))
    assert proof
    assert proof.texts[PRODUCT] == TEXT
    Path("box.toml").write_text(f"{TEXT}bed = [40, 40]\n", encoding="utf-8")
    assert main(["product", "box.toml", "--out", "none"]) == 1
    assert "nothing was written" in capsys.readouterr().err
    assert not Path("none").exists()
