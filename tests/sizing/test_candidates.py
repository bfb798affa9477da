"""Candidates are sound hinges, from small to large, the same every time."""

from __future__ import annotations

import numpy as np

from scadgen.hinge.batch import batch
from scadgen.hinge.family import Hinge, bounds
from scadgen.sizing.candidates import candidates
from tests.support import each_family, row


@each_family
def test_candidates_are_sound_and_grow(cls: type[Hinge]) -> None:
    found = candidates(cls, {}, 2000)
    count = len(found["clearance"])
    assert count > 500
    volumes = []
    for k in range(0, count, count // 25):
        hinge = cls(**row(found, k))  # raises for one that is not sound
        volumes.append(float(hinge.bulk()))
    assert volumes == sorted(volumes)
    assert volumes[-1] > 8 * volumes[0]


@each_family
def test_free_fields_vary_and_all_others_stay(cls: type[Hinge]) -> None:
    found = candidates(cls, {"clearance": 0.35, "layer": 0.2}, 2000)
    for name, limits in bounds(cls).items():
        wanted = {"clearance": 0.35, "layer": 0.2}.get(name, limits.default)
        if name in cls.free_fields():
            assert len(np.unique(found[name])) > 1, name
        else:
            assert set(found[name]) == {wanted}, name


@each_family
def test_a_field_that_is_fixed_is_left_alone(cls: type[Hinge]) -> None:
    name = cls.free_fields()[0]
    usual = bounds(cls)[name].default
    assert set(candidates(cls, {name: usual}, 2000)[name]) == {usual}


@each_family
def test_the_same_candidates_every_time(cls: type[Hinge]) -> None:
    one, other = candidates(cls, {}, 500), candidates(cls, {}, 500)
    assert all(np.array_equal(one[name], other[name]) for name in one)


def test_nothing_where_what_is_fixed_breaks_a_rule() -> None:
    from scadgen import WaistedSpindle

    assert len(candidates(WaistedSpindle, {"height": 10}, 500)["clearance"]) == 0
    assert batch(WaistedSpindle, {"height": np.array([10.0])}).extents()[2] == 10
