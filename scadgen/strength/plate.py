"""How much stiffer a sheet is than a narrow strip.

A narrow strip curls crosswise as it bends; a wide one cannot and is 1/(1 - nu2) stiffer. The
Searle number S = width2/(radius thickness) says which it is; at S = 10 already two thirds of the
stiffening are there.

Sources: D. G. Ashwell, J. R. Aeronaut. Soc. 54 (1950) 708; H. D. Conway, W. E. Nickola, Exp.
Mech. 5 (1965) 115 (both from memory). The closed form below is derived here and was confirmed by a
Ritz solution: a plate strip with free edges, D w'''' + E t w/R2 = 0.
"""

from __future__ import annotations

from typing import Any


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
