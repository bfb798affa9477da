"""What the sliders of a family let a maker reach, and how much of that is refused."""

from __future__ import annotations

import json
import re
from typing import Any

import numpy as np
import pytest

from scadgen import emit
from scadgen.families.rod_loops import RodLoops
from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.families.side_cones import SideCones
from scadgen.families.slit_lattice import SlitLattice
from scadgen.families.waisted_spindle import WaistedSpindle
from scadgen.hinge.automatic import automatics, given_values
from scadgen.hinge.batch import batch, sound
from scadgen.hinge.family import Hinge, bounds
from scadgen.hinge.rules import HingeError, Rule
from scadgen.openscad.presets import PRESETS, preset, preset_file
from scadgen.openscad.settings import emit_customizer
from scadgen.openscad.sliders import PASSED
from scadgen.trees.expr import Sym
from tests.support import changed, each_family, many, row, some_hinges

#: Most positions that may be refused: of all sliders of a family, and of a single one (%).
ALL, ONE = 10, 25


def ranges(hinge: Hinge) -> dict[str, str]:
    """What the Customizer's text says behind the value of each field."""
    text = emit_customizer(hinge)
    found = re.findall(rf"^{hinge.family}_(\w+) = [^;\n]*;  // (.*)$", text, re.M)
    return {name: text for name, text in found if name != "part"}


def positions(text: str) -> Any:
    """The values that a slider or a list offers; none for a box to type in."""
    if not text.startswith("["):
        return np.array([])
    inner = text[1:-1]
    if "," in inner:
        return np.array([float(entry.partition(":")[0]) for entry in inner.split(",")])
    low, step, high = map(float, inner.split(":"))
    return (low + step * np.arange(int((high - low) / step + 1e-6) + 1)).round(9)


def refusals(hinge: Hinge) -> dict[str, tuple[int, int]]:
    """By field how many positions are refused with the rest as it is, and of how many."""
    given, found = given_values(hinge), {}
    for name, text in ranges(hinge).items():
        values = positions(text)
        kept = sound(batch(type(hinge), given | {name: values})) if len(values) else values
        found[name] = (int(np.sum(~kept.astype(bool))), len(values))
    return found


@each_family
def test_few_positions_of_the_sliders_are_refused(cls: type[Hinge]) -> None:
    found = refusals(cls())
    assert set(found) == set(bounds(cls))
    refused, tried = map(sum, zip(*found.values(), strict=True))
    assert refused <= tried * ALL / 100
    for name, (few, of) in found.items():
        assert few <= of * ONE / 100, (name, few, of)


@each_family
def test_refusals_are_those_of_the_hinge_itself(cls: type[Hinge]) -> None:
    """The count, done in arrays, against hinges built one by one."""
    for name, (refused, tried) in refusals(cls()).items():
        if tried > 50:  # a few sliders of each family will do
            continue
        failed = 0
        for value in positions(ranges(cls())[name]):
            try:
                cls(**{name: value})
            except HingeError:
                failed += 1
        assert failed == refused, name


@each_family
def test_sliders_follow_the_values_of_each_hinge(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 8)[1:]:
        own = given_values(hinge)
        for name, text in ranges(hinge).items():
            values = positions(text)
            if not len(values):
                assert float(text) == bounds(cls)[name].step
                continue
            assert values.min() - 1e-6 <= own[name] <= values.max() + bounds(cls)[name].step
        for name, (refused, tried) in refusals(hinge).items():
            limits = bounds(cls)[name]
            few = refused <= tried * (1 - PASSED) + 1
            assert few or limits.automatic or limits.labels, name


@each_family
def test_the_sliders_reach_over_the_presets(cls: type[Hinge]) -> None:
    """A newer OpenSCAD pulls a set's value into the slider's range without a word."""
    sets = json.loads(preset_file(cls))["parameterSets"]
    offered = {name: positions(text) for name, text in ranges(cls()).items()}
    for values in sets.values():
        for key, value in values.items():
            found = offered[key.removeprefix(f"{cls.family}_")]
            if not len(found):  # a box to type in, which pulls nothing
                continue
            assert np.abs(found - float(value)).min() < 1e-6, key


@each_family
def test_bounds_stay_as_wide_as_they_are_declared(cls: type[Hinge]) -> None:
    """What Python, jobs and assertions accept has nothing to do with the sliders."""
    for name, text in ranges(cls()).items():
        limits, values = bounds(cls)[name], positions(text)
        if len(values) and not limits.automatic:
            assert limits.low <= values.min() <= values.max() <= limits.high
        row_ = re.search(rf'\["{name}", {name}, [^]]*\]', emit(cls()))
        assert row_ is not None
        assert re.search(rf" {limits.low:g}, {limits.high:g}, \d", row_[0])


