"""Faults planted in toolpaths that are sound without them: each is found at its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from scadgen.findings.finding import Finding
from scadgen.tables.documents import JobError
from scadgen.toolpaths import Asked, Followed, follow, verdict_on
from scadgen.toolpaths.roles import Role
from tests.toolpaths.made import (
    BROAD,
    FILAMENT,
    GAP,
    HEIGHT,
    LAYERS,
    LONG,
    SPAN,
    WIDTH,
    Dialect,
    Run,
    bar,
    bars,
    level,
    table,
    whole,
)

#: How near to its place a fault is found, mm.
NEAR = 0.6


def followed(
    tmp_path: Path,
    runs: Iterable[Run],
    *,
    gap: float = GAP,
    shift: tuple[float, float] | None = None,
) -> Followed:
    path = Dialect().write(tmp_path / "a.gcode", runs)
    return follow(path, Asked(bars(gap), shift=shift))


def finding(found: Followed, name: str) -> Finding:
    verdict = verdict_on(found, "bars")
    return next(one for one in verdict.findings if one.name == name)


def failed(found: Followed) -> set[str]:
    return {one.name for one in verdict_on(found, "bars").findings if not one.passed}


def test_sound_toolpaths_pass_and_are_never_proven(tmp_path: Path) -> None:
    found = followed(tmp_path, whole())
    verdict = verdict_on(found, "bars")
    assert verdict.passed
    assert not verdict.proven
    assert failed(found) == set()
    assert found.links is not None
    assert found.links.shift == pytest.approx((0, 0), abs=0.01)
    assert [sorted(links) for links in found.lumps_of] in ([[0], [1]], [[1], [0]])
    round_ends = 4 * (1 - 3.1416 / 4) * (WIDTH / 2) ** 2 * BROAD / WIDTH * LAYERS * HEIGHT
    drawn = LONG * BROAD * LAYERS * HEIGHT
    assert [lump.volume for lump in found.lumps] == pytest.approx(
        [drawn - round_ends] * 2, rel=0.01
    )
    assert sum(found.on_bed) == pytest.approx(2 * drawn / (LAYERS * HEIGHT), rel=0.02)


@pytest.mark.parametrize("gap", [0.12, 0.2, 0.3])
def test_the_spread_to_spare_is_half_of_the_gap(gap: float, tmp_path: Path) -> None:
    found = followed(tmp_path, whole(gap), gap=gap)
    (near,) = found.near
    assert near.spread == pytest.approx(gap / 2, abs=0.02)
    assert finding(found, "links apart").marginal == (near.spread < 0.05)


def test_with_room_to_spare_no_spread_is_told(tmp_path: Path) -> None:
    found = followed(tmp_path, whole(1.0), gap=1.0)
    assert found.near == []
    assert "0.2 mm or more" in finding(found, "links apart").words


def test_where_it_stands_is_found(tmp_path: Path) -> None:
    path = Dialect().write(tmp_path / "a.gcode", _moved(whole(), 100, 80))
    found = follow(path, Asked(bars()))
    assert found.links is not None
    assert found.links.shift == pytest.approx((100, 80), abs=0.01)
    assert failed(found) == set()
    again = follow(path, Asked(bars(), shift=(100, 80)))
    assert failed(again) == set()


def test_another_model_is_refused(tmp_path: Path) -> None:
    path = Dialect().write(tmp_path / "a.gcode", whole(3.0))
    with pytest.raises(JobError, match=r"it prints 20\.\d x 11\.0 mm, .* --at 100,100"):
        follow(path, Asked(bars()))


def test_a_line_across_the_gap_fuses_at_its_place(tmp_path: Path) -> None:
    across = Run(level(5), ((7.0, BROAD - 0.3), (7.0, BROAD + GAP + 0.3)), "Gap fill")
    found = followed(tmp_path, [*_until(5), across, *_after(5)])
    assert {"bodies of plastic", "links apart"} <= failed(found)
    (weld,) = found.welds
    assert (weld.x, weld.y, weld.z) == pytest.approx((7.0, BROAD + GAP / 2, level(5)), abs=NEAR)
    assert weld.z == pytest.approx(level(5))
    assert not weld.landed
    assert len(found.lumps) == 1
    assert f"line {_source(tmp_path, across)} " in finding(found, "links apart").words


def test_a_layer_drawn_too_near_fuses_from_there_on(tmp_path: Path) -> None:
    """Lines of one layer are so wide that the bars touch; the others are as they should be."""
    wide = [replace(r, wide=WIDTH + 2 * GAP) if r.z == level(7) else r for r in whole()]
    found = followed(tmp_path, wide, shift=(0, 0))
    assert {round(weld.z, 3) for weld in found.welds} == {level(7)}
    assert "first at z = 1.6 mm" in finding(found, "links apart").words


def test_a_line_that_lies_on_the_other_link_fuses(tmp_path: Path) -> None:
    """Bar 2 reaches over bar 1 by a line of its next layer, which lies right on it."""
    over = [
        Run(level(8), ((4.0 + k * WIDTH, BROAD - 0.6), (4.0 + k * WIDTH, BROAD + GAP + 1)))
        for k in range(3)
    ]
    runs = [*_until(7), *bar(level(8), BROAD + GAP), *over, *_after(8)]
    found = followed(tmp_path, [run for run in runs if run.z <= level(8)] + list(_above(9)))
    assert found.welds
    assert min(weld.z for weld in found.welds) == pytest.approx(level(8))
    assert any(weld.landed or weld.area > 0 for weld in found.welds)
    worst = max(found.welds, key=lambda weld: weld.area)
    assert (worst.x, worst.y) == pytest.approx((4.5, BROAD), abs=1.0)


@pytest.mark.parametrize(("high", "welded"), [(HEIGHT, False), (2 * HEIGHT, True)])
def test_a_thread_as_thick_as_two_layers_lands_below(
    high: float, *, welded: bool, tmp_path: Path
) -> None:
    """One empty layer below a table: free for thin lines, welded by a thick bridge."""
    runs: list[Run] = []
    for k in range(7):
        if k < 4:
            runs += [*bar(level(k), 0, (-4, 0)), *bar(level(k), 0, (SPAN, SPAN + 4))]
        if k < 3:
            runs += bar(level(k), 0, (1, SPAN - 1))
        if k >= 4:
            thick = high if k == 4 else HEIGHT
            runs += [replace(run, high=thick) for run in bar(level(k), 0, (-4, SPAN + 4))]
    path = Dialect().write(tmp_path / "a.gcode", runs)
    found = follow(path, Asked(table()))
    assert {(round(weld.z, 3), weld.landed) for weld in found.welds} == (
        {(level(4), True)} if welded else set()
    )
    assert len(found.lumps) == (1 if welded else 2)
    assert found.hanging == []


def test_a_lost_wall_is_found_where_it_is_missing(tmp_path: Path) -> None:
    """One bar's outer line is left out in some layers."""
    lost = [run for run in whole() if not (run.points[0][1] == WIDTH / 2 and 3 <= _k(run) <= 6)]
    found = followed(tmp_path, lost)
    assert "walls are there" in failed(found)
    place = finding(found, "walls are there").place
    assert place is not None
    assert place.point[1] == pytest.approx(WIDTH / 2, abs=NEAR)
    assert {round(one.z, 3) for one in found.misfits if one.lost} == {level(k) for k in range(3, 7)}


