"""One printer, or arrays of them."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from scadgen.printing.layers import TOUCH

#: A number, or an array with one for each printer.
Value = Any

#: Longest bridge that does not sag, mm; sag of one of 20 mm, as a share of the sag of a free
#: underside: trade figures (none below 5 mm, up to 0.2 mm at 20 mm) beside an assumed 1 mm.
TAUT, SPANNED, SLACK = 5.0, 20.0, 0.2


@dataclass(frozen=True)
class Printer:
    """What a printer does to the drawn layers; each a number, or an array of many printers' (mm).

    growth: outwards of every outline in the plane, per side; negative for one that prints lean.
    hole_shrinkage: of a hole's radius, beyond growth.
    first_layer_spread: outwards of every outline of the first layer, per side, beyond growth.
    layer: height of a layer; the first is as high as the others.
    sag: of a flat underside that nothing carries.
    closes: widest gap that its slicer closes.

    A bed that is out of level is left out: it lifts both walls of a gap alike, and over a gap of
    half a millimetre the lift differs by a thousandth; what it does to the first layer is part of
    the first layer's spread.
    """

    growth: Value = 0.0
    hole_shrinkage: Value = 0.0
    first_layer_spread: Value = 0.0
    layer: Value = 0.2
    sag: Value = 0.0
    closes: Value = TOUCH

    def limited(self, thickest: float) -> Printer:
        """The same printers, told to print in layers no thicker than so (mm)."""
        return dataclasses.replace(self, layer=np.minimum(self.layer, thickest))

    def loss(self, bore: bool) -> Value:
        """What the walls of a gap take of its width in a layer (mm); one may be that of a hole."""
        return 2 * self.growth + (self.hole_shrinkage if bore else 0)

    def whole_layers(self, low: Value, high: Value) -> Value:
        """Layers whose middle lies above ``low`` and below ``high`` (mm)."""
        first = np.floor(low / self.layer + 0.5 + _ROUNDING)
        last = np.ceil(high / self.layer - 0.5 - _ROUNDING)
        return np.maximum(last - first, 0)

    def onset(self, height: Value) -> Value:
        """From a height to the middle of the first layer above it (mm), 0 to below a layer."""
        return ((np.floor(height / self.layer + 0.5 + _ROUNDING) + 0.5) * self.layer) - height

    def bridge_sag(self, span: Value) -> Value:
        """Sag of a flat underside that is carried at both ends, so far apart (mm)."""
        return self.sag * SLACK * np.maximum(span - TAUT, 0) / (SPANNED - TAUT)

    def split(self, most: int) -> Iterator[Printer]:
        """The same printers, of which arrays of many are, so many at the most at once."""
        columns = vars(self)
        arrays = {name: value for name, value in columns.items() if np.ndim(value)}
        for start in range(0, max(map(len, arrays.values()), default=1), most):
            some = {name: value[start : start + most] for name, value in arrays.items()}
            yield Printer(**columns | some)

    def one(self, index: int) -> Printer:
        """One printer out of arrays."""
        columns = np.broadcast_arrays(*(getattr(self, f.name) for f in dataclasses.fields(self)))
        return Printer(*(float(column[index]) for column in columns))

    def to_dict(self) -> dict[str, float]:
        """The errors of one printer by name (mm)."""
        return dataclasses.asdict(self)


#: Of a layer: a middle nearer to an edge than this lies on it.
_ROUNDING = 1e-9
