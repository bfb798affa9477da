"""What others have printed and published, held against the assumed errors; misses are told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scadgen.proof.fleet.population import POPULATIONS, ROUGH
from tests.proof.fleet.published import RARE, SIDES, prints, told

#: Prints that hardly a printer of the fleets is like: lean ones, and gaps read the other way.
MISSED = {
    "steps of an assessment protocol, its own example",
    "upright holes, gauged by drills",
    "pins of an assessment protocol, its own example",
}


def test_ladders_that_tell_their_gaps_come_out_as_the_fleets_say() -> None:
    every = list(prints())
    assert {one.name for one in every if one.missed} == MISSED
    named = {one["name"] for one in told()["ladder"] if len(SIDES[one["gap"]]) == 1}
    ladders = [one for one in every if one.name in named]
    assert len(ladders) == 2  # one, beside two fleets
    for one in ladders:
        assert min(one.above, one.below) > 10 * RARE, one


def test_a_ladder_that_does_not_tell_its_gaps_fits_in_one_way_to_read_it() -> None:
    for ladder in (one for one in told()["ladder"] if one["gap"] == "not told"):
        for fleet in POPULATIONS.values():
            read = [one.missed for one in prints([fleet]) if one.name == ladder["name"]]
            assert len(read) == 2
            assert not all(read)


def test_a_fleet_of_leaner_printers_has_the_lean_prints_and_fails_the_ladders() -> None:
    lean = replace(ROUGH, growth=replace(ROUGH.growth, mean=-0.08, low=-0.2))
    missed = {one.name for one in prints([lean]) if one.missed}
    assert "steps of an assessment protocol, its own example" not in missed
    assert "buttons in holes" in missed


def test_a_print_is_as_its_figures_say() -> None:
    found = {one.name: one.told for one in prints([ROUGH])}
    assert found["buttons in holes"].startswith("0.15 mm on each side fused, 0.2 mm free")
    (size,) = told()["size"]
    errors = [b - a for row in size["printed"] for a, b in zip(size["drawn"], row, strict=True)]
    assert f"{sum(errors) / len(errors) / 2:+.3f}" in found[size["name"]]


@pytest.mark.parametrize("kind", ["ladder", "size", "hole"])
def test_every_print_has_its_source_and_how_it_is_known(kind: str) -> None:
    for one in told()[kind]:
        assert one["source"].startswith("https://")
        assert one["known"].startswith(("an excerpt", "the whole text"))
