"""Batches say of each of their hinges what the hinge says of itself."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from scadgen.hinge.batch import batch, sound
from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.meshing import mesh
from scadgen.hinge.rules import HingeError
from tests.support import each_family, many, row, some_hinges


@each_family
def test_a_batch_knows_which_hinges_are_sound(cls: type[Hinge]) -> None:
    drawn = many(cls, 300)
    kept = sound(batch(cls, drawn))
    assert kept.shape == (300,)
    assert [bool(k) for k in kept] == [_accepted(cls, row(drawn, k)) for k in range(300)]


@each_family
def test_a_batch_has_the_derived_values_of_each(cls: type[Hinge]) -> None:
    hinges = some_hinges(cls, 5)
    fields = definition(cls).bounds
    many_at_once = batch(cls, {n: np.array([getattr(h, n) for h in hinges]) for n in fields})
    for name in definition(cls).derived:
        wanted = [getattr(hinge, name) for hinge in hinges]
        assert np.broadcast_to(getattr(many_at_once, name), 6) == pytest.approx(wanted)


@each_family
def test_the_extents_are_that_of_the_mesh(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 4, stop_at=0) if "stop_at" in definition(cls).bounds else [cls()]:
        box = mesh(hinge, angle=0).bounding_box()
        sides = [box[k + 3] - box[k] for k in range(3)]
        told = [float(side) for side in hinge.extents()]
        if getattr(hinge, "opens_to", 0):  # the tip of a heel is told as it is before it meets
            assert all(a > b - 1e-3 for a, b in zip(told, sides, strict=True)), hinge
            continue
        assert told == pytest.approx(sides, abs=1e-3), hinge


def test_a_batch_refuses_a_name_that_is_no_field() -> None:
    from scadgen import RodLoops

    with pytest.raises(KeyError, match="rod_loops has no loops"):
        batch(RodLoops, {"loops": np.ones(3)})


def _accepted(cls: type[Hinge], given: dict[str, Any]) -> bool:
    try:
        cls(**given)
    except HingeError:
        return False
    return True
