"""Plastics: their data are whole, their weak ends are the right ones, mistakes get a hint."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from scadgen.jobs.job import JobError
from scadgen.strength import life
from scadgen.strength.material_files import KINDS, MARKS
from scadgen.strength.materials import (
    PLASTICS,
    PRINTED,
    Plastic,
    Range,
    Use,
    load_material,
    material,
    materials,
)

WANTED = {"pla", "petg", "abs", "asa", "pa12", "pa6", "pp", "tpu_95a"} | {
    "pla_plus",
    "pc",
    "pa_cf",
    "resin",
    "pa12_powder_bed",
}

OWN = """
name = "My PETG"

[modulus]
MPa = [1900, 2100]
mark = "measured"
source = "ten bars on my printer"

[strength]
MPa = 42
mark = "measured"

[layer_ratio]
ratio = [0.5, 0.6]
mark = "assumed"

[yield_strain]
percent = [3.6, 4.1]
mark = "measured"

[break_strain]
percent = 12
mark = "measured"

[break_strain_across]
percent = [2, 4]
mark = "measured"

[poisson]
ratio = 0.38
mark = "from memory"

[density]
g_per_cm3 = 1.27
mark = "measured"

[softening]
celsius = 75
mark = "from memory"

[permissible]
once = 3.0
beyond = 0.7
"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    path = tmp_path / "own.toml"
    path.write_text(OWN, encoding="utf-8")
    return path


def ranges(plastic: Plastic) -> Mapping[str, Range]:
    values = ((each.name, getattr(plastic, each.name)) for each in fields(plastic))
    return {name: value for name, value in values if isinstance(value, Range)}


def test_the_usual_plastics_are_there() -> None:
    assert set(materials()) >= WANTED


@pytest.mark.parametrize("name", materials())
def test_every_value_is_a_range_with_its_mark(name: str) -> None:
    found = ranges(material(name))
    assert set(found) >= {"modulus", "strength", "break_strain", "poisson", "softening"}
    for about, value in found.items():
        assert value.low <= value.high, about
        for entry in value.entries:
            assert entry.mark in MARKS
            assert entry.source or entry.mark not in ("looked up", "assumed"), (about, entry)


@pytest.mark.parametrize("name", materials())
def test_what_is_not_looked_up_says_so(name: str) -> None:
    """Yield strains of printed plastics have hardly a public source: none may pretend to one."""
    strain = material(name).yield_strain
    if strain is not None:
        for entry in strain.entries:
            measured = entry.made != PRINTED or "data sheet" in entry.source
            assert entry.mark != "looked up" or measured


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("petg", "PETG"),
        ("TPU 95A", "TPU 95A"),
        ("tpu_95a", "TPU 95A"),
        ("Pa-12", "PA12"),
        ("PLA+", "PLA+"),
        ("pla +", "PLA+"),
        ("PLA plus", "PLA+"),
        ("PLA", "PLA"),
        ("PA12, powder bed", "PA12, powder bed"),
        ("PA-CF", "PA-CF"),
    ],
)
def test_a_plastic_is_found_however_it_is_written(written: str, name: str) -> None:
    assert material(written).name == name


def test_a_plastic_that_there_is_not_gets_a_suggestion() -> None:
    with pytest.raises(JobError, match=r'"pegt": did you mean petg\? There are .*pla.*your own'):
        material("pegt")
    with pytest.raises(JobError, match="There are"):
        material("unobtainium")
    with pytest.raises(JobError, match="There are"):
        material("PETG+")


@pytest.mark.parametrize("name", materials())
def test_a_plastic_goes_by_its_own_name_and_by_that_of_its_file(name: str) -> None:
    found = material(name)
    assert material(found.name) is found


@pytest.mark.parametrize("name", materials())
def test_no_design_mixes_ways_of_making(name: str) -> None:
    """What is taken was made in one way; printed, wherever anything printed was measured."""
    for about, value in ranges(material(name)).items():
        made = {entry.made for entry in value.taken}
        assert len(made) == 1, about
        assert made == {PRINTED} or PRINTED not in {entry.made for entry in value.entries}, about
        assert {*value.taken, *value.reference} == {*value.entries}
        assert value.low == min(entry.low for entry in value.taken)


