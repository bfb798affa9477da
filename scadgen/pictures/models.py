"""Solids for the page's viewer: small binary glTF 2.0 files, written here.

Source: glTF 2.0 Specification, Khronos Group: metres, y up; a mesh without normals is flat-shaded.

A pivot has the nodes ``fixed`` and ``moving``; the origin of ``moving`` lies on the axis, about
which a viewer turns it. A flexure has one node per bend. The root tells a viewer the rest in the
hinge's own frame (mm, z up): the ``range`` of the opening, the direction of the ``axis`` or the
``angles`` of the bends, the ``cut`` (normal and offset of a plane; what lies on its far side goes)
and, for each view, the direction towards the ``eyes``.
"""

from __future__ import annotations

import base64
import json
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.pictures.palette import LIGHT, rgb
from scadgen.pictures.scene import scene
from scadgen.pictures.sections import open_plane

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.hinge.kinds.pivot import Point

POSES = 12  # steps from one end of a flexure's bend to the other
GLB, VERSION, JSON, BIN = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
FLOAT, UINT, USHORT, VERTICES, INDICES = 5126, 5125, 5123, 34962, 34963
FLAT = 1e-3  # mm; corners that stand out less from a face are left out


@dataclass(frozen=True)
class Node:
    """A solid under a name, drawn from an origin of its own (mm), in a colour of the palette."""

    name: str
    solid: Manifold
    colour: str
    origin: Point = (0, 0, 0)


def model(hinge: Hinge) -> bytes:
    """The hinge as binary glTF."""
    nodes = _links(hinge) if isinstance(hinge, Pivot) else _bends(hinge)
    return _glb(hinge.family, list(nodes), _facts(hinge))


def model_script(hinge: Hinge) -> bytes:
    """The model as a script for a page that lies on a disk, where nothing can be fetched."""
    packed = base64.b64encode(model(hinge)).decode()
    return f'scadgenModel("{hinge.family}", "{packed}");\n'.encode()


def _links(hinge: Pivot) -> Iterator[Node]:
    origin, _ = hinge.axis()
    yield Node("fixed", mesh(hinge, "fixed", angle=0), "fixed")
    yield Node("moving", mesh(hinge, "moving", angle=0), "moving", origin)


def _bends(hinge: Hinge) -> Iterator[Node]:
    for angle in _angles(hinge):
        yield Node(f"bent {angle:g}", mesh(hinge, angle=angle), "fixed")


def _angles(hinge: Hinge) -> list[float]:
    """Bends from one end to the other in POSES steps, equal on either side of flat."""
    low, high = hinge.lowest(), hinge.swing
    below = round(POSES * low / (low - high))
    down = [low * k / below for k in range(below, 0, -1)]
    return [*down, *(high * k / (POSES - below) for k in range(POSES - below + 1))]


def _facts(hinge: Hinge) -> dict[str, Any]:
    """What a viewer must know of the hinge."""
    plane = open_plane(hinge)
    eyes = {view: scene(hinge, view).eye for view in ("printed", "cut")}
    facts: dict[str, Any] = {"cut": [*plane.normal, plane.offset], "eyes": eyes}
    if isinstance(hinge, Pivot):
        return {**facts, "range": [hinge.lowest(), hinge.swing], "axis": hinge.axis()[1]}
    angles = _angles(hinge)
    return {**facts, "range": [angles[0], angles[-1]], "angles": angles}


def _glb(name: str, nodes: list[Node], facts: dict[str, Any]) -> bytes:
    """The binary file: a header, then the description and the numbers, each padded to fours."""
    buffer = bytearray()
    description = json.dumps(_description(name, nodes, facts, buffer), separators=(",", ":"))
    text = description.encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<II", len(text), JSON) + text
    chunks += struct.pack("<II", len(buffer), BIN) + buffer
    return struct.pack("<III", GLB, VERSION, 12 + len(chunks)) + chunks


def _description(
    name: str, nodes: list[Node], facts: dict[str, Any], buffer: bytearray
) -> dict[str, Any]:
    """What the file's JSON says; the numbers it points to are put into ``buffer``."""
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    colours = list(dict.fromkeys(node.colour for node in nodes))
    root = {
        "name": name,
        "children": list(range(1, len(nodes) + 1)),
        "rotation": [-(0.5**0.5), 0, 0, 0.5**0.5],  # z up in the hinge, y up in glTF
        "scale": [0.001, 0.001, 0.001],
        "extras": facts,
    }
    meshes = []
    for node in nodes:
        numbers = _numbers(node, views, accessors, buffer)
        primitive = {**numbers, "material": colours.index(node.colour)}
        meshes.append({"name": node.name, "primitives": [primitive]})
    return {
        "asset": {"version": "2.0", "generator": "scadgen"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [
            root,
            *(
                {"name": node.name, "mesh": k, "translation": list(node.origin)}
                for k, node in enumerate(nodes)
            ),
        ],
        "meshes": meshes,
        "materials": [_material(colour) for colour in colours],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(buffer)}],
    }


def _numbers(
    node: Node, views: list[dict[str, Any]], accessors: list[dict[str, Any]], buffer: bytearray
) -> dict[str, Any]:
    """Corners and triangles of a node, put away; where they are."""
    moved = node.solid.translate([-at for at in node.origin])
    surface = moved.as_original().simplify(FLAT).to_mesh()
    corners, triangles = surface.vert_properties[:, :3], surface.tri_verts
    limits = {"min": corners.min(axis=0).tolist(), "max": corners.max(axis=0).tolist()}
    corner_facts = {"componentType": FLOAT, "count": len(corners), "type": "VEC3", **limits}
    index, width = (USHORT, "<u2") if len(corners) < 2**16 else (UINT, "<u4")
    index_facts = {"componentType": index, "count": triangles.size, "type": "SCALAR"}
    put = [
        (corners.astype("<f4").tobytes(), VERTICES, corner_facts),
        (triangles.astype(width).tobytes(), INDICES, index_facts),
    ]
    first = len(accessors)
    for data, target, facts in put:
        where = {"buffer": 0, "byteOffset": len(buffer), "byteLength": len(data)}
        accessors.append({"bufferView": len(views), **facts})
        views.append({**where, "target": target})
        buffer += data + b"\0" * (-len(data) % 4)
    return {"attributes": {"POSITION": first}, "indices": first + 1}


def _material(colour: str) -> dict[str, Any]:
    shine = {"metallicFactor": 0, "roughnessFactor": 0.7}
    base = {"baseColorFactor": [*map(_linear, rgb(LIGHT[colour])), 1]}
    return {"name": colour, "pbrMetallicRoughness": base | shine}


def _linear(channel: float) -> float:
    """Light of a colour channel, 0 to 1. Source: IEC 61966-2-1 (sRGB)."""
    low = channel / 12.92
    return round(low if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4, 4)
