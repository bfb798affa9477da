"""What is chosen for forty duties, and why (common practice, no source)."""

from __future__ import annotations

import functools
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, all_families
from scadgen.proof.fleet.population import CAREFUL, ROUGH
from scadgen.sizing.changes import changes
from scadgen.sizing.choose import HINGE, PRINTERS, Ranking, choose
from scadgen.sizing.points import AIMS, WEIGHTS, weights
from scadgen.sizing.postures import Posture, posture_of, suits
from scadgen.sizing.size import Sized
from scadgen.sizing.wanted import Envelope, Prefers, Wanted
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.sizing.duties import COUNT, PARTS, favourite, ranked, rows
from tests.support import each_family, few_candidates, thorough

#: Rows of the forty that have to agree: what is known of plastics may move the rest.
AGREE = 37
ANYWHERE = Envelope()
#: Proportions where a ranking is made anew for everything that a wish may say.
FEW = 400


def wish(plastic: str = "petg", room: Envelope = ANYWHERE, **more: Any) -> Wanted:
    """A lid of 90 degrees under 5 N at 30 mm, but for what is given."""
    prefers = Prefers(**{name: more.pop(name) for name in list(more) if hasattr(Prefers, name)})
    duty = Duty(**{"load": 5.0, "lever": 30.0, **more})
    return Wanted(duty, material(plastic), room, {"swing": 90}, prefers)


@functools.cache
def chosen(posture: Posture, turned: bool = False, **more: Any) -> Ranking:
    """The ranking for that lid; of what prints the other way only if it may be ``turned``."""
    return choose(wish(**more), posture, ROUGH, COUNT, turned=turned)


def reasons(ranking: Ranking) -> dict[str, str]:
    """Why each family is refused."""
    return {refused.family: str(refused) for refused in ranking.refused}


def test_the_choice_is_that_of_practice() -> None:
    found = ranked("duty")
    told = [f"{row.why}: {favourite(r)}" for row, r in found if not row.agrees(favourite(r))]
    assert len(found) == 40
    assert len(found) - len(told) >= AGREE, told


@pytest.mark.parametrize("part", PARTS)
def test_what_practice_would_never_take_is_never_first(part: str) -> None:
    assert not [row.why for row, ranking in ranked(part) if favourite(ranking) in row.never]


def test_the_choice_holds_for_duties_beyond_the_forty() -> None:
    for row, ranking in ranked("later"):
        assert row.agrees(favourite(ranking)) != bool(row.disputed), row.why


def test_no_form_is_nearly_always_first() -> None:
    for posture in ("lying", "standing"):
        every = [pair for part in PARTS for pair in ranked(part)]
        firsts = [favourite(ranking) for row, ranking in every if row.posture == posture]
        most = max(firsts.count(family) for family in firsts)
        assert most <= 0.65 * len(firsts)
    assert len({favourite(r) for part in PARTS for _, r in ranked(part)}) >= 6


def test_the_table_names_families() -> None:
    for part in PARTS:
        for row in rows(part):
            assert set(row.first + row.never) <= set(all_families()), row.why
            assert all(suits(family, row.posture) for family in row.first), row.why


def test_refusals_say_what_stands_in_the_way() -> None:
    assert "PLA bears" in reasons(chosen("lying", plastic="pla"))["sheet_flexure"]
    told = reasons(chosen("lying", plastic="abs"))["break_away_link"]
    assert "break_away_link tells no strength for a load: 5 N are asked" in told
    upright = reasons(chosen("standing"))
    assert "it prints lying" in upright["side_cones"]
    assert "it prints flat" in upright["slit_lattice"]
    assert "% of the printers called rough" in upright["facing_cones"]
    low = reasons(chosen("standing", room=Envelope(80, 80, 17), load=3.0))
    assert "it needs" in low["waisted_spindle"]
    tight = chosen("lying", room=Envelope(10, 20, 2))
    assert tight.favourite is None
    assert all("it needs" in reasons(tight)[name] for name in ("side_cones", "rod_loops"))