def test_moulded_figures_are_there_for_reference_only(own: Path) -> None:
    both = 'MPa = [1900, 2100]\nmark = "measured"\n[[modulus]]\nMPa = 2900\nof = "moulded, dry"'
    text = OWN.replace("[modulus]", "[[modulus]]").replace("MPa = [1900, 2100]", both, 1)
    own.write_text(text, encoding="utf-8")
    found = load_material(own).modulus
    assert (found.low, found.high, found.made) == (1900, 2100, PRINTED)
    assert [entry.high for entry in found.reference] == [2900]
    assert load_material(own).weak_end("modulus", Use.BEND) == 2100
    own.write_text(OWN.replace("MPa = 42", 'MPa = 42\nof = "moulded"', 1), encoding="utf-8")
    alone = load_material(own)
    assert (alone.strength.made, alone.strength.low) == ("moulded", 42)
    assert alone.strength_across.made == "moulded"


#: What published sheets of printed parts go down to: a lower end hides nothing that they show.
@pytest.mark.parametrize(
    ("name", "quantity", "least"),
    [("pla", "strength", 35), ("pla", "strength_across", 26), ("petg", "modulus", 1500)],
)
def test_weak_ends_are_weak(name: str, quantity: str, least: float) -> None:
    assert material(name).weak_end(quantity, Use.HOLD) <= least


# PETG's ranges in MPa and %, as its file cites them.
@pytest.mark.parametrize(
    ("quantity", "use", "end"),
    [
        ("modulus", Use.BEND, 3000),
        ("modulus", Use.SNAP, 3000),
        ("modulus", Use.CARRY, 1500),
        ("strength", Use.HOLD, 32),
        ("strength", Use.BEND, 32),
        ("strength", Use.SNAP, 56),
        ("strength_across", Use.HOLD, 0.63 * 32),
        ("yield_strain", Use.BEND, 3.5),
        ("poisson", Use.BEND, 0.40),
        ("shear_modulus", Use.CARRY, 1500 / 2.8),
        ("shear_modulus", Use.BEND, 3000 / 2.74),
    ],
)
def test_design_takes_the_weak_end(quantity: str, use: Use, end: float) -> None:
    assert material("petg").weak_end(quantity, use) == pytest.approx(end)


def test_a_quantity_that_a_plastic_has_not_is_refused() -> None:
    with pytest.raises(ValueError, match=r"TPU 95A has no yield_strain; it has modulus"):
        material("tpu 95a").weak_end("yield_strain", Use.BEND)