def test_a_shifted_layer_is_found(tmp_path: Path) -> None:
    """From a layer on everything stands 1 mm farther in x: a lost step of the motor."""
    runs = [run if _k(run) < 8 else next(_moved([run], 1.0, 0)) for run in whole()]
    path = Dialect().write(tmp_path / "a.gcode", runs)
    found = follow(path, Asked(bars(), shift=(0, 0)))
    assert {"plastic within the model", "walls are there"} <= failed(found)
    assert min(one.z for one in found.misfits) == pytest.approx(level(8))
    outside = [one for one in found.misfits if not one.lost]
    assert outside[0].x == pytest.approx(LONG + 0.5, abs=NEAR)


def test_plastic_that_nothing_carries_is_found(tmp_path: Path) -> None:
    """A bar that starts in the air, beside the model: from end to end, and a body of its own."""
    island = [Run(level(k), ((5, -3), (12, -3)), "External perimeter") for k in (4, 5)]
    runs = sorted([*whole(), *island], key=lambda run: run.z)
    path = Dialect().write(tmp_path / "a.gcode", runs)
    found = follow(path, Asked(bars(), shift=(0, 0)))
    assert {"bodies of plastic", "lines in the air", "plastic within the model"} <= failed(found)
    (hang,) = found.hanging
    assert hang.what == "lies"
    assert hang.length == pytest.approx(7, abs=0.3)
    assert (hang.x, hang.y, hang.z) == pytest.approx((8.5, -3, level(4)), abs=0.3)
    assert frozenset() in found.lumps_of


