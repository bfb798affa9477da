"""The strain that arms of a coupon bore: of arms of a known strength, of odd pieces, by hand."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest

from scadgen import SideCones, SnapCatch
from scadgen.cli.main import main
from scadgen.coupons.plan import Plan, plan
from scadgen.coupons.results import (
    FIRM,
    LOST,
    SOFT,
    STRAINED,
    WHITENED,
    Results,
    load_results,
    results_file,
)
from scadgen.coupons.sheet import coupon_sheet
from scadgen.coupons.strained import fit_strain, strain_lines, strain_of
from scadgen.strength import catch, notch
from scadgen.tables.documents import JobError
from tests.gallery.pages import Page


@functools.cache
def plans() -> dict[str, Plan]:
    found = {"detent": plan(SideCones, "detent"), "catch": plan(SnapCatch)}
    return {name: one for name, one in found.items() if one is not None}


def did(printed: Plan, bears: float, soft: int = 0) -> Results:
    """Pieces whose arms whiten beyond a strain (%), the first few of them soft."""
    found = {
        value: WHITENED if strain_of(printed.hinge(value)) > bears else SOFT if k < soft else FIRM
        for k, value in enumerate(printed.values)
    }
    return Results(printed, "simulated", 0.2, found)


@pytest.mark.parametrize("name", ["detent", "catch"])
def test_strains_of_arms_that_are_known_are_found_again(name: str) -> None:
    printed = plans()[name]
    strains = [strain_of(printed.hinge(value)) for value in printed.values]
    assert strains == sorted(strains)
    for bears in strains[1:-1]:
        borne = fit_strain(did(printed, bears, soft=1))
        assert borne.low is not None
        assert borne.high is not None
        assert borne.low == pytest.approx(bears)
        assert borne.high > bears
        assert borne.firm == printed.values[1]


def test_the_strain_is_that_of_beam_theory_at_its_corner() -> None:
    hinge = SideCones(leaf_length=25, swing=120, detent_at=85)
    bent = catch.snap_strain(1.4, hinge.detent_height, 24) * notch.factor(hinge.line_width, 1.4)
    assert strain_of(hinge) == pytest.approx(100 * bent)


def test_limits_to_one_side_are_told_as_such() -> None:
    printed = plans()["detent"]
    all_bore, none_bore = fit_strain(did(printed, 100)), fit_strain(did(printed, 0))
    assert (all_bore.high, none_bore.low) == (None, None)
    assert "gives no upper limit" in next(strain_lines(did(printed, 100), all_bore))
    assert "Every arm whitened" in next(strain_lines(did(printed, 0), none_bore))
    soft = did(printed, 100, soft=len(printed.values))
    assert fit_strain(soft).firm is None
    assert any("Every piece was soft" in line for line in strain_lines(soft, fit_strain(soft)))


def test_pieces_that_contradict_the_others_are_outvoted_and_too_many_refused() -> None:
    printed = plans()["catch"]
    values = printed.values
    one = dict.fromkeys(values, FIRM) | {values[1]: WHITENED, values[-1]: WHITENED}
    borne = fit_strain(Results(printed, "odd", 0.2, one))
    assert borne.low == strain_of(printed.hinge(values[-2]))
    for found in (
        dict.fromkeys(values, WHITENED) | dict.fromkeys(values[-3:], FIRM),
        dict.fromkeys(values, LOST),
    ):
        with pytest.raises(JobError, match="steps: "):
            fit_strain(Results(printed, "odd", 0.2, found))


def test_a_maker_fills_it_in_and_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    printed = plans()["detent"]
    path = tmp_path / "results.toml"
    path.write_text(results_file(printed).replace('"?"', f'"{FIRM}"'), encoding="utf-8")
    results = load_results(path)
    assert (results.plan.steps.of, results.plan.values) == ("detent", printed.values)
    assert main(["calibrate", str(path)]) == 0
    told = capsys.readouterr().out
    assert "firm from detent_height = 1.3 mm on" in told
    assert not list(tmp_path.glob("printer*"))
    for old, new, words in (
        (f'"{FIRM}"', '"free"', f"it must be one of {', '.join(STRAINED)}"),
        ('"detent"', '"stop"', "side_cones has no such coupon"),
    ):
        path.write_text(results_file(printed).replace('"?"', f'"{FIRM}"').replace(old, new))
        assert main(["calibrate", str(path)]) == 2
        assert words in " ".join(capsys.readouterr().err.split())


def test_the_sheet_asks_for_the_words_of_an_arm() -> None:
    printed = plans()["detent"]
    words = Page(coupon_sheet(printed).decode()).words
    assert all(word in words for word in STRAINED)
    assert "scadgen calibrate side_cones_detent_coupon_results.toml" in words
    assert "what strain the arms bore" in words


def test_a_coupon_of_what_a_family_has_not_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["coupon", "side_cones", "catch"]) == 2
    assert "no coupon of its catch; it has one of its detent" in capsys.readouterr().err
    assert main(["coupon", "snap_catch", "detent"]) == 2
    assert "it has none but its own" in capsys.readouterr().err
