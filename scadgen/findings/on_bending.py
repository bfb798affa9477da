"""Whether a flexure bends within its layers as it prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.strength.layers import ALONG, AcrossLayers, refuse_across, tilt_of_stretch

if TYPE_CHECKING:
    from scadgen.hinge.kinds.flexure import Flexure
    from scadgen.strength.materials import Plastic


def bend_in_layers(hinge: Flexure, plastic: Plastic | None) -> Finding:
    """Refuse a flexure whose bend would pull its layers apart; the number is in degrees."""
    tilt = tilt_of_stretch(hinge.fold_line, hinge.face)
    change = ""
    try:
        refuse_across(hinge.fold_line, hinge.face, plastic)
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
