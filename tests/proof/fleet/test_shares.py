"""The closed form against formulas and tables from elsewhere."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import binomtest, norm  # type: ignore[import-untyped]

from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.hinge.gaps import Gap, Grip
from scadgen.proof.fleet.population import CAREFUL, POPULATIONS, ROUGH, LayerHeights, Spread
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import gap_margin, margins
from scadgen.proof.fleet.shares import CHUNK, Share, Worst, fleet, works, worst
from tests.proof.fleet.fleets import default, nothing_but, only, values
from tests.support import changed, each_family

GROWTH = Spread(0.08, 0.06, -1.0, 1.0, "assumed")
CONE = Gap("a cone", 0.35, lean=45)


def share(gap: Gap, layer: float = 1e-9, count: int = 1_000_000) -> float:
    heights = LayerHeights((layer,), (1,), "one height")
    printers = nothing_but(growth=GROWTH, layer=heights).sample(count, np.random.default_rng(1))
    free, _ = works(only(gap), values(), printers)
    return float(free.mean())


def test_a_cone_is_free_as_the_normal_distribution_says() -> None:
    """Growth per side N(0.08, 0.06), 45 degrees, 0.35 mm: 0.99738 (scipy's normal distribution)."""
    expected = norm.cdf((0.35 / (2 * math.cos(math.radians(45))) - 0.08) / 0.06)
    assert expected == pytest.approx(0.99738, abs=5e-6)
    assert share(CONE) == pytest.approx(expected, abs=4 * math.sqrt(0.00262 / 1e6))


@pytest.mark.parametrize("layer", [0.1, 0.2, 0.3])
def test_a_layer_that_lands_takes_its_shift_of_the_gap(layer: float) -> None:
    """At 45 degrees the next layer stands one height further out."""
    room = 0.35 / math.cos(math.radians(45)) - layer
    expected = norm.cdf((room / 2 - 0.08) / 0.06)
    assert share(CONE, layer) == pytest.approx(expected, abs=0.0025)


def test_an_upright_gap_is_free_as_the_normal_distribution_says() -> None:
    expected = norm.cdf((0.25 / 2 - 0.08) / 0.06)
    assert share(Gap("a wall", 0.25), 0.3) == pytest.approx(expected, abs=0.0025)


@pytest.mark.parametrize(("growth", "layer"), [(0.02, 0.2), (0.1, 0.12), (0.05, 0.3), (-0.1, 0.2)])
def test_a_curved_gap_is_as_good_as_its_worst_lean(growth: float, layer: float) -> None:
    printer = Printer(growth=growth, layer=layer)
    curved = gap_margin(Gap("round", 0.4, lean=45, curved=True), values(), printer)
    leans = [
        gap_margin(Gap("flat", 0.4, lean=float(lean)), values(), printer)
        for lean in np.linspace(0, 45, 2001)
    ]
    assert curved == pytest.approx(min(leans), abs=1e-6)


def test_the_first_layer_spreads_into_what_the_chamfers_leave() -> None:
    gap = Gap("on the bed", 0.3, bed=(0.4, 0))
    printer = Printer(growth=0.05, first_layer_spread=0.2, layer=0.2)
    # 0.3 and, at the middle of the first layer, 0.4 - 0.1 of the chamfer; less 2 (0.05 + 0.2).
    assert gap_margin(gap, values(), printer) == pytest.approx(0.1)
    flat = Gap("on the bed", 0.3, bed=(0, 0))
    assert gap_margin(flat, values(), printer) == pytest.approx(-0.2)


@pytest.mark.parametrize(
    ("size", "layer", "at", "empty"),
    [
        (0.424, 0.2, 4, 2),
        (0.424, 0.3, 4, 2),  # layers with their middles at 4.05 and 4.35
        (0.424, 0.3, 4.1, 1),  # the one at 4.35
        (0.424, 0.3, None, 1),
        (0.39, 0.2, None, 1),
    ],
)
def test_a_flat_roof_leaves_whole_layers(
    size: float, layer: float, at: float | None, empty: int
) -> None:
    """A gap of 0.424 mm along z holds two whole layers of 0.2 mm."""
    gap = Gap("a roof", size, lean=90, at=at, hangs=True)
    printer = Printer(layer=layer, sag=0.05)
    assert gap_margin(gap, values(), printer) == pytest.approx(empty * layer - 0.05)


def test_a_roof_without_an_empty_layer_welds() -> None:
    assert gap_margin(Gap("a roof", 0.2, lean=90), values(), Printer(layer=0.3)) < 0


def test_bridges_sag_as_trade_figures_have_it() -> None:
    """None below 5 mm, 0.2 mm at 20 mm (trade figures), where a free underside sags 1 mm."""
    assert Printer(sag=1.0).bridge_sag(np.array([2.0, 5, 20])) == pytest.approx([0, 0, 0.2])


def test_slicers_close_what_is_drawn_too_narrow() -> None:
    lean = Printer(growth=-0.2, layer=0.01)
    assert (
        gap_margin(Gap("a wall", 0.09), values(), lean)
        < 0
        < gap_margin(Gap("a wall", 0.11), values(), lean)
    )


@pytest.mark.parametrize(("hits", "count"), [(0, 20), (7, 20), (20, 20), (999_000, 1_000_000)])
def test_intervals_are_wilsons(hits: int, count: int) -> None:
    interval = binomtest(hits, count).proportion_ci(0.95, method="wilson")
    found = Share.of(hits, count)
    assert (found.value, found.low, found.high) == pytest.approx(
        (hits / count, interval.low, interval.high), abs=1e-9
    )


def test_a_published_interval() -> None:
    """81 of 263: 0.2553 to 0.3662 (R. G. Newcombe, Stat. Med. 17 (1998) 857, from memory)."""
    found = Share.of(81, 263)
    assert (found.low, found.high) == pytest.approx((0.2553, 0.3662), abs=5e-5)


@each_family
def test_more_growth_never_frees_and_more_clearance_never_fuses(cls: type[Hinge]) -> None:
    hinge, growth = cls(), np.linspace(-0.1, 0.3, 81)
    printers = Printer(growth, 0.02, 0.1, 0.2, 0.05)
    family, read = definition(cls), numbers(hinge)
    here = [gap_margin(gap, read, printers) for gap in family.gaps]
    for margin in here:
        assert np.all(np.diff(np.broadcast_to(margin, growth.shape)) <= 1e-12)
    wider = read.replaced(**{hinge.fit: getattr(hinge, hinge.fit) + 0.05})
    # Where clearance moves a gap in height, rounding may give a layer more or less: it is left out.
    for gap, margin in zip(family.gaps, here, strict=True):
        if gap.at is None:
            assert np.all(gap_margin(gap, wider, printers) >= margin - 1e-12)


@each_family
def test_a_grip_falls_with_clearance_and_grows_with_growth(cls: type[Hinge]) -> None:
    hinge = cls()
    family, read = definition(cls), numbers(hinge)
    looser = read.replaced(clearance=hinge.clearance + 0.1)
    printers = Printer(np.linspace(-0.1, 0.1, 21))
    for tight, loose in zip(
        margins(family, read, printers), margins(family, looser, printers), strict=True
    ):
        if "lost" in tight.cause:
            assert np.all(loose.values < tight.values)
            assert np.all(np.diff(tight.values) > 0)


@each_family
def test_grips_leave_what_the_rules_ask_for_on_a_printer_without_errors(cls: type[Hinge]) -> None:
    read = numbers(cls())
    for grip in definition(cls).grips:
        assert read(grip.left) >= read(grip.needed) - 1e-6


def test_a_grip_that_growth_shortens() -> None:
    """A printer that prints lean by 0.2 per side adds 0.4 to the play on either side."""
    grip = Grip("a lip", 1.0, 0.8)
    (margin,) = margins(only(grip), values(), Printer(growth=-0.2))
    assert margin.values == pytest.approx(1.0 - 0.4)  # half of what is asked must stay
    play = Grip("a lip", 1.0 - 2 * default("rod_loops").clearance, 0.8)
    assert numbers(default("rod_loops"))(play.left) == pytest.approx(0.4)


@each_family
def test_most_rough_printers_and_nearly_all_careful_ones_manage_what_does_not_hang(
    cls: type[Hinge],
) -> None:
    for population in POPULATIONS.values():
        found = fleet(cls(), population, 100_000)
        enough = 100 * found.share_both.value >= population.needed
        assert enough == (not cls.hangs), found


@each_family
def test_the_worst_printer_does_worse_than_the_random_ones(cls: type[Hinge]) -> None:
    family, read = definition(cls), numbers(cls())
    found = worst(family, read, ROUGH)
    if not (family.gaps or family.grips or family.webs):
        assert found is None
        return
    assert isinstance(found, Worst)
    drawn = ROUGH.sample(20_000, np.random.default_rng(3))
    (values_there,) = (m.values for m in margins(family, read, drawn) if m.cause == found.cause)
    assert found.margin <= float(np.min(values_there)) + 1e-9
    again = [m for m in margins(family, read, found.printer) if m.cause == found.cause]
    assert float(again[0].values) == pytest.approx(found.margin)


def test_chunks_make_one_fleet() -> None:
    """Sums over chunks are those of the same printers worked out at once."""
    hinge, count = default("waisted_spindle"), CHUNK + 500
    rng = np.random.default_rng(9)
    family, read = definition(type(hinge)), numbers(hinge)
    first, second = ROUGH.sample(CHUNK, rng), ROUGH.sample(500, rng)
    free = sum(int(works(family, read, part)[0].sum()) for part in (first, second))
    assert fleet(hinge, ROUGH, count, seed=9).share_free == Share.of(free, count)


def test_split_printers_are_the_same_in_order_and_what_they_share_stays() -> None:
    printers = replace(ROUGH.sample(2500, np.random.default_rng(3)), sag=0.5)
    some = list(printers.split(1000))
    assert [len(part.growth) for part in some] == [1000, 1000, 500]
    assert all(part.sag == 0.5 for part in some)
    for name in ("growth", "hole_shrinkage", "layer"):
        together = np.concatenate([getattr(part, name) for part in some])
        assert (together == getattr(printers, name)).all()
    assert list(Printer(growth=0.1).split(10)) == [Printer(growth=0.1)]


def test_the_same_seed_draws_the_same_fleet() -> None:
    hinge = default("side_cones")
    assert fleet(hinge, ROUGH, 5000, 1) == fleet(hinge, ROUGH, 5000, 1)
    assert fleet(hinge, ROUGH, 5000, 1) != fleet(hinge, ROUGH, 5000, 2)


def test_a_fleet_of_nobody_is_refused() -> None:
    with pytest.raises(ValueError, match="at least 1"):
        fleet(default("side_cones"), ROUGH, 0)


def test_what_is_drawn_is_what_is_assumed() -> None:
    drawn = ROUGH.sample(200_000, np.random.default_rng(0))
    assert drawn.growth.mean() == pytest.approx(ROUGH.growth.mean, abs=5e-4)
    assert drawn.growth.std() == pytest.approx(ROUGH.growth.std, rel=0.02)
    for name, spread in ROUGH.spreads.items():
        column = getattr(drawn, name)
        assert spread.low <= column.min() <= column.max() <= spread.high
    weights = np.array(ROUGH.layer.weights)
    shares = [float(np.mean(drawn.layer == height)) for height in ROUGH.layer.heights]
    assert shares == pytest.approx(weights / weights.sum(), abs=0.005)


def test_a_printer_keeps_to_the_thickest_layer_of_the_hinge() -> None:
    hinge = changed(default("waisted_spindle"), {"layer": 0.2})
    thick = nothing_but(layer=LayerHeights((0.3,), (1,), "too thick"))
    thin = nothing_but(layer=LayerHeights((hinge.layer,), (1,), "as told"))
    assert fleet(hinge, thick, 100).share_both == fleet(hinge, thin, 100).share_both
    assert fleet(hinge, thick, 100).share_both.value == 1


@each_family
def test_a_printer_without_errors_makes_what_does_not_hang(cls: type[Hinge]) -> None:
    heights = LayerHeights((0.1, 0.2, 0.3), (1, 1, 1), "those of the proof")
    found = fleet(cls(), nothing_but(layer=heights), 300)
    assert found.share_both.value == 1, found.causes


def test_a_web_must_not_come_out_too_thick() -> None:
    """0.6 mm in layers of 0.38 mm are two: the middles of both lie below."""
    hinge = changed(default("sheet_flexure"), {"web": 0.6, "web_length": 9.5})
    thick = LayerHeights((0.38,), (1,), "two layers make 0.76 mm")
    found = fleet(
        changed(hinge, {"layer": 0.38, "line_width": 0.51}), nothing_but(layer=thick), 100
    )
    assert found.share_free.value == 0
    assert found.share_hold.value == 1
    assert [cause.words for cause in found.causes] == ["web: too thick"]


def test_every_number_of_a_fleet_says_where_it_is_from() -> None:
    for population in (ROUGH, CAREFUL):
        spreads = population.spreads.values()
        sources = [*(spread.source for spread in spreads), population.layer.source]
        assert all("assumed" in source for source in sources)
