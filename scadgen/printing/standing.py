"""What a body stands on, held against what stands over it: a foot that tips or peels off the bed.

Statics of a stiff body on an elastic film of glue: the film's pull goes as the distance from the
neutral axis of the foot, as stress does in a bent beam (section modulus, unsymmetrical bending),
so that its edge peels first. The loads are a nozzle that catches at the top, a bed that speeds up,
and the body's own weight. PrusaSlicer judges so whether a print stays on its bed; its figures are
taken here (src/libslic3r/SupportSpotsGenerator.hpp and .cpp, versions of 2022 and 2023).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.printing.cuts import SLIVER, Cuts, cuts
from scadgen.printing.outlines import second_moments, widths

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy
    from manifold3d import CrossSection, Manifold

    Array = numpy.ndarray[Any, Any]

#: Acceleration by gravity, m/s2.
GRAVITY = 9.80665
#: Push of a nozzle that catches on a print, N: 10 g of weight (PrusaSlicer, see above).
PUSH = 10e-3 * GRAVITY
#: What a bed speeds up by, m/s2, jerks included (PrusaSlicer, see above).
SHAKE = 9.0
#: Width of the brim that a person adds, mm: narrower ones slicers do not lay by themselves
#: (OrcaSlicer wiki, "Brim").
BRIM = 5.0
#: Facets per turn of a brim's round corners.
ROUND = 32
#: Density of plastics, kg/mm3 (PrusaSlicer, see above: plastics are light, so it matters little).
DENSITY = 1.25e-6


@dataclass(frozen=True)
class Standing:
    """A body on its foot: all of its first layer that lies on the bed, several feet together.

    body: its place in the list of bodies.
    area: of the foot, mm2; 0 for a body that starts above the bed, whose other numbers are 0.
    width: of the foot's hull, where it is narrowest, mm. height: of the body, mm.
    centre: height of its centre of gravity, mm.
    edge: from the plumb line of that centre to the nearest edge of the hull, mm; negative where it
        falls outside.
    pull: largest pull on the edge of the foot when it is shaken and pushed at its top, MPa; 0 where
        its weight outdoes that. braced: the same at the edge of a brim around the foot.
    quick: share of the turning moment that comes of shaking, which goes as the height squared.
    """

    body: int
    area: float
    width: float
    height: float
    centre: float
    edge: float
    pull: float
    braced: float
    quick: float

    def tallest(self, share: float) -> float:
        """About how tall such a body may be on its foot for so many times the moment, mm."""
        steady = 1 - self.quick
        if self.quick == 0:
            return self.height * share
        root = math.sqrt(steady * steady + 4 * self.quick * share)
        return self.height * (root - steady) / (2 * self.quick)

    @property
    def tips(self) -> float:
        """What tips it over sideways if nothing holds it on the bed, m/s2; 0: it falls by itself.

        The push of inertia at the centre of gravity then turns it over the nearest edge against its
        weight: gravity times ``edge`` over ``centre``.
        """
        return max(0.0, GRAVITY * self.edge / self.centre) if self.centre > 0 else 0.0

    @property
    def ratio(self) -> float:
        """How many times as tall as its foot is wide; 0 without a foot."""
        return self.height / self.width if self.width > 0 else 0.0


def standing(
    bodies: Sequence[Manifold] | Cuts,
    height: float,
    *,
    push: float = PUSH,
    shake: float = SHAKE,
    brim: float = BRIM,
    density: float = DENSITY,
) -> tuple[Standing, ...]:
    """How each body stands on its first layer (``height``, mm), cut at its middle as all layers.

    push: of the nozzle, sideways at the top of the body, N. shake: acceleration of the bed, m/s2.
    brim: width of the brim that may be laid around the foot, mm. density: of the plastic, kg/mm3.
    """
    made = cuts(bodies)
    loads = (push, shake, density)
    return tuple(_standing(made, body, height, brim, loads) for body in range(len(made.bodies)))


def _standing(
    made: Cuts, body: int, height: float, brim: float, loads: tuple[float, float, float]
) -> Standing:
    from manifold3d import JoinType

    foot, top = made.section(body, 0, height), float(made.bodies[body].bounding_box()[5])
    if foot.area() <= SLIVER:
        return Standing(body, 0.0, 0.0, top, 0.0, 0.0, 0.0, 0.0, 0.0)
    push, shake, density = loads
    volume, centre = _gravity(made.bodies[body])
    mass, plumb = density * volume, centre[:2]
    across, inside = widths(foot.hull().to_polygons()[0], plumb)
    shaken = mass * shake * float(centre[2])
    moment = push * top + shaken
    wide = foot.offset(brim, JoinType.Round, 2.0, ROUND)
    return Standing(
        body=body,
        area=float(foot.area()),
        width=across,
        height=top,
        centre=float(centre[2]),
        edge=inside,
        pull=_pull(foot, moment, mass * GRAVITY, plumb),
        braced=_pull(wide, moment, mass * GRAVITY, plumb),
        quick=shaken / moment if moment > 0 else 0.0,
    )


def _pull(foot: CrossSection, moment: float, weight: float, plumb: Array) -> float:
    """Largest pull on the film under a foot, MPa, by a moment (N mm) any way and a weight (N)."""
    import numpy as np

    area, middle, moments = second_moments(foot)
    # For each corner of the hull the way in which the pull grows there the fastest: a moment along
    # it is the worst one.
    growth = np.linalg.solve(moments, (foot.hull().to_polygons()[0] - middle).T).T
    pressed = weight * (growth @ (plumb - middle) + 1 / area)
    return max(0.0, float((moment * np.linalg.norm(growth, axis=1) - pressed).max()))


def _gravity(body: Manifold) -> tuple[float, Array]:
    """Volume of a body, mm3, and its centre: that of the pyramids from the origin to its facets."""
    import numpy as np

    mesh = body.to_mesh64()
    corners = np.array(mesh.vert_properties)[:, :3][np.array(mesh.tri_verts, dtype=int)]
    sixfold = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))
    volume = float(sixfold.sum()) / 6
    centre: Array = sixfold @ corners.sum(axis=1) / (24 * volume)
    return volume, centre
