"""What a printer leaves of each gap, grip, web, click and stop that a family declares."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from scadgen.hinge.family import Definition
from scadgen.hinge.gaps import Gap, Grip, Web
from scadgen.hinge.meets import Click, Stop
from scadgen.printing.lines import thickest_layer
from scadgen.proof.fleet.printer import Printer, Value
from scadgen.trees.to_numpy import Numbers

#: Share of the grip asked for that a printer must leave (assumed).
GRIPPED = 0.5
#: How much thicker than the thickest that works a web may come out, as a factor: the strain and the
#: strength of a plastic are not known any better (assumed).
TOLERATED = 1.1
#: How far off a printer may end a turn that a stop ends, degrees (assumed).
OFF_STOP = 3.0
#: What is left, mm, of what a hinge does not have: wider than anything that may fail.
UNASKED = 100.0
#: What is wrong where a printer's layers are too high for the hinge's lines, in words.
TOO_FINE = "its lines: too fine for the layers"
#: A margin below this is rounding, mm.
GRAIN = 1e-9


@dataclass(frozen=True, eq=False)
class Margin:
    """By how much something works on each printer, mm; where it is negative, it does not.

    cause: what has happened where it is negative, in words.
    frees: whether it is about turning freely, or else about holding.
    of: what is meant to meet there, as the joint calls it; empty for all else.
    """

    cause: str
    frees: bool
    values: Value
    of: str = ""


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
    for one in family.meets:
        yield from _met_margins(one, numbers, told)


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


def _met_margins(one: Click | Stop, numbers: Numbers, printer: Printer) -> Iterator[Margin]:
    asked = numbers(one.asked)
    if not np.any(asked):
        return
    if isinstance(one, Click):
        told = _click_margins(one, numbers, printer)
    else:
        told = _stop_margins(one, numbers, printer)
    for margin in told:
        yield replace(margin, values=np.where(asked, margin.values, UNASKED), of=one.of)


def _click_margins(click: Click, numbers: Numbers, printer: Printer) -> Iterator[Margin]:
    """Whether noses print free, are lifted far enough, and arms have room to give way.

    A nose, a bump and all faces between the links grow alike: towards each other noses and bumps
    come by twice the growth, and the play of the links loses as much on either side.
    """
    for gap in click.gaps:
        yield Margin(f"{gap.name}: closed", True, gap_margin(gap, numbers, printer))
    lift, play = numbers(click.lift), numbers(click.play)
    crest = lift + 2 * printer.growth
    at_the_end = crest - (play - 2 * printer.growth)
    # Grown flanks, and the steps of layers on them, keep a nose from sitting all the way down.
    seat = np.maximum(2 * np.sqrt(2) * printer.growth + printer.layer / 2, 0)
    clicks = np.minimum(at_the_end, crest - seat) - GRIPPED * numbers(click.least)
    # Both noses together press alike in all play.
    left = np.where(numbers(click.rides), crest - GRIPPED * lift, clicks)
    yield Margin(f"the {click.of}: a nose passes unfelt", False, left)
    # Arms and what they bend towards grow, too, and spread on the bed.
    room = numbers(click.spare) - 4 * printer.growth - 2 * printer.first_layer_spread
    yield Margin(f"the {click.of}: an arm has no room to give way", True, room)


def _stop_margins(stop: Stop, numbers: Numbers, printer: Printer) -> Iterator[Margin]:
    """Whether faces that have grown, or shrunk, end the turn about where they are meant to."""
    taken = 2 * np.abs(printer.growth) + (printer.layer if stop.layered else 0)
    allowed = numbers(stop.near) * np.radians(OFF_STOP)
    words = f"the {stop.of}: off by more than {OFF_STOP:g} deg"
    yield Margin(words, True, allowed - taken)
