"""Printed lines: how wide they are, and how high a layer of them may be."""

from __future__ import annotations

#: Width of a line, mm, where none is said: 0.4 mm nozzle (common practice, no source).
LINE_WIDTH = 0.45
#: How high a layer may be, as a share of the width of its lines. A layer is at most 0.8 of the bore
#: of the nozzle, or it is hardly pressed onto the one below; lines are as wide as the bore or
#: somewhat wider (OrcaSlicer wiki, "Layer height" and "Line width"). With the 0.42 to 0.45 mm that
#: slicers lay from a bore of 0.4 mm (common practice, no source) that is 0.71 to 0.76.
LAYER_OF_LINE = 0.75
#: How far slicers may lay a line beyond the outline that is drawn, mm: in some hundreds of slices
#: by three engines links came no nearer than this to what is reckoned here, but at tips.
LAID = 0.01
#: What is wrong with a higher one, in words.
TOO_HIGH = "or its lines are hardly pressed onto the layer below"


def thickest_layer(line_width: float, share: float = LAYER_OF_LINE) -> float:
    """The highest layer that lines so wide (mm) print, mm; on symbols the formula of it."""
    return share * line_width


def finest_line(layer: float) -> float:
    """The narrowest lines that layers so high (mm) can be laid in, mm."""
    return layer / thickest_layer(1.0)