def test_a_field_that_works_in_pieces_is_a_list() -> None:
    first, second, *others = positions(ranges(WaistedSpindle())["stop_at"])
    assert first == 0
    assert second >= WaistedSpindle().swing
    assert others
    stopped = WaistedSpindle(swing=60, stop_at=90)
    assert {0, 90} <= set(positions(ranges(stopped)["stop_at"]))
    for family in (WaistedSpindle, SideCones):
        least = family(swing=10)
        lines = [line for line in emit_customizer(least).splitlines() if "_stop_at = 0" in line]
        assert [len(line) <= 100 for line in lines] == [True]


def test_values_of_sets_far_beyond_a_slider_make_it_a_list() -> None:
    """A slider up to the largest set would pass over six values that are refused."""
    offered = positions(ranges(SlitLattice())["strip"])
    refused, tried = refusals(SlitLattice())["strip"]
    assert (refused, tried) == (1, len(offered))
    assert {given_values(preset(SlitLattice, name))["strip"] for name in PRESETS} <= {*offered}
    assert np.diff(offered[:-1]) == pytest.approx(np.full(len(offered) - 2, 0.1))


def test_whole_layers_are_steps_of_the_slider() -> None:
    steps = np.diff(positions(ranges(SheetFlexure())["web"]))
    assert steps == pytest.approx(np.full(len(steps), 0.6))


# Automatic values.


@each_family
def test_left_open_a_hinge_is_the_usual_one(cls: type[Hinge]) -> None:
    usual: dict[str, Any] = {name: limits.default for name, limits in bounds(cls).items()}
    assert cls() == cls(**usual)
    opened = {name for name, limits in bounds(cls).items() if limits.automatic}
    assert cls().left_open == opened
    assert cls(**usual).left_open == frozenset()
    assert all(given_values(cls())[name] == 0 for name in opened)


@each_family
def test_what_is_left_open_is_the_least_that_works(cls: type[Hinge]) -> None:
    """One step less than what 0 stands for is refused, unless that is the usual value."""
    grown = 0
    opened = [name for name, limits in bounds(cls).items() if limits.automatic]
    for name in opened:
        drawn = many(cls, 2000) | {name: np.zeros(2000)}
        hinges = batch(cls, drawn)
        for index in np.flatnonzero(sound(hinges))[:20]:
            hinge = cls(**row(drawn, int(index)))
            value, limits = getattr(hinge, name), bounds(cls)[name]
            assert limits.low <= value <= limits.high
            assert name in hinge.left_open
            if value > limits.default:
                grown += 1
                with pytest.raises(HingeError):
                    changed(hinge, {name: value - limits.step})
            else:
                assert value == limits.default
    assert grown or not opened


def test_what_cannot_be_worked_out_is_refused() -> None:
    fields = {name: bounds(WaistedSpindle)[name] for name in ("height", "knuckle")}
    high, low = Sym("height"), Sym("knuckle")
    circle = [Rule("height", True, low, "or"), Rule("knuckle", True, high, "or")]
    with pytest.raises(ValueError, match="depend on each other: height, knuckle"):
        automatics(fields, circle)
    with pytest.raises(ValueError, match="knuckle is automatic, but no rule asks"):
        automatics(fields, circle[:1])
    alone = Rule("knuckle", True, Sym("wall"), "or")
    assert [one.param for one in automatics(fields, [circle[0], alone])] == ["knuckle", "height"]


def test_a_taller_stack_makes_itself_room() -> None:
    one, two = WaistedSpindle(), WaistedSpindle(rings=2)
    assert two.height > one.height
    with pytest.raises(HingeError, match=r"height = 40 mm; it must be \d+ to 200 mm here, "):
        WaistedSpindle(rings=2, height=40)


def test_a_longer_rod_gets_more_loops() -> None:
    found = [RodLoops(length=length).knuckles for length in (20, 60, 120, 200)]
    assert found == sorted(set(found))
    assert all(isinstance(knuckles, int) for knuckles in found)
    with pytest.raises(HingeError, match=r"knuckles = 2; it must be \d+ to 12 here, "):
        RodLoops(length=200, knuckles=2)


def test_more_screws_make_an_open_height_taller() -> None:
    screwed = WaistedSpindle(screw=1, screws=8)
    assert screwed.height >= 8 * screwed.seat > WaistedSpindle().height
    with pytest.raises(HingeError, match="or the screws are too near each other"):
        changed(screwed, {"height": WaistedSpindle().height})


def test_more_than_the_bound_is_refused_by_name() -> None:
    with pytest.raises(HingeError, match=r"height = 200 mm; it must be at least .*This works: "):
        WaistedSpindle(rings=6, knuckle=30)


@each_family
def test_presets_leave_open_what_they_do_not_set(cls: type[Hinge]) -> None:
    for name, chosen in PRESETS.items():
        hinge = preset(cls, name)
        if chosen.factor == 1:
            assert hinge.left_open == cls().left_open
