"""The reader: the same lines from every dialect, and files that it refuses."""

from __future__ import annotations

import gc
import math
import weakref
from pathlib import Path

import numpy as np
import pytest

from scadgen.tables.documents import JobError
from scadgen.toolpaths import blocks
from scadgen.toolpaths.arcs import SAG, chords
from scadgen.toolpaths.areas import slabs
from scadgen.toolpaths.lines import Laid
from scadgen.toolpaths.reading import laid_layers
from scadgen.toolpaths.roles import Role, role_of
from tests.toolpaths.made import FILAMENT, HEIGHT, LAYERS, WIDTH, Dialect, Run, level, whole

DIALECTS = {
    "relative": Dialect(relative=True, relative_e=True),
    "relative extrusion": Dialect(relative_e=True),
    "inch": Dialect(unit=25.4),
    "resets": Dialect(resets=True),
    "numbered": Dialect(numbered=True),
    "moved origin": Dialect(moved=(7.5, -3.0)),
    "by volume": Dialect(comments=False, tail=(f"; filament_diameter = {FILAMENT}",)),
}


def read(path: Path, filament: float | None = None) -> list[Laid]:
    return list(laid_layers(path, filament))


@pytest.mark.parametrize("name", DIALECTS)
def test_every_dialect_gives_the_same_lines(name: str, tmp_path: Path) -> None:
    plain = read(Dialect().write(tmp_path / "plain.gcode", whole()))
    other = read(DIALECTS[name].write(tmp_path / "other.gcode", whole()))
    assert len(plain) == len(other) == LAYERS
    for one, two in zip(plain, other, strict=True):
        assert one.z == pytest.approx(two.z, abs=1e-5)
        assert np.allclose(one.start, two.start, atol=1e-5)
        assert np.allclose(one.end, two.end, atol=1e-5)
        assert np.allclose(one.width, two.width, atol=0.006)
        assert np.allclose(one.height, two.height, atol=1e-5)
        assert (np.diff(one.path) == np.diff(two.path)).all()


def test_lines_are_as_they_were_laid(tmp_path: Path) -> None:
    runs = whole()
    laid = read(Dialect().write(tmp_path / "a.gcode", runs))
    assert [layer.z for layer in laid] == [pytest.approx(level(k)) for k in range(LAYERS)]
    first = [run for run in runs if run.z == level(0)]
    assert np.allclose(laid[0].start, [run.points[0] for run in first])
    assert np.allclose(laid[0].end, [run.points[-1] for run in first])
    assert set(laid[0].width) == {WIDTH}
    assert set(laid[0].height) == {HEIGHT}
    assert set(laid[0].role) == {Role.OUTER}


def test_a_klipper_file_leaves_the_extruder_alone(tmp_path: Path) -> None:
    """G91 between moves makes Marlin's extruder relative; Klipper's stays as M82 set it."""
    words = ["M82", "G90", "G91", "G0 Z0", "G90", ";WIDTH:0.5", "G0 X0 Y0 Z0.2"]
    words += ["M83", "G90", "G1 X10 Y0 E1", "G1 X10 Y10 E1"]
    path = tmp_path / "a.gcode"
    path.write_text("\n".join([*words, "; gcode_flavor = klipper"]) + "\n")
    assert len(read(path)[0].width) == 2  # relative still: two pushes
    path.write_text("\n".join([*words, "; gcode_flavor = marlin"]) + "\n")
    assert len(read(path)[0].width) == 1  # absolute again: the second pushes nothing


def test_each_extruder_has_its_filament(tmp_path: Path) -> None:
    lines = ["M83", "G0 X0 Y0 Z0.2", "T0", "G1 X10 E1", "T1", "G1 X20 E1"]
    path = tmp_path / "a.gcode"
    path.write_text("\n".join([*lines, "; filament_diameter = 1.75,2.85"]) + "\n")
    (layer,) = read(path)
    sections = (layer.width - layer.height * (1 - math.pi / 4)) * layer.height
    assert sections[1] / sections[0] == pytest.approx((2.85 / 1.75) ** 2, rel=0.02)


