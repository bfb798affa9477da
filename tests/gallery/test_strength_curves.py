"""Strength curves: their points are the family's own strengths; the chosen one is marked."""

from __future__ import annotations

import dataclasses
import functools
import re
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest

from scadgen import BreakAwayLink, RodLoops, SheetFlexure, SlitLattice
from scadgen.gallery.deciding import decides
from scadgen.gallery.strength_curves import strength_curve, strength_figure
from scadgen.gallery.strength_sweep import FAR, Sweep
from scadgen.gallery.strength_sweep import sweeps as swept
from scadgen.gallery.told import TOLD
from scadgen.hinge.family import Hinge, bounds
from scadgen.hinge.rules import HingeError
from scadgen.pictures.naming import APART, spread
from scadgen.pictures.palette import LIGHT
from scadgen.pictures.plot import line_style
from scadgen.proof.fleet.best import best_clearance
from scadgen.proof.fleet.population import ROUGH
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material, materials
from tests.support import each_family

NAMES = {material(name).name: material(name) for name in materials()}
DUTY = Duty()


def sweeps(cls: type[Hinge], *duty: Duty) -> list[Sweep]:
    """A family's sweeps, made once for all tests that ask with the same duty."""
    family: Any = cls
    return list(_sweeps(family, *duty))


@functools.cache
def _sweeps(cls: Any, *duty: Duty) -> tuple[Sweep, ...]:
    return tuple(swept(cls, *duty))


def curve(cls: type[Hinge]) -> bytes:
    """The family's curve, drawn once for all tests that only look at it."""
    family: Any = cls
    return _curve(family)


@functools.cache
def _curve(cls: Any) -> bytes:
    return strength_curve(cls)


def at(cls: type[Hinge], found: Sweep, index: int) -> Hinge | None:
    """The hinge at one value of a sweep, the others being usual; None where it is refused."""
    value = found.values[index].item()
    given: dict[str, Any] = {found.field: int(value) if bounds(cls)[found.field].whole else value}
    try:
        return cls(**given)
    except HingeError:
        return None


