"""Models for these tests: files of hinges, and solids made by hand; lengths in mm."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from manifold3d import Manifold

from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.meshing import mesh
from scadgen.meshfiles.writing import stl
from scadgen.motion.nearest import corners

Array = np.ndarray[Any, Any]

PIVOTS = {name: cls for name, cls in all_families().items() if cls.kind == "pivot"}
FLEXURES = {name: cls for name, cls in all_families().items() if cls.kind == "flexure"}
#: A rotation to nowhere in particular (proper: determinant 1), and a way there.
TURNED = np.array([[2, -6, 3], [6, 3, 2], [-3, 2, 6]]) / 7
MOVED = np.array([31.7, -12.3, 55.1])


def soup(*solids: Manifold) -> Array:
    """The loose triangles of solids."""
    return np.concatenate([corners(solid) for solid in solids])


def ascii_stl(triangles: Array) -> bytes:
    """Text STL of loose triangles."""
    facets = (
        "facet normal 0 0 0\nouter loop\n"
        + "".join(f"vertex {x:.9g} {y:.9g} {z:.9g}\n" for x, y, z in triangle)
        + "endloop\nendfacet\n"
        for triangle in triangles
    )
    return f"solid model\n{''.join(facets)}endsolid model\n".encode()


def written(folder: Path, hinge: Hinge) -> Path:
    """The STL that this project writes of a hinge."""
    path = folder / f"{hinge.family}.stl"
    path.write_bytes(stl(mesh(hinge)))
    return path


def fixed_number(bodies: Any, hinge: Hinge) -> int:
    """Which body is the hinge's fixed link, told by its volume."""
    wanted = mesh(hinge, "fixed").volume()
    return int(min(bodies, key=lambda body: abs(body.volume - wanted)).number)
