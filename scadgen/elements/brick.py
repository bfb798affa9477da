"""The stiffness of a cube of eight corners, whole or filled in part.

Each is trilinear, with the modes of bending that its corners cannot follow (incompatible modes),
whose mean strain over what is filled is taken out, so that an even strain stays even. Strains in
the order xx, yy, zz, yz, zx, xy, the last three as engineers count them; MPa, mm.

Source: incompatible modes: R. L. Taylor, P. J. Beresford, E. L. Wilson, A non-conforming element
for stress analysis, 1976; cubes filled in part: J. Parvizian, A. Duester, E. Rank, Finite cell
method, 2007 (both from memory).
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from scadgen.elements.fill import PARTS, Array

#: Corners of a cube, x running slowest.
CORNERS = np.indices((2, 2, 2)).reshape(3, 8).T
#: Share of a whole cube's stiffness that one filled in part has at least, so that its corners are
#: held (assumed).
FLOOR = 1e-3
#: Cubes whose matrices are made at once.
CHUNK = 4096
BENT, FREE = 9, 24


def elasticity(
    modulus: float, across: float, poisson: float, shear: float, shear_across: float
) -> Array:
    """Stress per strain of a plastic that is alike in all directions in a layer; layers lie flat.

    Moduli in MPa: in the layers, across them, and in shear within and between them. ``poisson``:
    of a pull in the layers.
    """
    flexible = np.zeros((6, 6))
    flexible[:3, :3] = -poisson / modulus
    flexible[[0, 1, 2], [0, 1, 2]] = 1 / modulus, 1 / modulus, 1 / across
    flexible[[3, 4, 5], [3, 4, 5]] = 1 / shear_across, 1 / shear_across, 1 / shear
    stiff: Array = np.linalg.inv(flexible)
    return stiff


@dataclass(frozen=True, eq=False)
class Bricks:
    """Cubes by what is filled of them: those that are whole share the first matrix.

    stiffness: one 24 by 24 for each kind, MPa mm. strain: mean strain (6 by 24) for the ways of
    its corners. kind: which of them each cube is.
    """

    stiffness: Array
    strain: Array
    kind: np.ndarray[tuple[int], np.dtype[np.int64]]


def bricks(parts: Array, size: float, elastic: Array) -> Bricks:
    """The matrices of cubes of edge ``size`` (mm), of which so much of each part is filled."""
    whole = parts.min(axis=1) > 1 - 1e-9
    kinds = np.concatenate((np.ones((1, PARTS**3)), parts[~whole]))
    stiffness, strain = np.empty((len(kinds), FREE, FREE)), np.empty((len(kinds), 6, FREE))
    for start in range(0, len(kinds), CHUNK):
        some = slice(start, start + CHUNK)
        stiffness[some], strain[some] = _matrices(kinds[some], elastic)
    stiffness += FLOOR * stiffness[0] * (1 - kinds.mean(axis=1))[:, None, None]
    kind = np.zeros(len(parts), int)
    kind[~whole] = np.arange(1, len(kinds))
    return Bricks(stiffness * size, strain / size, kind)


def _matrices(parts: Array, elastic: Array) -> tuple[Array, Array]:
    """Stiffness and mean strain of cubes of edge 1."""
    strains, products = _integrated(elastic.tobytes())
    every = BENT + FREE
    stiff = (parts @ products.reshape(PARTS**3, -1)).reshape(-1, every, every)
    summed = (parts @ strains.reshape(PARTS**3, -1)).reshape(-1, 6, every)
    volume = parts.mean(axis=1)[:, None, None]
    mean, bent = summed[:, :, :FREE] / volume, summed[:, :, FREE:] / volume
    forced = elastic @ bent
    both = stiff[:, :FREE, FREE:] - volume * mean.transpose(0, 2, 1) @ forced
    own = stiff[:, FREE:, FREE:] - volume * bent.transpose(0, 2, 1) @ forced
    whole = np.trace(products.sum(axis=0)[FREE:, FREE:]) / BENT
    own = own + 1e-3 * whole * volume * np.eye(BENT)
    condensed = both @ np.linalg.solve(own, both.transpose(0, 2, 1))
    return stiff[:, :FREE, :FREE] - condensed, mean


@functools.lru_cache(maxsize=4)
def _integrated(elastic: bytes) -> tuple[Array, Array]:
    """Over each part of a cube of edge 1: the strains of all modes, and their products."""
    stiff = np.frombuffer(elastic).reshape(6, 6)
    gauss = (np.indices((2, 2, 2)).reshape(3, 8).T * 2 - 1) / 12**0.5 + 0.5
    at = np.indices((PARTS,) * 3).reshape(3, -1).T
    strains, products = [], []
    weight = 1 / (8 * PARTS**3)
    for part in at:
        modes = np.array([_modes((part + point) / PARTS) for point in gauss])
        strains.append(modes.sum(axis=0) * weight)
        products.append(np.einsum("pia,ij,pjb->ab", modes, stiff, modes) * weight)
    return np.array(strains), np.array(products)


def _modes(point: Array) -> Array:
    """Strains at a point of a cube of edge 1 for its corners' ways, and then for its bends."""
    slopes = corner_slopes(point)
    bends = np.diag(4 - 8 * point)  # of 4 s (1 - s), along each edge
    every = np.concatenate((slopes, bends))
    strains = np.zeros((6, len(every), 3))
    for axis in range(3):
        strains[axis, :, axis] = every[:, axis]
        one, other = (axis + 1) % 3, (axis + 2) % 3
        strains[3 + axis, :, one] = every[:, other]
        strains[3 + axis, :, other] = every[:, one]
    return strains.reshape(6, -1)


def corner_shares(points: Array) -> Array:
    """How much each corner counts at points of a cube of edge 1: (n, 8)."""
    each = np.where(CORNERS == 1, points[:, None, :], 1 - points[:, None, :])
    shares: Array = each.prod(axis=2)
    return shares


def corner_slopes(point: Array) -> Array:
    """How fast these shares grow along x, y and z: (8, 3)."""
    each = np.where(CORNERS == 1, point, 1 - point)
    signs = 2 * CORNERS - 1
    slopes = [signs[:, k] * each[:, (k + 1) % 3] * each[:, (k + 2) % 3] for k in range(3)]
    return np.stack(slopes, axis=1)