def test_turning_the_part_is_offered_where_it_is_worth_it() -> None:
    ranking = chosen("standing", turned=True, load=8.0)
    assert ranking.better_turned
    assert ranking.favourite
    assert ranking.better_turned.score > ranking.favourite.score
    assert not suits(ranking.better_turned.family, "standing")


def test_every_hinge_is_ranked_or_refused_with_a_reason() -> None:
    """And nothing that is none, as a catch."""
    ranking = chosen("standing")
    told = [c.family for c in ranking.choices] + [r.family for r in ranking.refused]
    hinges = [name for name, cls in all_families().items() if cls.serves == HINGE]
    assert sorted(told) == hinges
    assert len(hinges) < len(all_families())
    assert all(len(str(refused)) > 20 for refused in ranking.refused)


def test_a_catch_that_is_asked_for_as_a_hinge_is_refused_in_a_sentence() -> None:
    wanted = Wanted(Duty(load=1, pull=0), material("petg"))
    ranking = choose(wanted, "lying", CAREFUL, COUNT, given="snap_catch", turned=False)
    assert ranking.favourite is None
    (refused,) = (one for one in ranking.refused if one.family == "snap_catch")
    assert "it is a catch, which goes with a hinge and is none" in str(refused)


def test_points_add_up_none_is_beyond_its_weight_and_each_is_told() -> None:
    for posture in ("lying", "standing"):
        choices = chosen(posture).choices
        assert PRINTERS > 1000
        assert [c.score for c in choices] == sorted((c.score for c in choices), reverse=True)
        for choice in choices:
            assert choice.score == pytest.approx(sum(choice.points.values()))
            assert choice.points.keys() == choice.words.keys() == WEIGHTS.keys()
            assert all(0 <= choice.points[what] <= most for what, most in WEIGHTS.items())
            assert all(len(words) > 5 for words in choice.words.values())


@pytest.mark.parametrize("aim", [None, *AIMS])
@pytest.mark.parametrize("stays", [False, True])
def test_weights_are_a_hundred_and_what_is_preferred_weighs_most(aim: Any, stays: bool) -> None:
    found = weights(Prefers(must_not_come_off=stays, aim=aim))
    assert sum(found.values()) == pytest.approx(100)
    if aim:
        assert found[AIMS[aim]] > 5 * WEIGHTS[AIMS[aim]]
    if stays:
        assert found["held"] > 5 * WEIGHTS["held"]


def test_a_preference_is_a_reason_to_refuse() -> None:
    flat = choose(wish(one_piece=True, load=0, pull=0), "lying", ROUGH, COUNT, turned=False)
    assert "one flat piece is wanted" in reasons(flat)["rod_loops"]
    assert flat.favourite
    assert all_families()[flat.favourite.family].one_piece
    once = wish(must_not_come_off=True, load=0, pull=0, cycles=1)
    told = reasons(choose(once, "lying", ROUGH, COUNT, turned=False))
    assert "must not come off" in told["break_away_link"]


def test_the_strongest_bears_more_than_is_asked() -> None:
    usual, strong = chosen("lying").choices, chosen("lying", aim="strongest").choices
    bears = {choice.family: choice.sized.factor for choice in usual}
    stronger = [c for c in strong if c.sized.factor > 3 * bears[c.family]]
    assert {"rod_loops", "side_cones"} <= {choice.family for choice in stronger}


def test_an_aim_puts_what_has_least_of_it_further_up() -> None:
    for aim, part in (("smallest", "room"), ("quickest", "time")):
        ranking = chosen("standing", aim=aim, load=2.0)
        assert ranking.favourite
        most = ranking.favourite.points[part] / ranking.weights[part]
        assert most == max(c.points[part] for c in ranking.choices) / ranking.weights[part]


