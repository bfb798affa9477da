"""Plane stress in finite elements of scikit-fem: a bar's end, and the strain along an edge."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

#: Which points belong: of x and y, a truth value for each.
Where = Callable[[Any], Any]


@dataclass(frozen=True)
class Plate:
    """A plate 1 thick: its mesh, modulus and Poisson's ratio."""

    mesh: Any
    element: Any
    modulus: float
    poisson: float

    def moved(
        self, held: dict[str, Where], pulled: Where, pull: Callable[[Any], tuple[Any, Any]]
    ) -> tuple[Any, Any]:
        """The basis, and how all of it moves: ``held`` by direction "u^1" (x) or "u^2" (y).

        ``pull``: force per length along the edge that is ``pulled``, in x and in y.
        """
        import skfem  # type: ignore[import-untyped]
        from skfem.models.elasticity import linear_elasticity  # type: ignore[import-untyped]

        basis = skfem.Basis(self.mesh, skfem.ElementVector(self.element))
        shear = self.modulus / (2 * (1 + self.poisson))
        lame = self.modulus * self.poisson / (1 - self.poisson**2)
        stiffness = linear_elasticity(lame, shear).assemble(basis)
        edge = basis.boundary(self.mesh.facets_satisfying(pulled, boundaries_only=True))

        def work(v: Any, w: Any) -> Any:
            along, across = pull(w.x)
            return along * v[0] + across * v[1]

        load = skfem.LinearForm(work).assemble(edge)
        fixed = [basis.get_dofs(where).all([way]) for way, where in held.items()]
        held_all = np.unique(np.concatenate(fixed))
        return basis, skfem.solve(*skfem.condense(stiffness, load, D=held_all))

    def edge_strain(self, basis: Any, moved: Any, where: Where) -> Any:
        """Strain along the edge, at points of the boundary there."""
        edge = basis.boundary(self.mesh.facets_satisfying(where, boundaries_only=True))
        slope = edge.interpolate(moved).grad
        along = np.stack([-edge.normals[1], edge.normals[0]])
        return np.einsum("i...,ij...,j...->...", along, slope, along)
