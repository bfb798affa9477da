"""How far a printer's lines spread, fitted to what the pieces of a coupon did."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.coupons.closing import closing
from scadgen.coupons.results import Results, contradiction_lines
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Growth per side, mm, that is looked at; all of it as likely before any coupon (assumed).
LEAST, MOST, STEP = -0.1, 0.4, 0.0005
#: Scatter of a piece's room from print to print, mm: any of it as likely on a logarithmic scale
#: (assumed).
SCATTERS = (0.002, 0.1, 16)
#: Share of the probability between ``low`` and ``high``.
SURE = 0.95
#: Share of the pieces that may contradict the others.
ODD = 1 / 5


@dataclass(frozen=True)
class Growth:
    """Growth of every outline of a printed layer, per side, mm.

    mean, std: of what is likely. low, high: it lies between them in 95 of 100 cases.
    """

    mean: float
    std: float
    low: float
    high: float


def fit_growth(results: Results) -> Growth:
    """The growth that makes what the pieces did likely.

    A piece turns with a probability that climbs (logistic) with the room that is left in it. Where
    no two steps contradict each other this comes down to the growths between the widest step that
    fused and the narrowest that did not. Raises JobError where more than a few pieces contradict
    the others, or where none is left.
    """
    import numpy as np

    refuse_hopeless(results, list(results.turned.values()))
    turned = np.array(list(results.turned.values()))
    growth = np.arange(LEAST, MOST + STEP / 2, STEP)
    room = closing(results.plan, list(results.turned), growth, results.layer)
    signed = np.where(turned[:, None], room, -room)
    scatters = np.geomspace(*SCATTERS)
    logs = -np.logaddexp(0, -signed[..., None] / scatters).sum(0)
    share = np.exp(logs - logs.max()).sum(1)
    return _summed(growth, share / share.sum())


def _summed(growth: Array, share: Array) -> Growth:
    import numpy as np

    mean = float(growth @ share)
    std = float(np.sqrt((growth - mean) ** 2 @ share))
    tails = (1 - SURE) / 2, (1 + SURE) / 2
    low, high = np.interp(tails, np.cumsum(share), growth)
    return Growth(mean, std, float(low), float(high))


def refuse_hopeless(results: Results, turned: list[bool]) -> None:
    """Raises JobError where too many pieces contradict the others: they are to be, rising, as yet
    not so, and then so."""
    if not turned:
        raise JobError("steps: every piece is lost; there is nothing to learn from.", "steps")
    odd = min(
        sum(turned[:cut]) + sum(not free for free in turned[cut:]) for cut in range(len(turned) + 1)
    )
    if odd > ODD * len(turned):
        pairs = " ".join(contradiction_lines(results))
        words = f"{odd} of {len(turned)} pieces contradict the others; print it again"
        raise JobError(f"steps: {words}. {pairs}", "steps")