def _bridged(between: float, end: float = 0.0) -> list[Run]:
    """Two posts, and lines over them; ``end``: how far the lines go on beyond the second, mm."""
    runs: list[Run] = []
    for k in range(6):
        runs += bar(level(k), 0, (0, 4))
        runs += bar(level(k), 0, (4 + between, 8 + between))
    for k in (6, 7):
        runs += bar(level(k), 0, (0, 8 + between + end))
    return runs


@pytest.mark.parametrize(("between", "good"), [(9.0, True), (11.0, False)])
def test_a_bridge_is_measured(between: float, *, good: bool, tmp_path: Path) -> None:
    path = Dialect().write(tmp_path / "a.gcode", _bridged(between))
    found = follow(path, Asked(bridge=10))
    assert (not found.hanging) == good
    for hang in found.hanging:
        assert hang.what == "runs"
        assert hang.length == pytest.approx(between, abs=0.5)
        assert hang.z == pytest.approx(level(6))
        assert hang.x == pytest.approx(4 + between / 2, abs=NEAR)


def test_a_line_that_ends_in_the_air_is_found(tmp_path: Path) -> None:
    path = Dialect().write(tmp_path / "a.gcode", _bridged(5, end=6))
    found = follow(path, Asked(bridge=10))
    assert {(hang.what, round(hang.z, 3)) for hang in found.hanging} == {("ends", level(6))}
    assert found.hanging[0].x == pytest.approx(4 + 5 + 4 + 3, abs=NEAR)


def test_a_support_carries_and_is_no_body_of_the_print(tmp_path: Path) -> None:
    post = [
        replace(run, role="Support material")
        for k in range(6)
        for run in bar(level(k), 0, (12, 18))
    ]
    runs = sorted([*_bridged(5, end=6), *post], key=lambda run: run.z)
    found = follow(Dialect().write(tmp_path / "a.gcode", runs), Asked(bridge=10))
    assert found.hanging == []
    assert found.shown.length(Role.SUPPORT) > 0
    assert len(found.lumps) == 1


def test_a_link_that_is_not_on_the_bed_is_found(tmp_path: Path) -> None:
    runs = [run for run in whole() if not (_k(run) == 0 and run.points[0][1] > BROAD)]
    found = followed(tmp_path, runs)
    assert "plastic on the bed" in failed(found)
    assert "bar 2 starts above the bed" in finding(found, "plastic on the bed").words
    assert found.on_bed[1] == 0
    assert found.on_bed[0] > 0


@pytest.mark.parametrize(("layers", "good"), [(LAYERS, True), (LAYERS - 1, False), (8, False)])
def test_a_file_that_ends_below_the_top_is_found(layers: int, good: bool, tmp_path: Path) -> None:
    """All that is there is as drawn, and two bodies: it is not all."""
    found = followed(tmp_path, _until(layers - 1))
    assert failed(found) == (set() if good else {"walls are there"})
    ends = f"the last layer ends at z = {level(layers - 1):.4g} mm, and the model is 2.4 mm high."
    assert (finding(found, "walls are there").words == ends) is not good


