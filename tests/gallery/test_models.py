"""Models for the viewer hold the same solids as the mesh reading, where and how they turn."""

from __future__ import annotations

import base64
import io
import json
import struct
from typing import Any

import numpy as np
import pytest
import trimesh

from scadgen import RodLoops, SheetFlexure
from scadgen.hinge.family import Hinge
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.pictures.models import POSES, model, model_script
from scadgen.pictures.palette import LIGHT
from tests.support import each_family

MM = 1000  # glTF is in metres


def loaded(hinge: Hinge) -> trimesh.Scene:
    scene = trimesh.load(io.BytesIO(model(hinge)), file_type="glb")
    assert isinstance(scene, trimesh.Scene)
    return scene


def facts(hinge: Hinge) -> dict[str, Any]:
    """What the root tells a viewer."""
    data = model(hinge)
    length, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    return dict(json.loads(data[20 : 20 + length])["nodes"][0]["extras"])


def placed(scene: trimesh.Scene, name: str) -> trimesh.Trimesh:
    """A node's solid as a viewer places it, in mm with z up."""
    transform, geometry = scene.graph[name]
    solid: trimesh.Trimesh = scene.geometry[geometry].copy()
    solid.apply_transform(turned(90, (1, 0, 0)) @ np.diag([MM, MM, MM, 1]) @ transform)
    return solid


def turned(degrees: float, axis: Any) -> Any:
    """The matrix of a turn about an axis through the origin."""
    matrix = np.eye(4)
    matrix[:3] = Axis((0, 0, 0), tuple(axis)).matrix(degrees)
    return matrix


def axis_of(hinge: Hinge) -> Axis | None:
    """The axis of its only joint, if it turns."""
    (joint,) = hinge.mechanism().joints
    return joint.axis


def bends(scene: trimesh.Scene) -> dict[float, str]:
    return {float(name.split()[1]): name for name in scene.graph.nodes_geometry}


def assert_same(found: trimesh.Trimesh, wanted: Any) -> None:
    assert found.is_watertight
    assert found.volume == pytest.approx(wanted.volume(), rel=1e-4)
    low, high = np.reshape(wanted.bounding_box(), (2, 3))
    assert found.bounds == pytest.approx(np.array([low, high]), abs=2e-3)


@each_family
def test_the_solids_are_those_of_the_mesh_reading(cls: type[Hinge]) -> None:
    hinge = cls()
    scene = loaded(hinge)
    if axis_of(hinge):
        assert set(scene.graph.nodes_geometry) == {"fixed", "moving"}
        for part in ("fixed", "moving"):
            assert_same(placed(scene, part), mesh(hinge, part, angle=0))
    else:
        for angle, name in bends(scene).items():
            assert_same(placed(scene, name), mesh(hinge, angle=angle))


@each_family
def test_the_moving_node_turns_about_the_hinge(cls: type[Hinge]) -> None:
    """As a viewer does it: a turn of the node itself, its origin staying where it is."""
    hinge = cls()
    about = axis_of(hinge)
    if about is None:
        assert facts(hinge)["angles"] == sorted(bends(loaded(hinge)))
        return
    scene = loaded(hinge)
    _, geometry = scene.graph["moving"]
    axis = facts(hinge)["axis"]
    assert axis == list(about.direction)
    scene.geometry[geometry].apply_transform(turned(hinge.swing, axis))
    still = mesh(hinge, "moving", angle=0)
    assert_same(placed(scene, "moving"), about.turn(still, hinge.swing))


@each_family
def test_a_viewer_is_told_the_whole_way(cls: type[Hinge]) -> None:
    hinge = cls()
    said = facts(hinge)
    low, high = hinge.mechanism().joints[0].ends
    assert said["range"] == [low, high]
    assert low <= hinge.lowest()
    assert high >= hinge.swing
    if "angles" in said:
        assert said["angles"][0] == low
        assert said["angles"][-1] == high
        assert len(said["angles"]) == POSES + 1


@pytest.mark.parametrize("ends", [(90, 90), (30, 90), (90, 10), (180, 60)])
def test_a_sheet_lies_flat_among_its_bends(ends: tuple[float, float]) -> None:
    hinge = SheetFlexure(swing=ends[1], swing_down=ends[0], web_length=30)
    angles = facts(hinge)["angles"]
    assert 0 in angles
    assert angles == sorted(set(angles))
    assert (angles[0], angles[-1]) == (-ends[0], ends[1])


def test_colours_are_those_of_the_palette() -> None:
    scene = loaded(RodLoops())
    for part in ("fixed", "moving"):
        found = scene.geometry[scene.graph[part][1]].visual.material.baseColorFactor
        light = np.array([*bytes.fromhex(LIGHT[part][1:])]) / 255
        linear = np.where(light <= 0.04045, light / 12.92, ((light + 0.055) / 1.055) ** 2.4)
        assert found[:3] == pytest.approx(linear * 255, abs=1)


def test_the_file_is_as_long_as_it_says() -> None:
    data = model(RodLoops())
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    assert length % 4 == 0


def test_the_script_holds_the_model() -> None:
    script = model_script(RodLoops()).decode()
    name, packed = script.removeprefix("scadgenModel(").removesuffix(");\n").split(", ")
    assert json.loads(name) == "rod_loops"
    assert base64.b64decode(json.loads(packed)) == model(RodLoops())
