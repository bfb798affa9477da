"""What a place bears of what is asked, and which comes first."""

from __future__ import annotations

import dataclasses

import numpy as np

from scadgen.strength.bearing import borne, needed, weakest_first
from scadgen.strength.duty import Duty
from scadgen.strength.place import Strength

DUTY = Duty(margin=2)


def place(name: str, actual: object, permissible: object, *, limit: bool = False) -> Strength:
    return Strength(name, actual, permissible, "MPa", "assumed", "more of it", limit)


def test_a_margin_is_asked_but_not_of_a_limit() -> None:
    assert needed(place("web", 1, 2), DUTY) == 2
    assert needed(place("turns", 1, 2, limit=True), DUTY) == 1


def test_a_place_bears_the_duty_from_its_margin_on() -> None:
    assert borne(place("web", 1, 2), DUTY)
    assert not borne(place("web", 1, 1.99), DUTY)
    assert borne(place("turns", 1, 1, limit=True), DUTY)
    assert not borne(place("turns", 1, 0.99, limit=True), DUTY)
    assert borne(place("unloaded", 0, 1), DUTY)


def test_nothing_is_decided_on_a_caution() -> None:
    screw = dataclasses.replace(place("screw", 5, 1), caution=True)
    assert borne(screw, DUTY)
    assert weakest_first([screw, place("web", 1, 9)], DUTY)[-1] is screw


def test_batches_are_judged_one_by_one() -> None:
    many = place("web", np.array([1.0, 2.0, 0.0]), 3.0)
    assert borne(many, DUTY).tolist() == [True, False, True]


def test_the_least_of_what_is_asked_comes_first() -> None:
    web, pin = place("web", 1, 3), place("pin", 1, 2.5)
    turns = place("turns", 10, 14, limit=True)  # 1.4 of 1; the pin 1.25 of 2
    assert weakest_first([web, turns, pin], DUTY) == [pin, turns, web]
