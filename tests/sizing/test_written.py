"""A job that is written is one that passes: chosen, sized or new, over a grid of wishes."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from scadgen.cli.main import main
from scadgen.hinge.family import Hinge, all_families
from scadgen.jobs.job import load_job, new_job, read_job
from scadgen.sizing.choose import Ranking, choose
from scadgen.sizing.jobs import sized_job, why_unproven
from scadgen.sizing.postures import POSTURES
from scadgen.sizing.size import Sized, size
from scadgen.sizing.wish import Wish, load_wish
from tests.support import each_family, few_candidates, hinges, thorough

LOADS = (0, 3, 60, 500, 2000)
ANGLES = (12, 60, 100, 175)
TURNS = (1, 30_000)
#: Candidates: enough for something to serve.
COUNT = 1500

EVERY = [
    (posture, plastic, *rest)
    for (posture, plastic), rest in zip(
        itertools.cycle(itertools.product(POSTURES, ("petg", "pla", "pp"))),
        itertools.product(LOADS, ANGLES, TURNS),
        strict=False,
    )
]
#: Every value of each, and every posture with every plastic, without all their combinations.
GRID = EVERY[::5] + (EVERY[2::5] if thorough() else [])


def wish_of(folder: Path, text: str) -> Wish:
    path = folder / "wish.toml"
    path.write_text(text, encoding="utf-8")
    return load_wish(path)


def wished(
    folder: Path, posture: str, plastic: str, load: float, angle: float, turns: float
) -> Wish:
    lever, pull = (15, 3) if load else (0, 0)
    return wish_of(
        folder,
        f'[part]\nposture = "{posture}"\n[size]\nfacets = 16\n'
        f'[printers]\nlayer_heights = [0.2]\nmaterial = "{plastic}"\n'
        f"[duty]\nangle = {angle}\nload = {load}\nlever = {lever}\npull = {pull}\n"
        f"cycles = {turns}\n",
    )


def ranked(
    wish: Wish, folder: Path, count: int = COUNT, reasons: dict[str, str] | None = None
) -> Ranking:
    """The ranking; ``reasons`` takes, by its text, why each job that was tried is not proven."""
    seen = {} if reasons is None else reasons

    def unproven(hinge: Hinge) -> str:
        seen[sized_job(wish, hinge, folder)] = why = why_unproven(wish, hinge, folder)
        return why

    return choose(wish.wanted, wish.posture, wish.population, count, unproven)


@pytest.mark.parametrize(("posture", "plastic", "load", "angle", "turns"), GRID)
def test_the_favourite_is_a_job_that_passes_and_turns_as_far_as_is_asked(
    posture: str, plastic: str, load: float, angle: float, turns: float, tmp_path: Path
) -> None:
    wish = wished(tmp_path, posture, plastic, load, angle, turns)
    proofs: dict[str, str] = {}
    ranking = ranked(wish, tmp_path, reasons=proofs)
    told = [c.family for c in ranking.choices] + [r.family for r in ranking.refused]
    assert sorted(told) == sorted(hinges())
    for choice in (ranking.favourite, ranking.better_turned):
        if choice is None:
            continue
        path = tmp_path / "job.toml"
        text = sized_job(wish, choice.sized.hinge, tmp_path)
        assert proofs[text] == ""
        path.write_text(text, encoding="utf-8")
        job = load_job(path)
        assert job.hinge == choice.sized.hinge
        assert job.hinge.swing == angle
        assert job.duty == wish.wanted.duty


@pytest.mark.parametrize(
    ("said", "load"),
    [
        ('aim = "strongest"', 3),
        ('aim = "smallest"\nposture = "standing"', 2),
        ('aim = "quickest"\nmust_not_come_off = true', 1),
        ("one_piece = true", 0),
    ],
)
def test_the_favourite_of_somebody_with_preferences_is_a_job_that_passes(
    said: str, load: float, tmp_path: Path
) -> None:
    text = (
        f"[part]\n{said}\n[size]\nfacets = 16\n[printers]\nlayer_heights = [0.2]\n"
        f'material = "petg"\n[duty]\nangle = 90\nload = {load}\nlever = 15\npull = {load}\n'
    )
    wish = wish_of(tmp_path, text)
    favourite = ranked(wish, tmp_path).favourite
    assert favourite
    job = read_job(sized_job(wish, favourite.sized.hinge, tmp_path), tmp_path)
    assert job.duty == wish.wanted.duty
    verdict = job.prove()
    assert verdict.proven, [finding for finding in verdict.findings if not finding.passed]


def test_something_serves_in_most_of_the_grid(tmp_path: Path) -> None:
    """Or the test above, which has sized them, looks at nothing."""
    wishes = [wished(tmp_path, *row) for row in GRID]
    found = [choose(wish.wanted, wish.posture, wish.population, COUNT) for wish in wishes]
    assert sum(ranking.favourite is not None for ranking in found) > len(GRID) / 2
    columns = zip(*GRID, strict=True)
    assert [len(set(column)) for column in columns] == [2, 3, 5, 4, 2]


def test_an_angle_that_a_family_cannot_turn_is_a_refusal(tmp_path: Path) -> None:
    wish = wished(tmp_path, "lying", "petg", 0, 100, 1)
    reasons = {one.family: str(one) for one in ranked(wish, tmp_path).refused}
    assert "swing = 100 deg; it must be 5 to 60 deg." in reasons["break_away_link"]
    wish = wished(tmp_path, "lying", "petg", 0, 12, 1)
    ranking = ranked(wish, tmp_path)
    link = next(c for c in ranking.choices if c.family == "break_away_link")
    assert link.sized.hinge.swing == 12


def test_a_favourite_that_is_not_proven_is_refused_with_the_finding_and_the_next_is_tried(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The best is made to promise a turn down through the bed, behind the back of sizing."""
    wish = wished(tmp_path, "lying", "petg", 3, 90, 1000)
    best, second, *_ = choose(wish.wanted, wish.posture, wish.population, COUNT).choices
    cls = all_families()[best.family]
    monkeypatch.setattr(cls, "lowest", lambda self: -180.0)
    ranking = ranked(wish, tmp_path)
    assert ranking.favourite
    assert ranking.favourite.family == second.family
    (refused,) = (one for one in ranking.refused if one.family == best.family)
    assert refused.why.startswith("its job is not proven: ")
    assert "deg" in refused.why