def test_a_makers_own_plastic_is_read(own: Path) -> None:
    plastic = load_material(own)
    assert plastic.name == "My PETG"
    assert (plastic.modulus.low, plastic.modulus.high, plastic.modulus.unit) == (1900, 2100, "MPa")
    assert plastic.modulus.entries[0].words == "measured: ten bars on my printer"
    assert plastic.strength_across.low == pytest.approx(21)
    assert life.permissible(plastic, 1).percent == 3.0
    assert life.permissible(plastic, 1).basis == "given with the plastic"
    assert life.permissible(plastic, 10).percent == pytest.approx(0.42 * 3.6)
    assert life.permissible(plastic, 1e6).percent == 0.7
    assert life.permissible(plastic, 1, across=True).percent == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        (
            "MPa = [1900, 2100]",
            "GPa = 2.1",
            "modulus",
            "in GPa; it must be in MPa. This works: MPa = 2100.",
        ),
        ("MPa = [1900, 2100]", "MPa = 2.1", "modulus", "2.1 GPa is 2100, 2.1 ksi is 14.48."),
        ("MPa = [1900, 2100]", "MPa = 2.1e9", "modulus", "Values are in MPa: 2.1e+09 Pa is 2100."),
        (
            "MPa = [1900, 2100]",
            "MPa = 305000",
            "modulus",
            "kPa is 305, 305000 psi is 2102.9.",
        ),
        (
            "MPa = [1900, 2100]",
            "MPa = nan",
            "modulus",
            "it must be 5 to 30000 MPa. This works: 5.",
        ),
        ("MPa = [1900, 2100]", "MPa = [2100, 1900]", "modulus", "This works: [1900, 2100]."),
        ("MPa = [1900, 2100]", "MPa = true", "modulus", "a number, or [low, high]"),
        ("MPa = [1900, 2100]", 'MPa = "2100"', "modulus", "a number, or [low, high]"),
        ("MPa = [1900, 2100]", "mpa = 2100", "modulus", "did you mean modulus.MPa?"),
        (
            "MPa = [1900, 2100]",
            "",
            "modulus",
            "modulus.MPa: missing; it must be a number",
        ),
        (
            "percent = [3.6, 4.1]",
            "percent = 0.038",
            "yield_strain",
            "Values are in percent: 0.038 as a fraction is 3.8.",
        ),
        ("percent = [3.6, 4.1]", "fraction = 0.038", "yield_strain", "This works: percent = 3.8."),
        ("percent = 12", "percent = 1.2", "break_strain", "was a fraction meant as a percentage"),
        ("percent = [3.6, 4.1]", "percent = 40", "yield_strain", "is above that of break_strain"),
        (
            "percent = [2, 4]",
            "percent = 20",
            "break_strain_across",
            "is above that of break_strain",
        ),
        ("ratio = [0.5, 0.6]", "ratio = 1.2", "layer_ratio", "it must be 0.05 to 1"),
        ("ratio = [0.5, 0.6]", "percent = 60", "layer_ratio", "This works: ratio = 0.6."),
        ("ratio = 0.38", "ratio = 0.5", "poisson", "it must be 0.1 to 0.499"),
        ("g_per_cm3 = 1.27", "g_per_cm3 = 1270", "density", "1270 kg_per_m3 is 1.27."),
        ('mark = "assumed"', 'mark = "sure"', "layer_ratio", "must be one of looked up, measured"),
        ('mark = "assumed"', "mark = 3", "layer_ratio", "must be one of looked up, measured"),
        ("[layer_ratio]", "[layer_rate]", "layer_rate", "did you mean layer_ratio?"),
        ("[softening]", "[[color]]", "color", "no such key"),
        ('name = "My PETG"', 'name = " "', "name", "text in quotes"),
        ('name = "My PETG"', "", "name", "missing"),
        ("once = 3.0", "once = 90", "permissible.once", "more than the low end of break_strain"),
        ("once = 3.0", "once = 0.5", "permissible.beyond", "cannot bear more strain"),
        ("once = 3.0", "twice = 3.0", "permissible.twice", "there are once, tens"),
        ("once = 3.0", "once = 0.003", "permissible.once", "it must be 0.02 to 500"),
        ("once = 3.0", 'once = "3"', "permissible.once", "a number, 0.02 to 500 percent"),
    ],
)
def test_a_mistake_is_named_with_what_works(
    own: Path, old: str, new: str, key: str, words: str
) -> None:
    own.write_text(OWN.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_material(own)
    assert caught.value.path == own
    assert caught.value.key == key
    assert words in str(caught.value)


@pytest.mark.parametrize("key", [key for key, kind in KINDS.items() if kind.needed])
def test_a_missing_quantity_is_named_with_its_form(own: Path, key: str) -> None:
    without = re.sub(rf"\[{key}\]\n(?:.+\n)+", "", OWN)
    own.write_text(without, encoding="utf-8")
    with pytest.raises(JobError, match=rf"{key}: missing; write \[{key}\], {KINDS[key].unit}"):
        load_material(own)


def test_strength_across_must_be_known_one_way_or_the_other(own: Path) -> None:
    without = re.sub(r"\[layer_ratio\]\n(?:.+\n)+", "", OWN)
    own.write_text(without, encoding="utf-8")
    with pytest.raises(JobError, match="strength_across: missing; give it or layer_ratio"):
        load_material(own)
    given = without.replace(
        "[yield_strain]", '[strength_across]\nMPa = 20\nmark = "measured"\n[yield_strain]'
    )
    own.write_text(given, encoding="utf-8")
    assert load_material(own).strength_across.high == 20


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("modulus = 2100", "its unit must be named"),
        ("modulus = []", "its unit must be named"),
        ("permissible = 3", r"it must be a table, headed by \[permissible\]"),
    ],
)
def test_a_bare_number_is_refused(own: Path, written: str, words: str) -> None:
    name = written.split(" ")[0]
    rest = re.sub(rf"\[{name}\]\n(?:.+\n?)+", "", OWN)
    own.write_text(f"{written}\n{rest}", encoding="utf-8")
    with pytest.raises(JobError, match=words):
        load_material(own)


@pytest.mark.parametrize("data", [b"name = ", b"\xff\xfe"])
def test_what_is_no_toml_is_refused(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "broken.toml"
    path.write_bytes(data)
    with pytest.raises(JobError):
        load_material(path)
    with pytest.raises(JobError, match="cannot be read"):
        load_material(tmp_path / "absent.toml")


def test_each_plastic_can_be_given_back_as_a_makers_own(tmp_path: Path) -> None:
    for path in sorted(PLASTICS.glob("*.toml")):
        copy = tmp_path / path.name
        copy.write_bytes(path.read_bytes())
        assert load_material(copy) == material(path.stem)


def test_importing_the_package_does_not_read_plastics() -> None:
    import subprocess
    import sys

    code = "import sys, scadgen; print([m for m in sys.modules if 'strength' in m or m == 'numpy'])"
    found: Any = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert found.stdout.decode().strip() == "[]"
