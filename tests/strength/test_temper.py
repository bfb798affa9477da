"""What a maker says of a plastic in a word."""

from __future__ import annotations

import dataclasses

import pytest

from scadgen.strength.materials import material, materials
from scadgen.strength.temper import share, snapping, stiffness, temper, toughness


@pytest.mark.parametrize(
    ("plastic", "word"),
    [
        ("pla", "brittle"),
        ("petg", "tough"),
        ("pa12", "tough"),
        ("pp", "tough"),
        ("tpu_95a", "soft"),
    ],
)
def test_plastics_in_a_word(plastic: str, word: str) -> None:
    assert temper(material(plastic)) == word


def test_all_are_shares() -> None:
    for plastic in map(material, materials()):
        assert all(0 <= of(plastic) <= 1 for of in (snapping, stiffness, toughness))


def test_what_stretches_does_not_snap() -> None:
    assert snapping(material("pla")) == 1
    assert snapping(material("tpu_95a")) == 0


def test_a_plastic_that_breaks_sooner_is_never_tougher() -> None:
    petg = material("petg")
    entries = tuple(
        dataclasses.replace(one, low=one.low / 4, high=one.high / 4)
        for one in petg.break_strain.entries
    )
    weak = dataclasses.replace(
        petg, break_strain=dataclasses.replace(petg.break_strain, entries=entries)
    )
    assert toughness(weak) < toughness(petg)
    assert snapping(weak) >= snapping(petg)


def test_a_share_goes_with_the_logarithm_and_ends_at_both_ends() -> None:
    assert [float(share(v, 1, 100)) for v in (0, 0.5, 1, 10, 100, 1e6)] == [0, 0, 0, 0.5, 1, 1]
    assert [float(share(v, 100, 1)) for v in (1000, 100, 10, 1)] == [0, 0, 0.5, 1]