def some(found: Sweep) -> list[int]:
    """The chosen value, and others that are spread over what has curves."""
    inside = np.flatnonzero(found.read)
    return [found.chosen, *inside[:: max(1, len(inside) // 4)].tolist(), int(inside[-1])]


@each_family
def test_curves_are_the_strengths_of_single_hinges(cls: type[Hinge]) -> None:
    found_any = False
    for found in sweeps(cls):
        for index in some(found):
            hinge = at(cls, found, index)
            assert bool(found.kept[index]) is (hinge is not None)
            if hinge is None:
                continue
            assert found.axis[index] == pytest.approx(float(getattr(hinge, found.shown)))
            for name, plastic in NAMES.items():
                filled = dataclasses.replace(plastic, filling=ROUGH.filling(hinge.line_width))
                strengths = list(hinge.strengths(DUTY, filled))
                real = [s for s in strengths if not (s.limit or s.caution)]
                if real:
                    least = min(float(s.factor) for s in real)
                    assert found.factors[name][index] == pytest.approx(min(least, FAR))
                else:
                    factors = [float(s.factor) for s in strengths]
                    assert any(found.factors[name][index] == pytest.approx(f) for f in factors)
                found_any = True
    assert found_any


@each_family
def test_the_chosen_point_is_the_familys_default(cls: type[Hinge]) -> None:
    for found in sweeps(cls):
        assert found.values[found.chosen] == pytest.approx(bounds(cls)[found.field].default)
        assert found.kept[found.chosen]
        for line in found.factors.values():
            assert np.isfinite(line[found.chosen])
        spans = [np.ptp(line[found.read]) for line in found.factors.values()]
        assert max(spans) > 0  # the field matters


def test_a_field_that_is_given_comes_before_one_that_is_found() -> None:
    assert [(f.field, f.shown) for f in sweeps(SheetFlexure)] == [
        ("web", "web"),
        ("web_length", "bend_radius"),
    ]
    assert [f.field for f in sweeps(SlitLattice)] == ["rows"]
    assert [f.field for f in sweeps(RodLoops)] == ["rod"]


def test_strain_of_a_web_grows_as_one_over_its_radius() -> None:
    """At least t/(2R), more by the same factor everywhere: that of the fillet at its root."""
    found = sweeps(SheetFlexure, Duty(load=0, pull=0))[1]
    strain = found.strains["PETG"].actual
    plain = 100 * SheetFlexure().web / (2 * found.axis)
    ratio = strain / plain
    assert ratio == pytest.approx(ratio[0])
    assert 1 <= ratio[0] < 2


def test_more_rows_take_less_torque_and_less_strain() -> None:
    (found,) = sweeps(SlitLattice)
    (torques,) = found.efforts.values()
    for name, torque in torques.items():
        assert np.all(np.diff(torque) < 0)
        assert np.all(np.diff(found.strains[name].actual) < 0)
        ratio = torque[found.chosen] * (found.values[found.chosen] - 1)
        assert torque * (found.values - 1) == pytest.approx(ratio)  # strips in series


def test_a_family_of_limits_alone_is_held_against_one() -> None:
    assert all(found.asked == 1 for found in sweeps(BreakAwayLink, Duty(margin=3)))
    assert all(found.asked == 3 for found in sweeps(RodLoops, Duty(margin=3)))


@each_family
def test_every_line_has_its_dot_at_the_default(cls: type[Hinge]) -> None:
    figure = strength_figure(cls, DUTY)
    drawn = [axes for axes in figure.axes if axes.axison]
    assert drawn
    for axes in drawn:
        dots = [line for line in axes.lines if line.get_gid() == "chosen"]
        lines = [line for line in axes.lines if str(line.get_gid()).startswith(("line", "strain"))]
        assert len(dots) == len(lines) > 0
        for dot, line in zip(dots, lines, strict=True):
            (x,), (y,) = map(np.asarray, (dot.get_xdata(), dot.get_ydata()))
            xs, ys = map(np.asarray, (line.get_xdata(), line.get_ydata()))
            assert y == ys[np.abs(xs - x).argmin()]
        assert any(line.get_linestyle() == ":" for line in axes.lines)


@pytest.mark.parametrize("cls", [RodLoops, SlitLattice])
def test_the_svg_is_the_same_every_time_and_whole(cls: type[Hinge]) -> None:
    first = curve(cls)
    assert first == strength_curve(cls)
    root = ElementTree.fromstring(first)
    assert root.tag.endswith("svg")
    assert b"<dc:date>" not in first
    loaded = re.findall(rb'(?:href|src)="(?!#)([^"]*)"', first)
    assert not loaded
    assert first.count(b'id="chosen') >= len(NAMES)


def test_it_stands_on_opaque_paper() -> None:
    """The first shape is a sheet in the colour of paper: dark pages show through nowhere."""
    root = ElementTree.fromstring(curve(RodLoops))
    first = next(element for element in root.iter() if element.tag.endswith("path"))
    assert f"fill: {LIGHT['surface']}" in first.attrib["style"]
    assert "opacity" not in first.attrib["style"]


def test_another_duty_gives_another_curve() -> None:
    light, heavy = sweeps(RodLoops, Duty(load=1)), sweeps(RodLoops, Duty(load=10))
    for one, other in zip(light, heavy, strict=True):
        for name in one.factors:
            assert np.all(one.factors[name][one.read] > other.factors[name][one.read])


def test_lines_stay_apart_without_colour_or_without_dashes() -> None:
    styles = [line_style(k) for k in range(15)]
    assert len({(str(s["color"]), str(s["ls"])) for s in styles}) == 15
    assert len(NAMES) <= 15


def test_a_plastic_of_which_nothing_is_known_has_no_curve() -> None:
    """As long and as warm as that ABS bears, PLA is too soft, and of TPU nobody knows."""
    duty = Duty(hours=720, celsius=40)
    (found,) = sweeps(RodLoops, duty)
    assert "ABS" in found.factors
    assert not {"PLA", "TPU 95A"} & set(found.factors)
    assert "720 h at 40 °C" in strength_figure(RodLoops, duty).get_suptitle()
    assert " h at " not in strength_figure(RodLoops, Duty()).get_suptitle()


@each_family
def test_the_usual_value_is_never_drawn_as_refused(cls: type[Hinge]) -> None:
    """Also where whole layers alone are sound: no refused value is drawn between sound ones."""
    for found in sweeps(cls):
        assert found.kept[found.chosen]
        first, last = np.flatnonzero(found.kept)[[0, -1]]
        assert found.kept[first : last + 1].mean() > 0.6
    (thickness, _) = sweeps(SheetFlexure)
    layers = thickness.values[thickness.kept] / 0.2
    assert len(layers) > 1
    assert layers == pytest.approx(layers.round())


@pytest.mark.parametrize("cls", [RodLoops, SheetFlexure])
def test_each_plastic_is_named_beside_its_line_in_text_that_stays_text(cls: type[Hinge]) -> None:
    root = ElementTree.fromstring(curve(cls))
    words = [element.text for element in root.iter() if element.tag.endswith("}text")]
    diagrams = sum(len(row) for row in _drawn(cls))
    assert all(words.count(name) == diagrams for name in NAMES)
    assert any((text or "").startswith(f"{cls.heading()}: 3 N at") for text in words)


def _drawn(cls: type[Hinge]) -> list[list[str]]:
    """For each sweep what its diagrams show."""
    return [
        [*["factor"] * bool(s.factors), *["strain"] * bool(s.strains), *s.efforts]
        for s in sweeps(cls)
    ]


def test_a_fleet_whose_share_hangs_on_no_clearance_is_not_drawn() -> None:
    assert decides(RodLoops)
    assert not decides(SheetFlexure)
    share = best_clearance(SheetFlexure(), ROUGH, 500, step=0.05)
    assert np.ptp(share.both[~share.refused]) < 0.1
    assert not TOLD["Fleet"](SheetFlexure)


@pytest.mark.parametrize("places", [[0.5] * 13, [0.0] * 4, [1.0] * 4, [0.1, 0.12, 0.9]])
def test_names_stand_apart_and_in_order(places: list[float]) -> None:
    there = spread(places)
    assert np.diff(there).min() >= APART - 1e-9
    assert min(there) > -0.01
    assert max(there) < 1.03
