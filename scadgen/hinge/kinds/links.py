"""The two links of a pivot as a mechanism: what turns in what, from where to where."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.hinge.kinds.pivot import Pivot
    from scadgen.mechanism.mechanism import Mechanism


def turning(hinge: Pivot, drawn: float) -> Mechanism:
    """Both links, the moving one turned so far from how it prints, degrees."""
    from scadgen.hinge.meshing import mesh
    from scadgen.mechanism.mechanism import Body, Mechanism
    from scadgen.mechanism.turn import Turn
    from scadgen.motion.axis import Axis

    home, low, heel = hinge.as_printed() + drawn, hinge.lowest(), hinge.heel_meets()
    turn = Turn(
        fixed="fixed",
        moving="moving",
        asked=(low - home, hinge.swing - home),
        printed_at=home,
        about=Axis(*hinge.axis()),
        facets=hinge.facets,
        clearance=hinge.clearance,
        stop=hinge.stop_at,
        heel=heel,
        parts=low - home + hinge.slanted() if heel else -math.inf,
        closes=hinge.closes_from() - home,
        stop_told=hinge.stop_words(),
        openings=hinge.openings,
        posed=lambda turned: mesh(hinge, "moving", turned + drawn),
    )
    sides = ("fixed", "moving")
    bodies = (Body(name, f"{name} link", partial(mesh, hinge, name, drawn)) for name in sides)
    return Mechanism(hinge.family, tuple(bodies), (turn,))
