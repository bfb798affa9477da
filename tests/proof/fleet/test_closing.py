"""Gaps that slicers close: a radius that a job or a fleet tells, in the layers and in the share."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from scadgen import SideCones, check
from scadgen.jobs.job import JobError, read_job
from scadgen.printing.layers import TOUCH
from scadgen.proof.fleet.population import CAREFUL, ROUGH, Shares
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.reading import load_population
from scadgen.proof.fleet.sampling import Prints
from scadgen.proof.fleet.shares import fleet

USUAL, WIDE = 0.049, 0.49


def closing(*values: float, weights: tuple[float, ...] = ()) -> Shares:
    return Shares(values, weights or (1,) * len(values), "a test")


def test_the_usual_radius_closes_what_the_layers_reckon_with() -> None:
    assert ROUGH.closing.values == (USUAL,)
    assert ROUGH.touch == CAREFUL.touch == TOUCH
    assert abs(TOUCH - 2 * USUAL) < 0.005


def test_a_wide_radius_fails_the_layers_and_the_fleet() -> None:
    """Gaps of 0.4 mm, proven, are closed by a radius that some profiles carry."""
    hinge = SideCones(facets=32)
    wide = replace(ROUGH, closing=closing(WIDE))
    failed = {one.name for one in check(hinge, population=wide).findings if not one.passed}
    assert {"layers of 0.3 mm", "over-extrusion", "rough fleet"} <= failed
    assert fleet(hinge, wide, 1000).share_free.value == 0
    assert check(hinge).proven


def test_a_few_wide_ones_are_counted() -> None:
    """The share loses the printers that close it, and no more."""
    hinge = SideCones()
    few = replace(CAREFUL, closing=closing(USUAL, WIDE, weights=(9, 1)))
    all_usual, some = (fleet(hinge, one, 20_000).share_free.value for one in (CAREFUL, few))
    assert some == pytest.approx(0.9 * all_usual, abs=0.01)
    causes = fleet(hinge, few, 20_000).causes
    assert any(cause.share == pytest.approx(0.1, abs=0.01) for cause in causes)


@pytest.mark.parametrize(("needed", "touch"), [(90, TOUCH), (95, 2 * WIDE)])
def test_the_layers_are_judged_for_the_printers_that_are_needed(
    needed: float, touch: float
) -> None:
    mixed = replace(ROUGH, needed=needed, closing=closing(WIDE, USUAL, weights=(8, 92)))
    assert mixed.touch == touch


def test_others_are_drawn_as_before() -> None:
    """One radius for all takes no number from those that are drawn."""
    one = CAREFUL.sample(50, np.random.default_rng(1))
    other = replace(CAREFUL, closing=closing(WIDE)).sample(50, np.random.default_rng(1))
    assert (one.growth == other.growth).all()
    assert (one.layer == other.layer).all()
    assert (one.closes, other.closes) == (TOUCH, 2 * WIDE)


def test_the_solids_say_the_same() -> None:
    prints = Prints(SideCones(facets=24))
    assert prints.free(Printer(layer=0.2))
    assert not prints.free(Printer(layer=0.2, closes=2 * WIDE))


def test_a_job_tells_it() -> None:
    text = 'family = "side_cones"\n[printers]\nclosing_radius = 0.49\n'
    job = read_job(text, Path())
    assert job.population.touch == 2 * WIDE
    assert job.population.name == ROUGH.name
    with pytest.raises(JobError, match=r"printers\.closing_radius = 2"):
        read_job(text.replace("0.49", "2"), Path())


def test_a_fleet_tells_it(tmp_path: Path) -> None:
    path = tmp_path / "fleet.toml"
    lines = ['name = "mine"', "[closing]", "values = [0.049, 0.49]", "weights = [3, 1]"]
    path.write_text("\n".join([*lines, 'source = "counted"']) + "\n")
    found = load_population(path)
    assert found.closing == Shares((USUAL, WIDE), (3, 1), "counted")
    path.write_text("\n".join([*lines, ""]))
    with pytest.raises(JobError, match=r"closing\.source"):
        load_population(path)
