"""Whether a flexure bends within its layers as it prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.strength.layers import ALONG, AcrossLayers, refuse_across, tilt_of_stretch

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

Vector = tuple[float, float, float]


def bend_in_layers(fold_line: Vector, face: Vector, plastic: Plastic | None) -> Finding:
    """Refuse a flexure whose bend would pull its layers apart; the number is in degrees.

    ``fold_line``: the way of the lines that it bends about; ``face``: the way its face looks.
    """
    tilt = tilt_of_stretch(fold_line, face)
    change = ""
    try:
        refuse_across(fold_line, face, plastic)
    except AcrossLayers as refused:
        change = str(refused)
    return Finding(
        "bend in its layers",
        not change,
        f"bent, it stretches {tilt:.0f} deg out of its layers; at most {ALONG:g} deg are allowed.",
        measured=tilt,
        needed=ALONG,
        unit="deg",
        at_least=False,
        change=change,
    )
