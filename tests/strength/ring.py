"""A ring pulled across a diameter, and one under pressure, without any theory of curved bars.

Linear four-node elements of plane stress, assembled here: a quarter of the ring; and the pressed
ring as a boundary-value problem. Shares nothing with the formulas.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from scipy.sparse import coo_matrix  # type: ignore[import-untyped]
from scipy.sparse.linalg import spsolve  # type: ignore[import-untyped]

AROUND, THROUGH, POISSON = 180, 24, 0.35


def greatest_tension(outer: float, bore: float, arc: float) -> float:
    """Greatest tension around the ring under a pull of 1 N (1 mm wide), spread evenly over an arc.

    ``arc``: degrees to either side of the load, which points along y.
    """
    turns, depths = np.linspace(0, np.pi / 2, AROUND + 1), np.linspace(0, 1, THROUGH + 1)
    radii = (bore + (outer - bore) * depths) / 2
    x, y = np.outer(np.cos(turns), radii).ravel(), np.outer(np.sin(turns), radii).ravel()
    number = np.arange(x.size).reshape(AROUND + 1, THROUGH + 1)
    corners = (number[:-1, :-1], number[:-1, 1:], number[1:, 1:], number[1:, :-1])
    cells = np.stack([corner.ravel() for corner in corners], axis=1)
    places = np.stack([x[cells], y[cells]], axis=2)
    elastic = np.array([[1, POISSON, 0], [POISSON, 1, 0], [0, 0, (1 - POISSON) / 2]])
    elastic = elastic / (1 - POISSON**2)
    stiffness = np.zeros((len(cells), 8, 8))
    for one in (-1, 1):
        for other in (-1, 1):
            strain, area = _strains(places, one / 3**0.5, other / 3**0.5)
            stiffness += np.einsum("eki,kl,elj,e->eij", strain, elastic, strain, area)
    dofs = (2 * cells[:, :, None] + np.arange(2)).reshape(len(cells), 8)
    rows, columns = np.repeat(dofs, 8, axis=1).ravel(), np.tile(dofs, 8).ravel()
    matrix = coo_matrix((stiffness.ravel(), (rows, columns))).tocsr()
    load = np.zeros(2 * x.size)
    edge = number[:, 0]
    near = np.isclose(turns, np.pi / 2) | (turns > np.pi / 2 - np.radians(arc))
    share = np.where(near, np.where(np.isclose(turns, np.pi / 2), 0.5, 1.0), 0.0)
    load[2 * edge], load[2 * edge + 1] = share * np.cos(turns), share * np.sin(turns)
    load /= 2 * load[2 * edge + 1].sum()  # half of 1 N on a quarter

    def _stress(corner: Any, one: float, other: float) -> Any:
        strain, _ = _strains(np.stack([x[corner], y[corner]], axis=1)[None], one, other)
        return elastic @ strain[0] @ moved[(2 * corner[:, None] + np.arange(2)).ravel()]

    free = np.setdiff1d(np.arange(load.size), [*(2 * number[-1]), *(2 * number[0] + 1)])
    moved = np.zeros(load.size)
    moved[free] = spsolve(matrix[free][:, free], load[free])
    cell = cells.reshape(AROUND, THROUGH, 4)
    outside = _stress(cell[-1, -1], 1.0, 1.0)[0]  # at the load: around the ring is along x
    inside = _stress(cell[0, 0], -1.0, -1.0)[1]  # a quarter turn on it is along y
    return max(float(outside), float(inside))


def _strains(places: Any, one: float, other: float) -> tuple[Any, Any]:
    """Strains per motion of the corners, and the area that a point of a cell stands for."""
    signs = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    slopes = np.stack(
        [signs[:, 0] * (1 + other * signs[:, 1]), signs[:, 1] * (1 + one * signs[:, 0])]
    )
    jacobian = np.einsum("kc,ecd->ekd", slopes / 4, places)
    by_place = np.linalg.solve(jacobian, np.broadcast_to(slopes / 4, (len(places), 2, 4)))
    strain = np.zeros((len(places), 3, 8))
    strain[:, 0, 0::2] = strain[:, 2, 1::2] = by_place[:, 0]
    strain[:, 1, 1::2] = strain[:, 2, 0::2] = by_place[:, 1]
    return strain, np.abs(np.linalg.det(jacobian))


def pressed(pressure: float, outer: float, bore: float) -> tuple[float, float]:
    """Hoop and radial stress (MPa) at the bore of a ring under pressure from inside.

    (r sr)' = st, and (sr + st)' = 0.
    """
    from scipy.integrate import solve_bvp  # type: ignore[import-untyped]

    def motion(r: Any, y: Any) -> Any:
        return np.vstack([(y[1] - y[0]) / r, (y[0] - y[1]) / r])

    def ends(a: Any, b: Any) -> Any:
        return np.array([a[0] + pressure, b[0]])

    grid = np.linspace(bore / 2, outer / 2, 101)
    found = solve_bvp(motion, ends, grid, np.ones((2, 101)), tol=1e-8)
    return float(found.y[1, 0]), float(found.y[0, 0])