def test_a_given_family_is_the_favourite_and_its_place_is_told() -> None:
    usual = chosen("lying")
    last = usual.choices[-1].family
    ranking = choose(wish(), "lying", ROUGH, COUNT, given=last, turned=False)
    assert favourite(ranking) == last
    assert [c.family for c in ranking.choices] == [c.family for c in usual.choices]
    refused = choose(wish(), "standing", ROUGH, COUNT, given="facing_cones", turned=False)
    assert refused.favourite is None
    assert refused.choices


def test_of_a_given_family_alone_a_proof_is_asked() -> None:
    seen: list[str] = []

    def unproven(hinge: Hinge) -> str:
        seen.append(hinge.family)
        return "it is not proven."

    ranking = choose(wish(), "lying", ROUGH, COUNT, unproven, given="rod_loops")
    assert seen == ["rod_loops"]
    assert ranking.favourite is None
    assert reasons(ranking)["rod_loops"] == "it is not proven."


def test_what_would_change_the_order_was_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    if not thorough():
        few_candidates(monkeypatch, FEW)
    wanted = wish(load=1.0, pull=1.0)
    first = favourite(choose(wanted, "lying", ROUGH, FEW, turned=False))
    told = changes(wanted, "lying", ROUGH, first, FEW)
    found = {one.key: one for one in told}
    soft = [one.value for one in told if one.family == "sheet_flexure"]
    assert {"pp", "tpu_95a"} & set(soft)
    assert len({(one.key, one.family) for one in told}) == len(told)
    assert all(one.family != first for one in told)
    one = found["part.must_not_come_off"]
    other = choose(
        wish(load=1.0, pull=1.0, must_not_come_off=True), "lying", ROUGH, FEW, turned=False
    )
    assert favourite(other) == one.family != first
    assert "part.must_not_come_off = true: " in one.words


def test_hangs_and_a_tall_stand_cost_points() -> None:
    tall = Wanted(Duty(load=1, pull=1), material("petg"), Envelope(), {"swing": 90, "height": 60})
    high = {c.family: c for c in choose(tall, "standing", CAREFUL, COUNT, turned=False).choices}
    low = {c.family: c for c in chosen("standing", load=1.0, pull=1.0).choices}
    assert high["captive_cone"].points["footing"] < low["captive_cone"].points["footing"]
    assert "brim" in high["captive_cone"].words["footing"]


@each_family
def test_a_family_says_what_it_knows_of_a_duty(cls: type[Hinge]) -> None:
    hinge = cls()
    for plastic in map(material, ("pla", "petg", "pp", "tpu_95a")):
        for cycles in (1, 50, 20_000):
            judged = hinge.practice(Duty(cycles=cycles), plastic)
            assert 0 <= judged.worth <= 1
            assert judged.words
            assert not judged.words.endswith(".")
    strays = hinge.strays()
    assert strays is None or strays[0] >= 0


@each_family
def test_more_turns_a_heavier_load_or_a_softer_bearing_are_never_trusted_more(
    cls: type[Hinge],
) -> None:
    if cls.joins_once:
        return
    hinge, petg = cls(), material("petg")
    worth = [hinge.practice(Duty(cycles=c), petg).worth for c in (2, 500, 20_000, 500_000)]
    assert worth == sorted(worth, reverse=True)
    worth = [hinge.practice(Duty(load=n, lever=40), petg).worth for n in (0, 2, 20, 200)]
    assert worth == sorted(worth, reverse=True)
    worth = [hinge.practice(Duty(), material(p)).worth for p in ("petg", "tpu_95a")]
    assert cls.one_piece or worth[1] < worth[0]


@each_family
def test_each_family_has_a_posture(cls: type[Hinge]) -> None:
    assert suits(cls.family, posture_of(cls))


def test_a_sized_choice_is_a_hinge_of_its_family() -> None:
    for choice in chosen("lying").choices:
        assert isinstance(choice.sized, Sized)
        assert choice.sized.hinge.family == choice.family
