"""Every file that people write: whatever stands in any place of it is taken, or refused in a line.

Each value of a file that works, tables and entries of lists included, is put in turn as something
else, and each key as another.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

import scadgen
from scadgen.coupons.results import load_results
from scadgen.jobs.job import load_job
from scadgen.product.reading import read_product
from scadgen.proof.fleet.population import SPREADS
from scadgen.proof.fleet.reading import load_population
from scadgen.sizing.wish import load_wish
from scadgen.strength.materials import load_material
from scadgen.tables.documents import JobError
from scadgen.tables.reading import load as load_file
from tests.coupons.support import CALIBRATING, filled
from tests.support import ROOT, assert_short_line

SPREAD = "mean = 0.04\nstd = 0.01\nlow = 0.0\nhigh = 0.1\nsource = 'assumed'\n"
FLEET = "name = 'attic'\nneeded = 97\n" + "".join(f"[{key}]\n{SPREAD}" for key in SPREADS)
FLEET += "[layer]\nheights = [0.1, 0.2]\nweights = [1, 3]\nsource = 'assumed'\n"
MATTE = Path(scadgen.__file__).parent / "strength/plastics/pla_matte.toml"
PLASTIC = f"""{MATTE.read_text(encoding="utf-8")}
[permissible]
once = 3
thousands = 1
[[lasting]]
hours = 1000
celsius = 30
strength = [0.2, 0.6]
modulus = 0.4
mark = "measured"
"""
JOB = (ROOT / "gallery/tea_sampler_box.toml").read_text(encoding="utf-8")
WISH = (ROOT / "gallery/tea_sampler_wish.toml").read_text(encoding="utf-8") + 'fleet = "rough"\n'
WISH = f'family = "side_cones"\n{WISH}[size]\nknuckles = 5\n'
PRODUCT = """name = "a_box"
[bodies.box]
form = "tray"
length = 50
width = 30
height = 14
wall = 2
floor = 1.6
at = [1, 2]
turn = 90
loose = false
[bodies.own]
form = "scad"
file = "own.scad"
module = "own"
[bodies.lid]
form = "model"
file = "lid.stl"
scale = 1
[joints.hinge]
family = "break_away_link"
fixed = "box"
moving = "lid"
edge = "front"
offset = 2
place = [0, 10, 90]
moving_place = [0, 10, -90]
closes = false
[joints.hinge.duty]
load = 2
[catches.snap]
family = "snap_catch"
on = "hinge"
offset = 3
[printers]
bed = [180, 180]
material = "petg"
[duty]
load = 3
"""
FILES: dict[str, tuple[Callable[[Path], object], str]] = {
    "job": (load_job, JOB),
    "wish": (load_wish, WISH),
    "product": (lambda path: load_file(path, read_product), PRODUCT),
    "fleet": (load_population, FLEET),
    "plastic": (load_material, PLASTIC),
    "results": (load_results, filled(CALIBRATING[0])),
}
HUGE = f"0x{'f' * 300}"
LONG = f'"{"a" * 5000}"'
VALUES = ["0", "-1", "1.5", "1e308", "-1e308", "5e-324", "inf", "-inf", "nan", "true", '""', '"a"']
VALUES += [f"{2**63 - 1}", f"-{2**63}", HUGE, f"[{HUGE}]", f"{{ a = {HUGE} }}", LONG, f"[{LONG}]"]
VALUES += ["[]", "{}", "[[]]", "[{}]", "[nan]", "[inf, 0]", "2020-01-01", "07:30:00", '"../../x"']
VALUES += [r'"\u0007\u202e"', r'{ "\u202e" = 1 }', "{ a = { b = 1 } }", "[1, 2, 3, 4]"]
KEYS = [LONG, r'"\u0007\u202e\n"', '""', '"a.b"', "zz"]


def written(value: Any) -> str:
    """``value`` on one line of TOML."""
    if isinstance(value, dict):
        return f"{{{', '.join(f'{json.dumps(k)} = {written(v)}' for k, v in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(written, value))}]"
    return json.dumps(value).replace("Infinity", "inf")


def spoilt(value: Any) -> Iterator[str]:
    """``value`` in TOML with one thing in it changed, each in turn."""
    yield from VALUES
    if isinstance(value, dict):
        yield from (f"{{{', '.join(lines)}}}" for lines in spoilt_lines(value))
    if isinstance(value, list):
        for place, inner in enumerate(value):
            texts = [written(v) for v in value]
            yield from (
                f"[{', '.join([*texts[:place], text, *texts[place + 1 :]])}]"
                for text in spoilt(inner)
            )


def spoilt_lines(table: dict[str, Any]) -> Iterator[list[str]]:
    """The lines of a table with one thing in it changed, each in turn."""
    lines = {key: f"{json.dumps(key)} = {written(value)}" for key, value in table.items()}
    for key, value in table.items():
        others = [line for name, line in lines.items() if name != key]
        yield from ([*others, f"{json.dumps(key)} = {text}"] for text in spoilt(value))
        yield from ([*others, f"{name} = {written(value)}"] for name in KEYS)
        yield others


@pytest.mark.parametrize("kind", FILES)
def test_no_change_of_a_file_is_a_traceback(kind: str, tmp_path: Path) -> None:
    """Taken or refused: in one short printable line that begins with the path."""
    load, text = FILES[kind]
    path = tmp_path / "file.toml"
    path.write_text(text, encoding="utf-8")
    load(path)
    refusals = []
    for lines in spoilt_lines(tomllib.loads(text)):
        path.write_text("\n".join(lines), encoding="utf-8")
        try:
            load(path)
        except JobError as error:
            refusals.append(str(error))
        else:
            assert HUGE not in "".join(lines)
    assert len(refusals) > 100
    for words in refusals:
        assert_short_line(words, path)
