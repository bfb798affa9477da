"""Heights of printed layers: the usual ones, and what one may be."""

from __future__ import annotations

from scadgen.hinge.family import Hinge, bounds

LAYER_HEIGHTS = (0.1, 0.2, 0.3)
#: What one printed layer may be; a job lists several, and the thickest is the hinge's own.
LAYER = bounds(Hinge)["layer"]
