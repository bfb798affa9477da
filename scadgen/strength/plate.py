"""How much stiffer a sheet is than a narrow strip, and how its ends give way.

A narrow strip curls crosswise as it bends; a wide one cannot and is 1/(1 - nu2) stiffer. The
Searle number S = width2/(radius thickness) says which it is; at S = 10 already two thirds of the
stiffening are there.

Sources: D. G. Ashwell, J. R. Aeronaut. Soc. 54 (1950) 708; H. D. Conway, W. E. Nickola, Exp.
Mech. 5 (1965) 115 (both from memory). The closed form below is derived here and was confirmed by a
Ritz solution: a plate strip with free edges, D w'''' + E t w/R2 = 0.
"""

from __future__ import annotations

from typing import Any

#: Leaf thickness over web thickness, and the flexing length that a root adds, in web thicknesses.
#: Derived: two-dimensional finite elements, plane strain, nu 0.35, web centred on the leaf;
#: +-0.02. W. J. O'Donnell, J. Appl. Mech. 27 (1960) 461 gives 0.44 for a half space (from memory).
ROOTS = ((1.0, 0.0), (2.0, 0.24), (3.0, 0.33), (5.0, 0.38), (10.0, 0.41))


def searle(width: Any, thickness: Any, radius: Any) -> Any:
    """The Searle number of a sheet (mm) at a radius of its middle (mm): width2/(R t)."""
    return width * width / (radius * thickness)


def stiffening(searle: Any, poisson: Any) -> Any:
    """Torque of a sheet over that of a narrow strip, M/(E I/R): from 1 to 1/(1 - nu2).

    ``searle`` 0 or more, ``poisson`` 0 to 0.5; floats or arrays.
    """
    import numpy as np

    square = np.square(poisson)
    edge = np.maximum((3 * (1 - square)) ** 0.25 * np.sqrt(searle), 1e-2)
    x = np.minimum(edge, 300.0)  # beyond it the ratios below are 1 to every digit
    sway, lift = np.sinh(x) + np.sin(x), np.cosh(x) - np.cos(x)
    held = 1.5 * lift / (edge * sway) + 0.5 - lift * (np.cosh(x) + np.cos(x)) / (2 * sway**2)
    return (1 - square * held) / (1 - square)


def root_length(leaf_thickness: Any, thickness: Any) -> Any:
    """Length (mm) that each root of a web adds to the length that flexes, by giving way itself.

    Leaf and web thickness in mm, the leaf at least as thick. Between the computed points, linear;
    beyond 10 web thicknesses constant. A web at the face of its leaf, not in its middle, was not
    computed: take the value as a guide. The strain in the corner itself is higher: give the root a
    fillet of half the web's thickness or more (common practice, no source).
    """
    import numpy as np

    ratios, added = zip(*ROOTS, strict=True)
    return np.interp(np.divide(leaf_thickness, thickness), ratios, added) * thickness


def flexing_length(length: Any, leaf_thickness: Any, thickness: Any) -> Any:
    """Length (mm) of a web between two leaves that flexes, with both roots."""
    return length + 2 * root_length(leaf_thickness, thickness)
