"""A web that bends beside one fillet, in plane finite elements: how much more it strains there."""

from __future__ import annotations

from typing import Any

import numpy as np

from tests.strength.plane import Plate

#: Beside a web this thick the leaf no longer matters.
LEAF = 3.0
#: From where the web is bent to its fillet, and from there to the leaf's far end, in thicknesses.
REACH = 2.0
ARC = 33
#: Greatest area of a triangle, of a web 1 thick.
SIZE = 0.02
POISSON = 0.35


def at_fillet(thickness: float, fillet: float) -> float:
    """Greatest strain at the fillet over that of the even bend; the web lies at the leaf's face."""
    import skfem  # type: ignore[import-untyped]

    radius = fillet / thickness
    corner, leaf = REACH + radius, max(LEAF, 1 + 1.5 * radius)
    plate = Plate(_mesh(radius, corner, leaf), skfem.ElementTriP2(), 1.0, POISSON)

    def near(x: Any) -> Any:
        return np.isclose(x[0], 0)

    def far(x: Any) -> Any:
        return np.isclose(x[0], corner + leaf)

    def bend(x: Any) -> tuple[Any, Any]:
        return 1 - 2 * x[1], 0 * x[0]

    def rim(x: Any) -> Any:
        return (x[0] >= REACH) & (x[0] <= corner) & (x[1] >= 1)

    base = {"u^1": far, "u^2": lambda x: far(x) & np.isclose(x[1], 0)}
    basis, moved = plate.moved(base, near, bend)  # its outer strain in the even bend is 1
    return float(abs(plate.edge_strain(basis, moved, rim)).max())


def _mesh(radius: float, corner: float, leaf: float) -> Any:
    """Triangles of a web 1 thick, its lower face that of the leaf; finer at a sharper fillet."""
    import skfem
    from sectionproperties.pre.geometry import Geometry
    from shapely import Polygon  # type: ignore[import-untyped]

    turn = np.linspace(0, np.pi / 2, ARC)
    arc = np.stack([REACH + radius * np.sin(turn), 1 + radius * (1 - np.cos(turn))], axis=1)
    end = corner + leaf
    outline = Polygon([(0, 0), (0, 1), *arc, (corner, leaf), (end, leaf), (end, 0)])
    mesh = Geometry(outline).create_mesh(mesh_sizes=[SIZE]).mesh or {}
    used, triangles = np.unique(mesh["triangles"][:, :3], return_inverse=True)
    points = np.asarray(mesh["vertices"])[used]
    return skfem.MeshTri(points.T.copy(), triangles.reshape(-1, 3).T.copy())
