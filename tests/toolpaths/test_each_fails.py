"""Findings on toolpaths: each fails over the least that must not pass.

What was found is made by hand here; that it is found is for the other files of this room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from manifold3d import Manifold

from scadgen.findings.finding import Finding, Verdict
from scadgen.jobs.job import read_job
from scadgen.toolpaths.assumptions import assumptions
from scadgen.toolpaths.findings import _air, _apart, _bed, _beside, _bodies, _filled, _lost, _sent
from scadgen.toolpaths.roles import Role
from scadgen.toolpaths.solid import least

AT = {"x": 1.0, "y": 2.0, "z": 3.0}
LUMP = SimpleNamespace(volume=9.0)
JOB = read_job('family = "rod_loops"\n[printers]\nmaterial = "petg"\n[duty]\nload = 5\n', Path())
#: What the proof of that job reckons with.
LINE, HEIGHT = JOB.hinge.line_width, max(JOB.layer_heights)


def followed(**found: Any) -> Any:
    """A file of two links, sound but for what is given."""
    sound: dict[str, Any] = {
        "links": SimpleNamespace(names=("fixed", "moving"), solids=(Manifold.cube((9, 9, 3)),)),
        "shown": SimpleNamespace(
            first=0.2,
            low=0.0,
            carried=False,
            layer_heights=[0.2],
            top=2.9,
            sent=(1.0, 1.0),
            worst=None,
            drops=[],
        ),
        "lumps": [LUMP, LUMP],
        "lumps_of": [{0}, {1}],
        "welds": [],
        "near": [],
        "on_bed": [5.0, 5.0],
        "misfits": [],
        "between": [],
        "hanging": [],
        "filled": [],
    }
    return SimpleNamespace(**sound | found)


def of(names: Iterable[Finding], name: str) -> Finding:
    return next(one for one in names if one.name == name)


def test_a_file_is_never_proven() -> None:
    for found in (followed(), followed(links=None)):
        assert _bodies(found).passed
        assert not Verdict("x", (_bodies(found),)).proven


@pytest.mark.parametrize(
    "found",
    [
        {"links": None, "lumps": []},
        {"lumps": [LUMP], "lumps_of": [{0, 1}]},
        {"lumps_of": [{0, 1}, set()]},
    ],
    ids=["no plastic", "one for two", "none of its links"],
)
def test_other_bodies_than_drawn_fail(found: dict[str, Any]) -> None:
    assert not _bodies(followed(**found)).passed


def near(spread: float) -> SimpleNamespace:
    return SimpleNamespace(spread=spread, landed=False, links=(0, 1), **AT)


def test_links_that_touch_fail() -> None:
    weld = SimpleNamespace(area=0.1, landed=False, links=(0, 1), lines=[7], **AT)
    assert all(one.passed for one in _apart(followed()))
    assert [one.passed for one in _apart(followed(near=[near(0.01)]))] == [True]
    assert [one.passed for one in _apart(followed(near=[near(0.0)]))] == [False]
    assert [one.passed for one in _apart(followed(welds=[weld]))] == [False]


@pytest.mark.parametrize(("lost", "judge"), [(True, _lost), (False, _beside)])
def test_plastic_that_lacks_or_is_too_much_fails(
    lost: bool, judge: Callable[[Any], Finding]
) -> None:
    misfit = SimpleNamespace(lost=lost, area=0.5, link=0, **AT)
    assert judge(followed()).passed
    assert not judge(followed(misfits=[misfit])).passed


def test_a_file_that_ends_early_or_sends_too_little_fails() -> None:
    usual = vars(followed().shown)
    early, thin = (SimpleNamespace(**usual | more) for more in ({"top": 2.8}, {"sent": (0.8, 1.0)}))
    assert not _lost(followed(shown=early)).passed
    assert [one.passed for one in _sent(followed())] == [True]
    assert [one.passed for one in _sent(followed(shown=thin))] == [False]


def test_a_line_in_the_air_and_a_link_above_the_bed_fail() -> None:
    line = SimpleNamespace(length=2.0, role=Role.OUTER, what="ends", line=7, **AT)
    assert _air(followed()).passed
    assert not _air(followed(hanging=[line])).passed
    assert _bed(followed()).passed
    assert not _bed(followed(on_bed=[5.0, 0.0])).passed


@pytest.mark.parametrize(("share", "good"), [(0.95, True), (0.85, False)])
def test_what_bears_and_is_filled_less_fails(share: float, good: bool) -> None:
    place = SimpleNamespace(share=share, assumed=1.0, place="rod", point=(0, 0, 0))
    assert [one.passed for one in _filled(followed(filled=[place]), JOB)] == [good]


def test_of_each_place_the_section_that_is_filled_least_is_told() -> None:
    cut = SimpleNamespace(at=(0, 0, 0))

    def looked_at(place: str, share: float | None) -> Any:
        return SimpleNamespace(place=place, share=share, assumed=1.0, cut=cut)

    every = [looked_at(*one) for one in (("rod", 0.9), ("rod", 0.4), ("rod", 0.7), ("leaf", None))]
    assert [(one.place, one.share) for one in least(every)] == [("rod", 0.4)]


@pytest.mark.parametrize(
    ("name", "shown", "settings"),
    [
        ("layer heights", {"layer_heights": [HEIGHT + 0.05]}, {}),
        ("line width", {"wall_width": LINE + 0.1}, {}),
        ("gaps that are closed", {}, {"closing_radius": JOB.population.touch}),
        ("walls and infill", {}, {"walls": 1, "infill": 0.0}),
        ("outlines that are moved", {}, {"grown": JOB.population.growth.low - 0.02}),
        ("outlines that are moved", {}, {"grown": JOB.population.growth.high + 0.02}),
        ("outlines that are moved", {}, {"opened": -JOB.population.growth.low + 0.03}),
        ("outlines that are moved", {}, {"grown": 0.0, "opened": -0.3}),
    ],
)
def test_other_settings_than_reckoned_with_fail(
    name: str, shown: dict[str, Any], settings: dict[str, Any]
) -> None:
    usual = {"layer_heights": [HEIGHT], "first": HEIGHT, "wall_width": LINE}
    solid = {"walls": 99, "infill": 1.0, "closing_radius": JOB.population.touch / 2, "foot": None}
    solid |= {"grown": 0.01, "opened": None}

    def said(**changes: dict[str, Any]) -> Finding:
        parts = {"shown": usual | changes["shown"], "settings": solid | changes["settings"]}
        given = {name: SimpleNamespace(**values) for name, values in parts.items()}
        return of(assumptions(followed(**given), JOB), name)

    assert said(shown={}, settings={}).passed
    assert not said(shown=shown, settings=settings).passed