@pytest.mark.parametrize(
    ("flow", "good"), [("", True), ("M221 S90", True), ("M221 S130", False), ("M221 S40", False)]
)
def test_more_or_less_plastic_than_lines_take_is_found(
    flow: str, good: bool, tmp_path: Path
) -> None:
    dialect = Dialect(head=(flow,), tail=(f"; filament_diameter = {FILAMENT}",))
    found = follow(dialect.write(tmp_path / "a.gcode", whole()), Asked(bars()))
    share = float(flow.partition("S")[2] or 100)
    assert failed(found) == (set() if good else {"plastic that is sent"})
    assert finding(found, "plastic that is sent").words.startswith(f"{share:.0f} % of what lines")


def test_of_plastic_nothing_is_said_where_widths_follow_from_it(tmp_path: Path) -> None:
    dialect = Dialect(comments=False, tail=(f"; filament_diameter = {FILAMENT}",))
    found = follow(dialect.write(tmp_path / "a.gcode", whole()), Asked(bars()))
    assert "plastic that is sent" not in {one.name for one in verdict_on(found, "bars").findings}


def _sent_as(path: Path, shares: Callable[[Run], float]) -> Followed:
    """The bars, with so much of the plastic that lines take, run by run; widths told as ever."""
    runs = whole()
    text = Dialect(relative_e=True, head=(f"; filament_diameter = {FILAMENT}",)).text(runs)
    pushed = iter(runs)

    def sent(line: str) -> str:
        if not line.startswith("G1"):
            return line
        move, _, e = line.rpartition(" E")
        return f"{move} E{float(e) * shares(next(pushed)):.7f}"

    path.write_text("\n".join(map(sent, text.splitlines())) + "\n", encoding="utf-8")
    return follow(path, Asked(bars()))


@pytest.mark.parametrize(("share", "good"), [(1.2, True), (0.8, True), (0.02, False), (1.8, False)])
def test_a_layer_that_is_sent_other_than_it_takes_is_found(
    share: float, good: bool, tmp_path: Path
) -> None:
    """Over the whole file it is too little to tell."""
    found = _sent_as(tmp_path / "a.gcode", lambda run: share if _k(run) == 5 else 1.0)
    sent, takes = found.shown.sent
    assert sent / takes == pytest.approx(1, abs=0.1)
    assert failed(found) == (set() if good else {"plastic that is sent"})
    words = finding(found, "plastic that is sent").words
    told = (
        f"{100 * share:.0f} % of what lines take that are as wide as the file tells, in the layer"
    )
    assert good or words.startswith(f"{told} at z = {level(5):.4g} mm for outer wall")


def test_without_a_filament_it_is_said_that_plastic_is_not_weighed(tmp_path: Path) -> None:
    told = finding(followed(tmp_path, whole()), "plastic that is sent")
    assert told.passed
    assert "nothing tells how thick the filament is" in told.words
    assert "--filament 1.75" in told.words


@pytest.mark.parametrize(
    ("push", "good"),
    [
        ("G1 E10", False),
        ("G1 E-3\nG1 E3", True),
        ("G1 E-3\nG1 E3.2", True),
        ("G1 E-3\nG1 E5", False),
    ],
)
def test_plastic_pushed_out_on_one_spot_is_found(push: str, good: bool, tmp_path: Path) -> None:
    """Beyond what was drawn back before, as a printer does on its way."""
    text = Dialect(relative_e=True, head=(f"; filament_diameter = {FILAMENT}",)).text(whole())
    path = tmp_path / "a.gcode"
    path.write_text(_before_layer(text, 6, f"G0 X7 Y4.25\n{push}"), encoding="utf-8")
    found = follow(path, Asked(bars()))
    assert failed(found) == (set() if good else {"plastic that is sent"})
    if not good:
        (drop,) = (drop for _, drop in found.shown.drops)
        assert (drop.x, drop.y) == (7, 4.25)
        assert f"line {drop.source}" in finding(found, "plastic that is sent").words


def _before_layer(text: str, k: int, more: str) -> str:
    """A file with more in it, above the first line of a layer."""
    at = text.index(f"G0 X0.2500000 Y0.2500000 Z{level(k):.7f}")
    return f"{text[:at]}{more}\n{text[at:]}"


