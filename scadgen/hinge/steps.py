"""What a family says of its coupon: which field is stepped, from what to what."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Steps:
    """A coupon is a small hinge at each of ``count`` values of ``field``, ``step`` mm apart.

    look: what to do with each piece and what to look at, in a sentence.
    given: values of other fields; what is not given is as small as is sound.
    per_mm: the number beside a piece is its value times this, and has at most two digits.
    turned: turn about z that brings the fixed side to -y, degrees.
    bed: side of the corner of the bed that all of it has to fit, mm.
    of: what of the family it is about, in a word; empty for the coupon that is usual.
    strains: whether an arm of each piece is strained, so that what it bears is fitted.
    """

    field: str
    first: float
    step: float
    count: int
    look: str
    given: Mapping[str, float] = dataclasses.field(default_factory=dict)
    per_mm: int = 100
    turned: float = 0
    bed: float = 100
    of: str = ""
    strains: bool = False
