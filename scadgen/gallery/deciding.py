"""Whether a family's fit decides on how many printers it works: else its curve is flat."""

from __future__ import annotations

from scadgen.hinge.family import Hinge
from scadgen.proof.fleet.best import best_clearance
from scadgen.proof.fleet.population import CAREFUL, ROUGH

#: Printers that tell whether a curve is flat; a share that changes by no more is.
FEW, FLAT = 2_000, 0.1


def decides(cls: type[Hinge]) -> bool:
    """Whether what sets its fit changes the share of a fleet, where its rules let it be set."""
    import numpy as np

    shares = []
    for population in (ROUGH, CAREFUL):
        curve = best_clearance(cls(), population, FEW, step=0.025)
        kept = curve.both[~curve.refused]
        shares.append(float(np.ptp(kept)) if kept.size else 0.0)
    return max(shares) > FLAT