@pytest.mark.parametrize(
    ("role", "k", "good"),
    [
        ("Support material", 5, False),
        ("Support material", 0, False),
        ("Wipe tower", 5, False),
        ("Custom", 5, False),
        ("Skirt", 0, True),
    ],
)
def test_what_is_no_part_of_the_print_is_found_between_links(
    role: str, k: int, good: bool, tmp_path: Path
) -> None:
    across = Run(level(k), ((7.0, BROAD - 0.3), (7.0, BROAD + GAP + 0.3)), role)
    found = followed(tmp_path, [*_until(k), across, *_after(k)])
    assert failed(found) == (set() if good else {"nothing between links"})
    told = finding(found, "nothing between links")
    assert "lies between bar 1 and bar 2 in 1 layer" in told.words
    assert told.place is not None
    x, y, z = told.place.point
    assert (x, y, z) == pytest.approx((7.0, BROAD + GAP / 2, level(k)), abs=NEAR)
    assert ("Cut it there" in told.words) is good


def test_a_support_beside_both_links_lies_not_between_them(tmp_path: Path) -> None:
    past = Run(level(5), ((LONG + 0.3, 0.0), (LONG + 0.3, 2 * BROAD)), "Support material")
    found = followed(tmp_path, [*_until(5), past, *_after(5)], shift=(0, 0))
    assert failed(found) == set()


@pytest.mark.parametrize(("lift", "good"), [(0.0, True), (0.1, True), (0.2, False), (5.0, False)])
def test_a_print_that_begins_over_the_bed_is_found(lift: float, good: bool, tmp_path: Path) -> None:
    """No job tells how high it is."""
    runs = [replace(run, z=round(run.z + lift, 6)) for run in whole()]
    path = tmp_path / "a.gcode"
    found = follow(Dialect().write(path, runs), Asked())
    assert failed(found) == (set() if good else {"lines in the air"})


def test_a_print_on_a_raft_begins_on_it(tmp_path: Path) -> None:
    raft = [replace(run, role="Support material") for run in whole() if _k(run) == 0]
    runs = [*raft, *(replace(run, z=round(run.z + HEIGHT, 6)) for run in whole())]
    found = follow(Dialect().write(tmp_path / "a.gcode", runs), Asked())
    assert found.shown.low == pytest.approx(HEIGHT)
    assert failed(found) == set()


def test_the_same_faults_are_found_in_any_dialect(tmp_path: Path) -> None:
    across = Run(level(5), ((7.0, BROAD - 0.3), (7.0, BROAD + GAP + 0.3)), "Gap fill")
    runs = [*_until(5), across, *_after(5)]
    dialects = (
        Dialect(),
        Dialect(relative=True, relative_e=True, unit=25.4),
        Dialect(comments=False, tail=(f"; filament_diameter = {FILAMENT}",)),
    )
    places = []
    for dialect in dialects:
        found = follow(dialect.write(tmp_path / "a.gcode", runs), Asked(bars()))
        places += [(weld.x, weld.y, weld.z) for weld in found.welds]
    assert len(places) == len(dialects)
    for place in places:
        assert place == pytest.approx(places[0], abs=0.02)


def _k(run: Run) -> int:
    return round(run.z / HEIGHT) - 1


def _until(k: int) -> list[Run]:
    return [run for run in whole() if _k(run) <= k]


def _after(k: int) -> list[Run]:
    return [run for run in whole() if _k(run) > k]


def _above(k: int) -> list[Run]:
    return [run for run in whole() if _k(run) >= k]


def _moved(runs: Iterable[Run], x: float, y: float) -> Iterator[Run]:
    for run in runs:
        yield replace(run, points=tuple((px + x, py + y) for px, py in run.points))


def _source(folder: Path, run: Run) -> int:
    """The line of the file that lays a run of one line."""
    text = (folder / "a.gcode").read_text().splitlines()
    return text.index(f";TYPE:{run.role}") + 5
