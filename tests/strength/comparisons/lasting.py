"""What is left under a load that lasts, and of strength after many cycles."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from scadgen.strength.duty import Duty
from scadgen.strength.lasting import strength_left
from scadgen.strength.life import outlived
from scadgen.strength.materials import material
from tests.strength.compared import Comparison, Source, compares, off, share

#: Tensile strength of PP sheet, MPa: 4800 psi, distributor data sheet.
SHEET = 33.0


def pipe(hours: float, celsius: float) -> float:
    """Stress (MPa) that pipe of PP-H bears so long and so warm: reference line of ISO 15874-2."""
    kelvin = celsius + 273.15
    return 10 ** ((20381.5 / kelvin - 46.364 - math.log10(hours)) / (9601.1 / kelvin - 15.24))


@compares("Plastics")
def lasting() -> Iterator[Comparison]:
    line = Source("ISO 15874-2, reference line of PP-H", "from memory")
    name = "share of the strength left"
    for hours in (1, 1000, 10_000, 100_000):
        for celsius in (23, 40):
            duty = dataclasses.replace(Duty(), hours=hours, celsius=celsius)
            ours, theirs = strength_left(material("pp"), duty), pipe(hours, celsius) / SHEET
            case = f"PP, {hours} h at {celsius} deg C"
            yield Comparison(name, case, ours, theirs, off(0.01), line)


@compares("Plastics")
def cycles() -> Iterator[Comparison]:
    """The curve as it is worked by hand from its two numbers, a tenth and a slope of 5.5."""
    source = Source("O. H. Ezeh, L. Susmel (2019): 0.1 at 2 million, slope 5.5", "from memory")
    for often, theirs in ((2_000_000, 0.1), (200_000, 0.152), (20_000, 0.231), (2_000, 0.351)):
        case = f"PLA, {often} cycles"
        yield Comparison(
            "share of the strength", case, outlived(often), theirs, share(5e-3), source
        )