@pytest.mark.parametrize("form", ["I J", "R"])
@pytest.mark.parametrize("unit", [1.0, 25.4])
def test_arcs_lie_on_their_circle(form: str, unit: float, tmp_path: Path) -> None:
    """A quarter of a circle around (10, 0), from (0, 0) to (10, 10), clockwise."""

    def n(value: float) -> str:
        return f"{value / unit:.7f}"

    centre = f"I{n(10)} J0" if form == "I J" else f"R{n(10)}"
    lines = ["G20" if unit > 1 else "G21", "M83", ";WIDTH:0.5", f"G0 X0 Y0 Z{n(0.2)}"]
    path = tmp_path / "a.gcode"
    path.write_text("\n".join([*lines, f"G2 X{n(10)} Y{n(10)} {centre} E1"]) + "\n")
    (layer,) = read(path)
    points = np.concatenate([layer.start, layer.end[-1:]])
    assert np.allclose(np.hypot(points[:, 0] - 10, points[:, 1]), 10, atol=1e-5)
    assert np.allclose(points[-1], (10, 10), atol=1e-5)
    assert layer.lengths.sum() == pytest.approx(5 * math.pi, rel=1e-3)
    assert len(set(layer.path)) == 1


def test_a_whole_turn_and_the_other_way() -> None:
    for clockwise in (True, False):
        points = chords((1, 0), (1, 0), {"I": -1.0}, clockwise)
        assert len(points) >= math.pi / math.acos(1 - SAG)
        assert math.copysign(1, points[0][1]) == (-1 if clockwise else 1)
        assert points[-1] == (1, 0)


def test_what_stands_beside_the_print_is_told_apart(tmp_path: Path) -> None:
    runs = [Run(0.2, ((-5, -5), (30, -5)), "Skirt/Brim"), *whole()]
    laid = read(Dialect().write(tmp_path / "a.gcode", runs))
    assert (laid[0].role == Role.BESIDE).sum() == 1
    assert len(laid[0].printed.width) == len(laid[0].width) - 1


def test_a_line_that_cleans_the_nozzle_is_no_layer(tmp_path: Path) -> None:
    runs = [Run(0.4, ((-5, -5), (30, -5)), "nobody knows"), *whole()]
    laid = read(Dialect().write(tmp_path / "a.gcode", runs))
    assert [layer.z for layer in laid] == [pytest.approx(level(k)) for k in range(LAYERS)]
    assert set(laid[0].height) == {HEIGHT}


@pytest.mark.parametrize(
    ("word", "role"),
    [
        ("WALL-OUTER", Role.OUTER),
        ("External perimeter", Role.OUTER),
        ("Outer wall", Role.OUTER),
        ("WALL-INNER", Role.WALL),
        ("Overhang perimeter", Role.WALL),
        ("perimeter", Role.WALL),
        ("SKIN", Role.SOLID),
        ("Top solid infill", Role.SOLID),
        ("FILL", Role.INFILL),
        ("Internal infill", Role.INFILL),
        ("infill (bridge)", Role.BRIDGE),
        ("Bridge infill", Role.BRIDGE),
        ("Gap fill", Role.GAP),
        ("SUPPORT-INTERFACE", Role.SUPPORT),
        ("Support material", Role.SUPPORT),
        ("SKIRT", Role.BESIDE),
        ("PRIME-TOWER", Role.BESIDE),
        ("move to first layer point", Role.UNKNOWN),
    ],
)
def test_words_of_three_programs(word: str, role: Role) -> None:
    assert role_of(word) is role


