"""A cell of the slit lattice in solid finite elements: one twisting strip, two half bridges.

Quadratic hexahedra of scikit-fem; shares nothing with the project but the outline.
"""

from __future__ import annotations

import functools
import itertools
from typing import Any

import numpy as np

MODULUS, POISSON = 1000.0, 0.35


@functools.cache
def solid_cell(strip: float, thickness: float, free: float, bridge: float, slit: float) -> float:
    """Torque per turn (N mm/rad) between the middles of the two half bridges.

    The planes through the bridges' middles along the strip are mirrors (no motion along it); the
    cut faces turn as planes, by half a turn each.
    """
    import skfem  # type: ignore[import-untyped]

    reach, end = strip / 2 + slit / 2, (free + bridge) / 2
    basis = skfem.Basis(
        _mesh(strip, thickness, free, bridge, slit),
        skfem.ElementVector(skfem.ElementHex2()),
        intorder=4,
    )
    stiffness = _stiffness(basis)
    left, right, ends = (
        basis.get_dofs(lambda x: np.isclose(x[0], -reach)),
        basis.get_dofs(lambda x: np.isclose(x[0], reach)),
        basis.get_dofs(lambda x: np.isclose(abs(x[2]), end)),
    )
    place, moved = basis.doflocs, np.zeros(basis.N)
    turned = [left.all(["u^1"]), right.all(["u^1"])]
    moved[turned[0]] = place[1, turned[0]] / 2
    moved[turned[1]] = -place[1, turned[1]] / 2
    upright = left.all(["u^2"])
    pinned = upright[np.argmin(abs(place[1, upright]) + abs(place[2, upright] + end))]
    held = np.unique(np.concatenate([*turned, ends.all(["u^3"]), [pinned]]))
    found = skfem.solve(*skfem.condense(stiffness, x=moved, D=held))
    return float(found @ (stiffness @ found))  # twice the energy of a turn of 1


def _stiffness(basis: Any) -> Any:
    """Of an isotropic solid: all of an element's pairs of degrees of freedom at once."""
    from scipy.sparse import coo_matrix  # type: ignore[import-untyped]
    from skfem.models.elasticity import lame_parameters  # type: ignore[import-untyped]

    lame, shear = lame_parameters(MODULUS, POISSON)
    slopes = np.stack([field[0].grad for field in basis.basis])  # freedom, row, column, cell, point
    strains = (slopes + slopes.swapaxes(1, 2)) / 2
    opened = np.einsum("fiicp->cfp", strains)
    flat = strains.transpose(3, 0, 4, 1, 2).reshape(len(basis.dx), len(slopes), -1)
    weight = np.repeat(basis.dx, 9, axis=1)[:, None]
    cells = 2 * shear * (flat * weight) @ flat.swapaxes(1, 2)
    cells += lame * (opened * basis.dx[:, None]) @ opened.swapaxes(1, 2)
    freedoms = basis.element_dofs.T
    places = np.broadcast_arrays(freedoms[:, :, None], freedoms[:, None])
    return coo_matrix((cells.ravel(), [place.ravel() for place in places])).tocsr()


def _mesh(strip: float, thickness: float, free: float, bridge: float, slit: float) -> Any:
    import skfem

    reach, end = strip / 2 + slit / 2, (free + bridge) / 2
    mesh = skfem.MeshHex.init_tensor(
        _cuts(-reach, -strip / 2, strip / 2, reach),
        _cuts(-thickness / 2, thickness / 2),
        _cuts(-end, -free / 2, free / 2, end),
    )
    x, _, z = mesh.p[:, mesh.t].mean(axis=1)
    slit_left = (x < -strip / 2) & (z > -free / 2)
    slit_right = (x > strip / 2) & (z < free / 2)
    return mesh.remove_elements(np.nonzero(slit_left | slit_right)[0])


def _cuts(*places: float, size: float = 0.7) -> Any:
    """Places along an axis, cut evenly between the given ones into lengths of about ``size``."""

    def steps(length: float) -> int:
        return 1 if length < 2 * size / 10 else max(2, int(np.ceil(length / size)))

    pieces = [
        np.linspace(low, high, steps(high - low) + 1)[:-1]
        for low, high in itertools.pairwise(places)
    ]
    return np.concatenate([*pieces, [places[-1]]])
