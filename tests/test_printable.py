"""STL and 3MF hold the hinge's own solids, whole for whoever reads them."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import zipfile
from typing import Any, cast

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.families.waisted_spindle import WaistedSpindle
from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.meshing import mesh
from scadgen.meshfiles.writing import stl, three_mf, unit_normals
from tests.support import ROOT, each_family, some_hinges, thorough


def bodies(hinge: Hinge) -> dict[str, Any]:
    pieces = definition(type(hinge)).pieces
    drawn = [piece.parts[-1] for piece in pieces if "both" in piece.parts]
    return {part: mesh(hinge, part) for part in drawn}


def read_stl(data: bytes, **options: Any) -> Any:
    import trimesh

    return trimesh.load_mesh(io.BytesIO(data), file_type="stl", **options)


@each_family
def test_stl_holds_the_whole_hinge(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 20 if thorough() else 8):
        solid = mesh(hinge)
        read = read_stl(stl(solid))
        assert read.is_watertight
        assert read.is_winding_consistent
        assert read.volume == pytest.approx(solid.volume(), rel=1e-5)
        assert read.body_count == len(solid.decompose())
        assert read.bounds.ravel() == pytest.approx(solid.bounding_box(), abs=1e-4)


@each_family
def test_stl_is_what_another_writer_makes_of_the_same_triangles(cls: type[Hinge]) -> None:
    """Byte by byte; the other works out its own normals."""
    from trimesh import Trimesh

    for hinge in some_hinges(cls, 5):
        data = stl(mesh(hinge))
        read = read_stl(data, process=False)
        assert Trimesh(read.vertices, read.faces, process=False).export(file_type="stl") == data


def test_stl_of_nothing_is_a_head() -> None:
    assert stl(Manifold()) == bytes(84)


def test_a_triangle_without_an_area_has_no_normal() -> None:
    thin = [[0, 0, 0], [1, 0, 0], [2, 0, 0]]
    found = unit_normals(np.array([thin, [[0, 0, 0], [0, 3, 0], [0, 0, 2]]], float))
    assert found.tolist() == [[0, 0, 0], [1, 0, 0]]


@each_family
def test_stl_of_a_hinge_as_it_prints_has_its_bodies(cls: type[Hinge]) -> None:
    assert read_stl(stl(mesh(cls()))).body_count == len(bodies(cls()))


def test_corners_that_a_file_cannot_tell_apart_become_one() -> None:
    """The bare solid tears where a reader puts its corners together; what is written does not."""
    from trimesh import Trimesh

    solid = mesh(WaistedSpindle())
    bare = solid.to_mesh64()
    shape = Trimesh(bare.vert_properties[:, :3], bare.tri_verts, process=False)
    assert not read_stl(cast(bytes, shape.export(file_type="stl"))).is_watertight
    assert read_stl(stl(solid)).is_watertight


@each_family
def test_3mf_holds_each_body_by_name(cls: type[Hinge]) -> None:
    import trimesh

    solids = bodies(cls())
    data = three_mf("lid", "Lid", solids)
    read = trimesh.load_scene(io.BytesIO(data), file_type="3mf")
    assert read.units == "millimeter"
    assert set(read.geometry) == set(solids)
    for name, body in read.geometry.items():
        assert body.is_watertight
        assert body.volume == pytest.approx(solids[name].volume(), rel=1e-6)
    assert read.bounds.ravel() == pytest.approx(mesh(cls()).bounding_box(), abs=1e-4)


def test_3mf_is_a_sound_package() -> None:
    from lxml import etree

    title = 'Lid <b> & "co" ]]>'
    archive = zipfile.ZipFile(io.BytesIO(three_mf("lid", title, bodies(WaistedSpindle()))))
    assert archive.testzip() is None
    names = ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
    assert archive.namelist() == names
    types, relations, model = (etree.fromstring(archive.read(name)) for name in names)
    assert {e.get("Extension") for e in types} == {"rels", "model"}
    assert [e.get("Target") for e in relations] == ["/3D/3dmodel.model"]
    assert model.get("unit") == "millimeter"
    assert [e.text for e in model.iter("{*}metadata") if e.get("name") == "Title"] == [title]
    names_by_id = {e.get("id"): e.get("name") for e in model.iter("{*}object")}
    assert list(names_by_id.values()) == ["fixed", "moving", "lid"]
    assert [names_by_id[e.get("objectid")] for e in model.iter("{*}item")] == ["lid"]
    held = [names_by_id[e.get("objectid")] for e in model.iter("{*}component")]
    assert held == ["fixed", "moving"]


def test_the_same_hinge_gives_the_same_bytes() -> None:
    """In another process too, with other hashes."""
    script = (
        "import hashlib; from tests.test_printable import *; "
        "data = stl(mesh(WaistedSpindle())) + three_mf('lid', '', bodies(WaistedSpindle())); "
        "print(hashlib.sha256(data).hexdigest())"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", script],
            check=True,
            capture_output=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1
