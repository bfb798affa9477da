"""Solids for the page's viewer: small binary glTF 2.0 files, written here.

Source: glTF 2.0 Specification, Khronos Group: metres, y up; a mesh without normals is flat-shaded.

What turns about an axis has the nodes ``fixed`` and ``moving``; the origin of ``moving`` lies on
the axis, about which a viewer turns it. All else has one node per position. The root tells a viewer
the rest in the hinge's own frame (mm, z up): the ``range`` of the opening, the direction of the
``axis`` or the ``angles`` at which the nodes are, with their ``unit`` if these are no degrees, the
``cut`` (normal and offset of a plane; what lies on its far side goes) and, for each view, the
direction towards the ``eyes``.
"""

from __future__ import annotations

import base64
import json
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.pictures.palette import LIGHT, rgb
from scadgen.pictures.scene import eye
from scadgen.pictures.sections import open_plane
from scadgen.pictures.sides import Sides, together

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.hinge.family import Hinge
    from scadgen.motion.axis import Axis, Vector

POSES = 12  # steps from one end of a motion to the other
GLB, VERSION, JSON, BIN = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
FLOAT, UINT, USHORT, VERTICES, INDICES = 5126, 5125, 5123, 34962, 34963
FLAT = 1e-3  # mm; corners that stand out less from a face are left out


@dataclass(frozen=True)
class Node:
    """A solid under a name, drawn from an origin of its own (mm), in a colour of the palette."""

    name: str
    solid: Manifold
    colour: str
    origin: Vector = (0, 0, 0)


def model(hinge: Hinge) -> bytes:
    """The hinge as binary glTF."""
    sides = Sides(hinge.mechanism())
    axis = turning(sides)
    nodes = _links(sides, axis) if axis else _poses(sides)
    return _glb(hinge.family, list(nodes), _facts(sides))


def model_script(hinge: Hinge) -> bytes:
    """The model as a script for a page that lies on a disk, where nothing can be fetched."""
    packed = base64.b64encode(model(hinge)).decode()
    return f'scadgenModel("{hinge.family}", "{packed}");\n'.encode()


def turning(sides: Sides) -> Axis | None:
    """The axis about which a viewer turns the moving side, where there is one, however it leans."""
    return sides.joint.axis if sides.joint and "moving" in sides.printed else None


def _links(sides: Sides, axis: Axis) -> Iterator[Node]:
    yield Node("fixed", sides.printed["fixed"], "fixed")
    yield Node("moving", sides.printed["moving"], "moving", axis.origin)


def _poses(sides: Sides) -> Iterator[Node]:
    word = "at" if sides.fold_line is None else "bent"
    for position in _positions(*sides.ends):
        solids = list(sides.at(position).values())
        yield Node(f"{word} {position:g}", together(solids), "fixed")


def _positions(low: float, high: float) -> list[float]:
    """From one end to the other in POSES steps, equal on either side of how it prints."""
    if not (low or high):
        return [0.0]
    below = round(POSES * low / (low - high))
    below = min(max(below, int(low < 0)), POSES - int(high > 0))
    down = [low * k / below for k in range(below, 0, -1)]
    if not high:
        return [*down, 0.0]
    return [*down, *(high * k / (POSES - below) for k in range(POSES - below + 1))]


def _facts(sides: Sides) -> dict[str, Any]:
    """What a viewer must know of the hinge."""
    plane, axis = open_plane(sides), turning(sides)
    eyes = {"printed": eye(None), "cut": eye(plane)}
    facts: dict[str, Any] = {"cut": [*plane.normal, plane.offset], "eyes": eyes}
    if axis:
        return {**facts, "range": list(sides.ends), "axis": axis.direction}
    at = _positions(*sides.ends)
    told = {**facts, "range": [at[0], at[-1]], "angles": at}
    return told if sides.unit in ("deg", "") else {**told, "unit": sides.unit}


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
