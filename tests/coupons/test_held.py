"""What the pieces of a coupon say of their hold is what their proof certifies."""

from __future__ import annotations

import pytest

from scadgen import check
from scadgen.caging.certificate import Certificate, Uncertified
from scadgen.cli.main import main
from scadgen.coupons.held import held_lines, survived
from scadgen.coupons.plan import Plan
from scadgen.mechanism.mechanism import Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.proof.certified import depth_of
from tests.coupons.support import PIVOTS, USUAL, each_of

SOME = PIVOTS[0]


@each_of(PIVOTS)
def test_a_piece_survives_what_its_proof_certifies(printed: Plan) -> None:
    hinge = printed.hinge(printed.values[3])
    depth = depth_of(check(hinge, [hinge.layer], population=None).findings)
    assert depth
    assert survived(hinge) == depth / 2


@each_of([printed for printed in USUAL if printed not in PIVOTS])
def test_of_one_piece_nothing_is_said(printed: Plan) -> None:
    assert survived(printed.hinge(printed.values[0])) is None
    assert list(held_lines(printed)) == []


@pytest.fixture(scope="module")
def cages() -> dict[float | None, Certificate | Uncertified]:
    """What is certified of the pieces of one coupon, by what sets each, once for all tests."""
    return {}


@pytest.fixture
def once(
    cages: dict[float | None, Certificate | Uncertified], monkeypatch: pytest.MonkeyPatch
) -> None:
    cage = Turn.cage

    def kept(joint: Turn, whole: Mechanism) -> Certificate | Uncertified:
        if joint.clearance not in cages:
            cages[joint.clearance] = cage(joint, whole)
        return cages[joint.clearance]

    monkeypatch.setattr(Turn, "cage", kept)


@pytest.mark.usefixtures("once")
@pytest.mark.parametrize("step", range(3))
def test_a_piece_that_is_not_certified_is_named(step: int, monkeypatch: pytest.MonkeyPatch) -> None:
    cage, lost = Turn.cage, SOME.hinge(SOME.values[step]).clearance
    monkeypatch.setattr(
        Turn,
        "cage",
        lambda joint, whole: (
            Uncertified("so it is") if joint.clearance == lost else cage(joint, whole)
        ),
    )
    sure, others = held_lines(SOME)
    number = SOME.number(SOME.values[step])
    assert others == f"Not certified to hold: {number}."
    assert f" {number}: " not in sure
    assert sure.count(" mm") == len(SOME.values) - 1


@pytest.mark.usefixtures("once")
def test_the_command_says_it(tmp_path: object, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["coupon", SOME.family.family, "--out", str(tmp_path)]) == 0
    (line,) = held_lines(SOME)
    assert line in capsys.readouterr().out.splitlines()
