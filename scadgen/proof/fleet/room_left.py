"""What a printer leaves of each gap, grip and web that a family declares."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from scadgen.hinge.family import Definition
from scadgen.hinge.gaps import Gap, Grip, Web
from scadgen.printing.lines import thickest_layer
from scadgen.proof.fleet.printer import Printer, Value
from scadgen.trees.to_numpy import Numbers

#: Share of the grip asked for that a printer must leave (assumed).
GRIPPED = 0.5
#: How much thicker than the thickest that works a web may come out, as a factor: the strain and the
#: strength of a plastic are not known any better (assumed).
TOLERATED = 1.1
#: What is wrong where a printer's layers are too high for the hinge's lines, in words.
TOO_FINE = "its lines: too fine for the layers"
#: A margin below this is rounding, mm.
GRAIN = 1e-9


@dataclass(frozen=True, eq=False)
class Margin:
    """By how much something works on each printer, mm; where it is negative, it does not.

    cause: what has happened where it is negative, in words.
    frees: whether it is about turning freely, or else about holding.
    """

    cause: str
    frees: bool
    values: Value


def margins(family: Definition, numbers: Numbers, printer: Printer) -> Iterator[Margin]:
    """All that must work on the printers, for the hinge whose values ``numbers`` reads.

    The printers are told the hinge's thickest layer, and keep to it. That makes no fine nozzle of a
    coarse one: those whose own layers are too high for the hinge's lines do not print it.
    """
    thickest = thickest_layer(numbers.symbols["line_width"])
    if np.any(printer.layer > thickest + GRAIN):
        yield Margin(TOO_FINE, True, thickest - printer.layer)
    told = printer.limited(numbers.symbols["layer"])
    for gap in family.gaps:
        yield Margin(f"{gap.name}: closed", True, gap_margin(gap, numbers, told))
    for grip in family.grips:
        yield Margin(f"{grip.name}: lost", False, grip_margin(grip, numbers, told))
    for web in family.webs:
        yield from _web_margins(web, numbers, told)


def gap_margin(gap: Gap, numbers: Numbers, printer: Printer) -> Value:
    """What is left of a gap, square to its walls, beyond what keeps it free (mm)."""
    if gap.lean == 90:
        return _height_margin(gap, numbers, printer)
    size, lean = numbers(gap.size), np.radians(numbers(gap.lean))
    loss = printer.loss(gap.bore)
    # Times cos(lean): size / cos - loss - layer * tan. The worst lean of a curve is where that has
    # its least value.
    worst = np.clip(np.arctan2(printer.layer, loss), 0, lean) if gap.curved else lean
    left = size - loss * np.cos(worst) - printer.layer * np.sin(worst)
    if lean > np.pi / 4 and gap.at is not None:
        # The wall above starts at a corner and then climbs at 45 degrees; its first layer is cut
        # somewhat above the corner, where the gap is wider already.
        start = printer.onset(numbers(gap.at))
        left = left + start * (np.sin(lean) - np.cos(lean))
    if gap.hangs or gap.bridge is not None:
        left = left - _sag(gap, numbers, printer) * np.sin(lean)
    if gap.bed is not None:
        left = np.minimum(left, _bed_margin(gap.bed, size, loss, numbers, printer))
    drawn = size / np.cos(0 if gap.curved else lean)
    return np.minimum(left, drawn - printer.closes)


def _bed_margin(
    bed: tuple[float, float], size: float, loss: Value, numbers: Numbers, printer: Printer
) -> Value:
    """What is left in the first layer, which is cut through the chamfers at half its height."""
    half = printer.layer / 2
    room = sum(np.maximum(numbers(chamfer) - half, 0) for chamfer in bed)
    return size + room - loss - 2 * printer.first_layer_spread


def _height_margin(gap: Gap, numbers: Numbers, printer: Printer) -> Value:
    """Air between a floor and a flat roof: whole empty layers, less the sag of the roof."""
    size = numbers(gap.size)
    if gap.at is None:
        empty = np.floor(size / printer.layer + GRAIN)
    else:
        floor = numbers(gap.at)
        empty = printer.whole_layers(floor, floor + size)
    air = np.where(empty >= 1, empty * printer.layer, size - printer.layer - GRAIN)
    if gap.bridge is not None:
        # A thread that bridges is as thick as it is wide, and hangs below its layer.
        thread = numbers.symbols["line_width"]
        air = np.minimum(air, (empty + 1) * printer.layer - thread + GRAIN)
    return air - _sag(gap, numbers, printer)


def _sag(gap: Gap, numbers: Numbers, printer: Printer) -> Value:
    if gap.bridge is not None:
        return printer.bridge_sag(numbers(gap.bridge))
    return printer.sag if gap.hangs else 0.0


def grip_margin(grip: Grip, numbers: Numbers, printer: Printer) -> Value:
    """What is left of a grip beyond what must be (mm).

    Growth takes play away and so lengthens a grip; a printer that prints lean shortens it.
    """
    taken = printer.loss(grip.bore) * np.cos(np.radians(grip.lean))
    left = numbers.replaced(clearance=numbers.symbols["clearance"] - taken)(grip.left)
    return left - GRIPPED * numbers(grip.needed)


def _web_margins(web: Web, numbers: Numbers, printer: Printer) -> Iterator[Margin]:
    notched = web.cut_from is not None
    drawn = numbers(web.size) + (printer.growth if notched else 0)
    layers = printer.whole_layers(0, drawn)
    printed = layers * printer.layer
    too_thick = TOLERATED * numbers(web.most) - printed
    yield Margin(f"{web.name}: too thick", True, too_thick)
    yield Margin(f"{web.name}: thinner than a layer", False, (layers - 0.5) * printer.layer)
    if web.cut_from is not None:
        whole = printer.whole_layers(0, numbers(web.cut_from))
        notch = (whole - layers - 0.5) * printer.layer
        yield Margin(f"{web.name}: no notch", True, notch)