#: A line of plastic, 9 mm long.
LAID = "M83\n;WIDTH:.5\nG0 X0 Y0 Z.2\nG1 X9 E1\n"
REFUSED = {
    "nothing": ("", "it is empty"),
    "no end of line": ("G21\nG1 X1", "cut off: its last line has no end"),
    "no plastic": ("G21\nG1 X1 Y1\n", "no plastic is laid"),
    "no width": ("M83\nG0 X0 Y0 Z.2\nG1 X9 E1\n", "This works: --filament 1.75"),
    "a vase": ("M83\n;WIDTH:.5\nG0 X0 Y0 Z.2\nG1 X9 Z.3 E1\n", "line 4 rises"),
    "no centre": ("M83\n;WIDTH:.5\nG0 X0 Y0 Z.2\nG2 X9 E1\n", "line 4: an arc with neither"),
    "upright arcs": ("G18\n", "line 1: G18; arcs must lie level"),
    "arcs about places": ("G90.1\n", "line 1: G90.1; curves"),
    "a move without a command": (
        LAID + " X0 E1\n",
        "line 5: a move without a command (G1); each needs a line of its own",
    ),
    "two commands in a line": (
        "M83\n;WIDTH:.5\nG0 X0 Y0 Z.2 G1 X9 E1\n",
        "line 3: two commands in one line; each needs a line of its own",
    ),
    "a tool and a move": ("T0 G1 X9 E1\n", "line 1: two commands in one line"),
    "scaled": ("G51 X2 Y2\n", "line 1: G51; curves"),
    "moved on the way": (
        LAID + "M206 X5\nG1 X0 E1\n",
        "line 5: M206; what is printed from there on lies elsewhere",
    ),
    "an origin on the way": (
        LAID + "G10 L2 P1 X5\n",
        "line 5: G10; what is printed from there on lies elsewhere",
    ),
    "moved by a word": (
        LAID + "set_gcode_offset Z=0.5\n",
        "line 5: SET_GCODE_OFFSET; what is printed from there on",
    ),
    "ended on the way": (
        LAID + "M112\nG1 X0 E1\n",
        "line 6 lays plastic after M112 has ended the print",
    ),
    "a curve": ("M83\n;WIDTH:.5\nG0 X0 Y0 Z.2\nG5 X9 E1\n", "line 4: G5; curves"),
    "a width of nothing": (";WIDTH:0\n", "line 1: ;WIDTH:0; it must be above 0"),
    "one after another": (
        LAID + "G0 Z2\nG1 X0 E1\nG0 Z.2\nG1 X9 E1\n",
        "goes down from z = 2 to 0.2 mm",
    ),
    "layers left out": (
        ";LAYER_COUNT:3\n;LAYER:0\nM83\n;WIDTH:.5\nG0 X0 Y0 Z.2\nG1 X9 E1\n",
        "cut off: it has 1 of the 3 layers",
    ),
    "no settings": (
        "; generated by PrusaSlicer 2.5.0 on a day\nM83\n;WIDTH:.5\nG0 X0 Y0 Z.2\nG1 X9 E1\n",
        "cut off: the settings that PrusaSlicer writes",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_file_is_refused_in_a_sentence(name: str, tmp_path: Path) -> None:
    text, words = REFUSED[name]
    path = tmp_path / "a.gcode"
    path.write_text(text)
    with pytest.raises(JobError, match=r"^[^\n]+$") as refused:
        read(path)
    assert words in str(refused.value)


@pytest.mark.parametrize("line", ["M206 X5", "SET_GCODE_OFFSET Z=0.1", "M92 E93", "M2", "G91.1"])
def test_how_a_machine_is_set_up_before_it_prints_is_its_own(line: str, tmp_path: Path) -> None:
    laid = read(Dialect(head=(line,), tail=("M2",)).write(tmp_path / "a.gcode", whole()))
    assert len(laid) == LAYERS


def test_small_letters_and_messages_are_read_as_they_are_meant(tmp_path: Path) -> None:
    plain = Dialect(head=("M117 G1 X9 to go",)).text(whole())
    small = "\n".join(x[:2] + x[2:].lower() if x[:1] == "G" else x for x in plain.splitlines())
    (tmp_path / "a.gcode").write_text(small + "\n", encoding="utf-8")
    laid, other = read(tmp_path / "a.gcode"), read(Dialect().write(tmp_path / "b.gcode", whole()))
    assert [len(one.width) for one in laid] == [len(one.width) for one in other]
    assert all(np.allclose(a.end, b.end) for a, b in zip(laid, other, strict=True))


def test_filament_drawn_back_by_the_machine_moves_nothing(tmp_path: Path) -> None:
    text = Dialect().text(whole()).replace("G0 X0", "G10\nG11 S1\nG0 X0")
    (tmp_path / "a.gcode").write_text(text)
    assert len(read(tmp_path / "a.gcode")) == LAYERS


def test_a_file_cut_anywhere_is_refused(tmp_path: Path) -> None:
    text = Dialect(tail=("; prusaslicer_config = end",)).text(whole())
    text = "; generated by PrusaSlicer 2.5.0 on a day\n" + text
    path = tmp_path / "a.gcode"
    path.write_text(text)
    assert len(read(path)) == LAYERS
    for share in (0.2, 0.5, 0.9, 0.9999):
        path.write_text(text[: int(len(text) * share)])
        with pytest.raises(JobError, match="cut off"):
            read(path)


RUNS = b"""M82
;TYPE:External perimeter
;WIDTH:0.5
;HEIGHT:0.2
G1 Z.2 F7800
G1 X1 Y1
G1 X2 Y1 E.1 ; perimeter
G1 X3 Y1 E.2 ; perimeter
G1 X4 Y1.5 E.30 ; perimeter
G1 X5 Y1 E.4
G1 X6 Y1 E.5
G1 X6 Y1 E.6
G1 X7 Y1 E.65
G1 X8 Y1 E.6
G1 X9 Y1 E.7
G1 X9.5 Y-.5 E.8
G1 X9 Y-1 E.9
G1 X8. Y-1 E1
"""


@pytest.mark.parametrize("run", [2, 3, 100])
@pytest.mark.parametrize("head", [b"", b"G20\n", b"M83\n", b"G91\n", b"G92 X3 Y2\n"])
def test_a_run_of_moves_is_what_its_lines_are(
    run: int, head: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Read at once or one by one: the same lines, and the same lines of the file."""
    path = tmp_path / "runs.gcode"
    path.write_bytes(RUNS.replace(b"M82\n", b"M82\n" + head))
    found = []
    for least in (10**6, run):
        monkeypatch.setattr(blocks, "_RUN", blocks.runs_of(least))
        (laid,) = laid_layers(path, FILAMENT)
        columns = (laid.start, laid.end, laid.width, laid.height, laid.role, laid.path, laid.source)
        found.append(np.column_stack(columns))
    assert len(found[0]) > 6
    assert found[1] == pytest.approx(found[0], abs=1e-9)


def test_what_is_longer_than_a_block_is_read_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "runs.gcode"
    path.write_bytes(RUNS)
    whole = [(piece.number, piece.lines) for piece in blocks.pieces(path)]
    assert max(lines for _, lines in whole) > 3
    monkeypatch.setattr(blocks, "BLOCK", 10)
    single = list(blocks.pieces(path))
    assert b"".join(piece.text for piece in single) == RUNS
    assert [piece.number for piece in single] == list(range(1, RUNS.count(b"\n") + 1))


def test_a_layer_that_nobody_needs_is_forgotten(tmp_path: Path) -> None:
    """Memory stays flat, however long the file: no layer waits for a collector."""
    layers = laid_layers(Dialect().write(tmp_path / "bars.gcode", whole()))
    laid = next(layers)
    (slab,) = slabs(laid.printed)
    assert slab.area.area() > 0
    assert laid.usual_height == HEIGHT
    gone = weakref.ref(laid), weakref.ref(slab)
    gc.disable()
    try:
        del laid, slab
        next(layers)
        assert [one() for one in gone] == [None, None]
    finally:
        gc.enable()
