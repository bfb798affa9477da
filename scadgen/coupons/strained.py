"""What strain the arms of a printed coupon bore, fitted to what its pieces did."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scadgen.coupons.fit import refuse_hopeless
from scadgen.coupons.results import SOFT, WHITENED, Results
from scadgen.hinge.family import Hinge
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material, materials
from scadgen.text.numbers import shown

#: Unit of a strength that is a strain.
PERCENT = "%"


@dataclass(frozen=True)
class Borne:
    """What arms bore, bent now and then by hand.

    low: greatest strain that whitened no arm, %, below which hardly any did; None where all did.
    high: least strain from which on arms whitened, %; None where none did. firm: least value of the
    step, mm, from which on no piece was soft; None where the last was.
    """

    low: float | None
    high: float | None
    firm: float | None


def strain_of(hinge: Hinge) -> float:
    """The greatest strain of an arm of the hinge, %; it depends on lengths alone, on no plastic."""
    any_plastic = material(next(iter(materials())))
    told = hinge.strengths(Duty(), any_plastic)
    return max(float(one.actual) for one in told if one.unit == PERCENT)


def fit_strain(results: Results) -> Borne:
    """The strains between which arms begin to whiten, and the step from which on pieces are firm.

    Where pieces contradict each other it is the strain that fewest contradict, the least of these.
    Raises JobError where more than a few do, or where no piece is left.
    """
    values = list(results.known)
    strains = {value: strain_of(results.plan.hinge(value)) for value in values}
    rising = sorted(values, key=strains.__getitem__)
    whitened = [results.found[value] == WHITENED for value in rising]
    refuse_hopeless(results, whitened)
    odd = [sum(whitened[:cut]) + whitened[cut:].count(False) for cut in range(len(rising) + 1)]
    cut = odd.index(min(odd))
    soft = [value for value in values if results.found[value] == SOFT]
    firm = [value for value in values if value > max(soft, default=0.0)]
    return Borne(
        low=strains[rising[cut - 1]] if cut else None,
        high=strains[rising[cut]] if cut < len(rising) else None,
        firm=min(firm, default=None),
    )


def strain_lines(results: Results, borne: Borne) -> Iterator[str]:
    """What was found, in sentences."""
    field = results.plan.steps.field
    if borne.low is None:
        yield f"Every arm whitened, at {borne.high:.2f} % too: longer or thinner arms tell more."
    elif borne.high is None:
        yield f"No arm whitened, up to {borne.low:.2f} %: that gives no upper limit."
    else:
        yield f"arms bore {borne.low:.2f} % and whitened at {borne.high:.2f} %, bent now and then"
    if borne.firm is None:
        yield f"Every piece was soft, or the last one was: more {field} tells more."
    else:
        yield f"firm from {field} = {shown(borne.firm)} mm on"
    if borne.low is not None:
        yield "Bent many times, or kept bent, an arm bears less: see the strain in a job's proof."