def test_files_that_a_wish_names_are_found_from_where_the_job_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from scadgen.strength.materials import PLASTICS

    few_candidates(monkeypatch)
    (tmp_path / "own.toml").write_bytes((PLASTICS / "petg.toml").read_bytes())
    out = tmp_path / "deep" / "jobs"
    out.mkdir(parents=True)
    wish = '[size]\nfacets = 16\n[printers]\nmaterial = "own.toml"\n[duty]\nload = 3\n'
    path = tmp_path / "wish.toml"
    for family in ("", 'family = "rod_loops"\n'):
        path.write_text(family + wish, encoding="utf-8")
        job = out / f"{'size' if family else 'choose'}.toml"
        assert main([job.stem, str(path), "--out", str(job), "--quiet"]) == 0
        assert main(["check", str(job), "--quiet"]) == 0
        assert 'material = "../../own.toml"' in job.read_text(encoding="utf-8")


@each_family
def test_a_sized_job_asks_the_duty_that_it_was_sized_for(cls: type[Hinge], tmp_path: Path) -> None:
    wish = wish_of(tmp_path, f'family = "{cls.family}"\n[printers]\nmaterial = "petg"\n')
    assert wish.wanted.duty == cls.usual_duty()
    found = size(cls, wish.wanted, COUNT)
    assert isinstance(found, Sized)
    assert read_job(sized_job(wish, found.hinge, tmp_path), tmp_path).duty == wish.wanted.duty


@each_family
def test_a_new_job_passes_or_says_why_it_cannot(cls: type[Hinge], tmp_path: Path) -> None:
    text = new_job(cls.family)
    assert "facets = 64" in text
    verdict = read_job(text.replace("facets = 64", "facets = 16"), tmp_path).prove()
    assert verdict.passed == (not cls.hangs), [f for f in verdict.findings if not f.passed]
    assert (f"# As it prints, its proof fails:\n# {cls.hangs}." in text) == bool(cls.hangs)
