"""Results are read strictly; every refusal names the key and what would work."""

from __future__ import annotations

from pathlib import Path

import pytest

from scadgen.coupons.plan import Plan
from scadgen.coupons.results import load_results, results_file
from scadgen.jobs.job import JobError
from tests.coupons.support import CALIBRATING, PIVOTS, each_of, filled


def refused(tmp_path: Path, text: str) -> str:
    path = tmp_path / "results.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_results(path)
    assert str(caught.value).startswith(f"{path}: ")
    return caught.value.words


@each_of(CALIBRATING)
def test_the_file_to_fill_in_is_read_once_it_is_filled_in(printed: Plan, tmp_path: Path) -> None:
    path = tmp_path / "results.toml"
    path.write_text(filled(printed), encoding="utf-8")
    results = load_results(path)
    assert results.plan.family is printed.family
    assert dict(results.found) == dict.fromkeys(printed.values, "free")
    assert results.layer == pytest.approx(0.3)
    assert "must be one of free, wobbled, fused, lost" in refused(tmp_path, results_file(printed))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"0.20" = "free"', '"0.20" = "fred"', '"fred"; did you mean free? It must be one of free'),
        ('"0.20" = "free"', '"0.20" = "fred"', "did you mean free?"),
        ('"0.20" = "free"', '"0.20" = 1', 'steps."0.20" = 1;'),
        ('"0.20" = "free"', '"0.22" = "free"', "no such step; did you mean 0.20?"),
        ('"0.20" = "free"', "", 'steps: "0.20" missing'),
        ('"0.20" = "free"', '"0.20" = "free"\n"0.2" = "fused"', "0.2 mm stands twice"),
        ('"0.20" = "free"', '"nan" = "free"', "no such step"),
        ('"0.20" = "free"', '"wide" = "free"', "no such step"),
        ("layer = 0.3", "layr = 0.3", "layr: no such key; did you mean layer?"),
        ("layer = 0.3", "", "layer: missing"),
        ("layer = 0.3", 'layer = "0.3"', "it must be a number, 0.04 to 0.8 mm. This works: 0.3"),
        ("layer = 0.3", "layer = 3", "layer = 3 mm; it must be 0.04 to 0.8 mm. This works: 0.8"),
        ("layer = 0.3", "layer = true", "layer = true; it must be a number"),
        ("# count = 10", "count = 2.5", "it must be 1 to 100 pieces in steps of 1."),
        ("[steps]", "[stops]", "stops: no such key; did you mean steps?"),
        ('name = "my printer"', "name = 3", "it must be text in quotes"),
        ('family = "captive_cone"', 'family = "captive_con"', "did you mean captive_cone?"),
        ('family = "captive_cone"', "", "family: missing"),
        ('family = "captive_cone"', 'family = "sheet_flexure"', "print one of captive_cone,"),
        ("[steps]", "[steps", "not TOML"),
    ],
)
def test_what_cannot_be_meant_is_refused(tmp_path: Path, old: str, new: str, words: str) -> None:
    (printed,) = (one for one in PIVOTS if one.family.family == "captive_cone")
    text = filled(printed)
    assert old in text
    assert words in refused(tmp_path, text.replace(old, new))


def test_steps_that_a_maker_changed_are_taken(tmp_path: Path) -> None:
    steps = "".join(f'"{step}" = "free"\n' for step in ("0.2", "0.3", "0.4"))
    head = f'family = "{PIVOTS[0].family.family}"\nlayer = 0.2\n'
    path = tmp_path / "results.toml"
    path.write_text(f"{head}first = 0.2\nstep = 0.1\ncount = 3\n[steps]\n{steps}", encoding="utf-8")
    assert list(load_results(path).found) == pytest.approx([0.2, 0.3, 0.4])
