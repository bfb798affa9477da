"""Webs that break, and plastics."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any, cast

import numpy as np

from scadgen.strength import break_away, leaf, life
from scadgen.strength.materials import Entry, Plastic, Range, material
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, off, share

HAND = Source("worked by hand, recorded", DERIVED)
DSM = Source('DSM, "Maximum Allowable Short-Term Strain"', "looked up")


@compares("Break-away webs")
def webs() -> Iterator[Comparison]:
    case = "1.2 x 0.4, 50 MPa"
    ours = break_away.most_snap_moment(50, 1.2, 0.4)
    yield Comparison("bend, fully plastic, N mm", case, ours, 2.4, share(1e-6), HAND)
    fibre = (np.arange(4000) + 0.5) / 4000 * 0.4 - 0.2
    theirs = float(abs(fibre).sum() * 50 * 1.2 * 0.4 / 4000)
    source = Source("stress summed over fibres (numpy)", COMPUTED)
    yield Comparison("bend, fully plastic, N mm", case, ours, theirs, share(1e-3), source)
    ours, case = break_away.snap_push(50, 3, 1.2, 0.4, 15), "three of them, at 15 mm"
    yield Comparison("push that snaps, N", case, ours, 0.48, share(1e-6), HAND)


@compares("Screws, a caution")
def screws() -> Iterator[Comparison]:
    source = Source("length around a polygon (numpy)", COMPUTED)
    around = np.linspace(0, 2 * np.pi, 2001)
    rim = np.hypot(np.diff(3 * np.cos(around)), np.diff(3 * np.sin(around))).sum()
    ours = leaf.pull_through_shear(100, 6, 3)
    case = "100 N, head 6, leaf 3"
    yield Comparison("pull-through shear, MPa", case, ours, 100 / (rim * 3), share(1e-3), source)


def _yields(percent: float | None, breaks: float = 1000) -> Plastic:
    """As much of a plastic as the rules for strain look at."""
    at = None if percent is None else Range("percent", (Entry(percent, percent, "assumed"),))
    broken = Range("percent", (Entry(breaks, breaks, "assumed"),))
    return cast(Plastic, SimpleNamespace(yield_strain=at, break_strain=broken, permissible=None))


@compares("Plastics")
def permissible_strain() -> Iterator[Comparison]:
    for percent, once, often in (
        (2.2, 1.54, 0.924),
        (4, 2.8, 1.68),
        (12, 8.4, 5.04),
        (6, 4.2, 2.52),
    ):
        plastic = _yields(percent)
        case = f"yield {percent} %"
        ours = life.permissible(plastic, 1).percent
        yield Comparison("strain of one bend, %", case, ours, once, off(1e-9), DSM)
        ours = life.permissible(plastic, 10).percent
        yield Comparison("strain of repeated bends, %", case, ours, often, off(1e-9), DSM)
        many = Source("20 to 30 % of yield", "common practice, no source")
        ours = life.permissible(plastic, 20_000).percent
        yield Comparison("strain of many bends, %", case, ours, 0.2 * percent, off(1e-9), many)
        held = Source("20 % of yield, held bent", "common practice, no source")
        ours = life.held_bent(plastic).percent
        yield Comparison(
            "strain of what is held bent, %", case, ours, 0.2 * percent, off(1e-9), held
        )
    ours = life.permissible(_yields(None, 2), 1).percent
    yield Comparison("strain of one bend, %", "break 2 %, no yield", ours, 1.0, off(1e-9), DSM)
    snap = Source("Snap-Fit Design Manual, unfilled PP 6 %, as repeated", "from memory")
    stretch = material("pp").yield_strain
    assert stretch is not None
    ours = life.permissible(_yields(stretch.reference[0].low), 10).percent
    why = "two manuals with different rules"
    yield Comparison("strain, %", "PP sheet", ours, 6, share(0.2), snap, why)


@compares("Plastics")
def strength_shares() -> Iterator[Comparison]:
    pla = Source("Ezeh, Susmel, Int. J. Fatigue 126 (2019) 319: printed PLA", "from memory")
    ours = life.strength_share(2e6)
    yield Comparison("share of strength", "2 million turns", ours, 0.1, off(1e-9), pla)
    many = Source("30 % of yield, of 70 % for one bend", "common practice, no source")
    ours = life.strain_share(1e4)
    yield Comparison("share of the strain", "10 000 turns", ours, 0.3 / 0.7, off(1e-9), many)
    petg = material("petg")
    # A shear whose von Mises stress is that of the strain in the layers, less what layers keep.
    a, b, c = np.linalg.eigvalsh(np.array([[0, 1, 0], [1, 0, 0], [0, 0, 0]], float))
    mises = float(np.sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2))
    stress = life.permissible(petg, 1000).percent * petg.layer_share / mises  # E is 1
    ours, theirs = life.shear_between_layers(petg, 1000), stress * 2 * (1 + petg.poisson.low)
    source = Source("von Mises of a pure shear, by principal stresses (numpy)", COMPUTED)
    yield Comparison("shear strain between layers, %", "PETG", ours, theirs, share(1e-6), source)


@compares("Plastics")
def ratios() -> Iterator[Comparison]:
    matte = material("pla_matte")
    sheet = Source("manufacturer data sheet, matte PLA, V5.3", "looked up")

    def over(one: Any, other: Any) -> float:
        return float(one.low / other.low)

    ours = over(matte.strength_across, matte.strength)
    yield Comparison("strength across/in layers", "PLA, matte", ours, 0.526, off(1e-3), sheet)
    ours = over(matte.break_strain_across, matte.break_strain)
    yield Comparison("break strain across/in layers", "PLA, matte", ours, 0.032, off(5e-4), sheet)
    pages = Source("additive.tools material pages, middles of ranges", "looked up")
    for name, theirs in (("pla", 0.696), ("petg", 0.63), ("tpu_95a", 0.621)):
        ratio = material(name).layer_ratio
        assert ratio is not None
        yield Comparison("strength across/in layers", name, ratio.high, theirs, off(5e-3), pages)
    sheet = Source("distributor data sheet: 195 000 psi", "looked up")
    (flat,) = material("pp").modulus.reference
    ours, theirs = flat.high, 195_000 * 6.894757e-3
    yield Comparison("modulus, MPa", "PP sheet", ours, theirs, share(4e-3), sheet)
