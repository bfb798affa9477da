"""What is measured on the sections of a hinge, so that a drawing holds it against its values."""

from __future__ import annotations

from enum import Enum


class Measure(Enum):
    """One thing that is read off outlines. A family says which of its values each one answers."""

    GAP = "smallest gap between both sides of the joint"
    MOTION = "from how it is drawn to the end of its motion"
    LENGTH = "length along the axis"
    LEAF = "thickness at the free end of the moving side"
    RADIUS = "from the axis to the outside of the bearing"
    THICKNESS = "thickness of the sheet"
    WIDTH = "width of the sheet, along the lines that it folds about"
    THINNEST = "the sheet where it is thinnest"
    SLIT = "narrowest opening through the sheet"
