"""What sizing finds cannot be shrunk by a step of any one field that it was free to choose."""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from typing import Any, cast

import pytest

from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.hinge.rules import HingeError
from scadgen.sizing.size import Envelope, Sized, Wanted, size
from scadgen.strength.asked import answerable
from scadgen.strength.bearing import bears
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material, materials

#: Wishes that the test tries; ``python -m tests.sizing.test_smallest 200`` tries more.
SEVERAL = 27


def drawn(chance: random.Random, cls: type[Hinge]) -> Wanted:
    """A wish of a family: any plastic and duty, and in half of them room or a size given."""
    duty = Duty(
        load=chance.choice((0.0, 0.5, 2.0, 5.0, 20.0, 60.0)),
        lever=chance.choice((0.0, 10.0, 30.0, 60.0)),
        pull=chance.choice((0.0, 2.0, 10.0, 40.0)),
        cycles=1 if cls.joins_once else chance.choice((1, 50, 1000, 20_000)),
        margin=chance.choice((1.0, 1.5, 2.5)),
    )
    fixed: dict[str, float] = {}
    if not cls.joins_once:
        fixed["swing"] = chance.choice((30, 60, 90, 120))
    if chance.random() < 0.5:
        name = chance.choice(cls.free_fields())
        limits = bounds(cls)[name]
        fixed[name] = limits.on_step(limits.default * chance.uniform(0.7, 1.4))
    room = Envelope(*(chance.choice((30.0, 80.0, 200.0, float("inf"))) for _ in "xyz"))
    room = room if chance.random() < 0.5 else Envelope()
    plastic = material(chance.choice(materials()))
    return Wanted(answerable(duty, cls.answers), plastic, room, fixed)


def shrunk(wanted: Wanted, found: Sized) -> Iterator[str]:
    """Each step of one free field, either way, to a smaller hinge that serves as well."""
    hinge, cls = found.hinge, type(found.hinge)
    values = {name: getattr(hinge, name) for name in bounds(cls)}
    for name in set(cls.free_fields()) - set(wanted.fixed):
        limits = bounds(cls)[name]
        for step in (-limits.step, limits.step):
            value = round(values[name] + step, 6)
            if not limits.low <= value <= limits.high:
                continue
            try:
                other = cls(**values | {name: int(value) if limits.whole else value})
            except HingeError:
                continue
            room = (wanted.envelope.x, wanted.envelope.y, wanted.envelope.z)
            fits = all(side <= most for side, most in zip(other.extents(), room, strict=True))
            less = other.bulk() < hinge.bulk() * (1 - 1e-6)
            if less and fits and bears(other, wanted.duty, wanted.plastic):
                yield f"{cls.family}: {name} {values[name]} to {value}, {wanted}"


def tried(count: int, count_of_candidates: int) -> tuple[int, list[str]]:
    """How many of so many wishes are served, and every way to shrink what serves."""
    chance, families = random.Random(1), list(all_families().values())
    served, ways = 0, []
    for k in range(count):
        wanted = drawn(chance, families[k % len(families)])
        found: Any = size(families[k % len(families)], wanted, count_of_candidates)
        if isinstance(found, Sized):
            served += 1
            ways += list(shrunk(wanted, found))
    return served, ways


def test_no_result_can_be_shrunk_by_one_step_of_one_field() -> None:
    served, ways = tried(SEVERAL, 1500)
    assert not ways
    assert served > SEVERAL / 3


def test_a_hinge_that_can_be_shrunk_is_seen() -> None:
    cls, row = all_families()["rod_loops"], cast(Any, {"leaf_thickness": 6.0})
    wanted = Wanted(Duty(load=0, pull=0), material("petg"))
    found = Sized(cls(**row), (), 0)
    assert any("leaf_thickness" in way for way in shrunk(wanted, found))


@pytest.mark.parametrize("family", ["slit_lattice", "waisted_spindle"])
def test_a_field_that_is_given_stays(family: str) -> None:
    cls = all_families()[family]
    name = cls.free_fields()[-1]
    given = bounds(cls)[name].default
    duty = Duty(load=0.1, pull=1)
    found = size(cls, Wanted(duty, material("petg"), fixed={name: given}), 1500)
    assert isinstance(found, Sized)
    assert getattr(found.hinge, name) == given


if __name__ == "__main__":
    served, ways = tried(int(sys.argv[1]), 9000)
    print(f"{served} served, {len(ways)} can be shrunk", *ways, sep="\n")
