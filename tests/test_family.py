"""No family lacks anything: what each must have, and a careless one that lacks it all."""

from __future__ import annotations

import dataclasses
import inspect
import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

from scadgen import emit
from scadgen.hinge.family import (
    GROUPS,
    Bounds,
    Hinge,
    Piece,
    all_families,
    definition,
    derived,
    family,
)
from scadgen.openscad.checks import CHECK
from scadgen.openscad.settings import customizer_name, emit_customizer
from scadgen.trees import expr
from scadgen.trees.expr import Let
from scadgen.trees.solid import Drawn, Shape, inside, measures, part
from scadgen.trees.to_scad import WIDTH
from tests.golden import FOLDER as GOLDEN
from tests.samples import box
from tests.support import ROOT, each_family, moved

LIBRARY = ROOT / "library"


def omissions(cls: type[Hinge], folders: Iterable[Path] = (LIBRARY, GOLDEN)) -> Iterator[str]:
    """Everything that the family lacks."""
    made_up = f"{cls.__name__}("  # what a dataclass writes where there is no docstring
    if not cls.__doc__ or cls.__doc__.startswith(made_up):
        yield "no docstring"
    if not sys.modules[cls.__module__].__doc__:
        yield "no docstring of its file"
    if Path(inspect.getfile(cls)).stem != cls.family:
        yield "its file has another name"
    for said in ("good", "weak", "posture", "kind"):
        if not getattr(cls, said, ""):
            yield f"does not say {said}"
    for field in dataclasses.fields(cls):
        yield from (f"{field.name}: {lack}" for lack in _lacks(field))
    for folder in folders:
        if not (folder / f"{cls.family}.scad").is_file():
            yield f"no {folder.name}/{cls.family}.scad"


def _lacks(field: dataclasses.Field[Any]) -> Iterator[str]:
    bounds = field.metadata.get("bounds")
    if not isinstance(bounds, Bounds):
        yield "no bounds"
        return
    if not (bounds.unit or bounds.whole):
        yield "no unit"
    if not re.fullmatch(r"[A-Z0-9].*[^.]", bounds.sentence):
        yield "no sentence"
    if bounds.group not in GROUPS:
        yield "no group"
    if not bounds.low < bounds.high or not bounds.low <= bounds.default <= bounds.high:
        yield "no range"
    if not bounds.step > 0:
        yield "no step"
    elif any(_off(value, bounds.step) for value in (bounds.low, bounds.high, bounds.default)):
        yield "range and default lie between steps"


def _off(value: float, step: float) -> bool:
    return abs(value / step - round(value / step)) > 1e-6


def unnamed(cls: type[Hinge]) -> Iterator[str]:
    """Derived values and parts without a word on what they are."""
    yield from (n for n, v in definition(cls).derived.items() if isinstance(v, Let) and not v.note)
    yield from (use.module.name for use in _uses(cls) if not use.module.note)


def _uses(cls: type[Hinge]) -> list[Drawn]:
    solids = [piece.solid for piece in definition(cls).pieces]
    return [shape for shape in inside(*solids, bodies=True) if isinstance(shape, Drawn)]


def orphans(folder: Path) -> list[str]:
    """Files that belong to no family."""
    known = {stem for name in all_families() for stem in (name, customizer_name(name))}
    return sorted(p.name for p in folder.glob("*.scad") if p.stem not in known)


@each_family
def test_a_family_lacks_nothing(cls: type[Hinge]) -> None:
    assert list(omissions(cls)) == []
    assert list(unnamed(cls)) == []


def test_a_careless_family_is_told_all_that_it_lacks(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    all_families()
    monkeypatch.setattr("scadgen.hinge.family._registry", {})
    monkeypatch.setattr("scadgen.hinge.family._definitions", {})

    @family(good="", weak="")
    class Careless(Hinge):
        bare: float = 3
        unmeasured: float = dataclasses.field(
            default=3,
            metadata={"bounds": Bounds("", 4, 4, default=3, step=0, group="Odds", sentence="")},
        )
        between: float = dataclasses.field(
            default=1.25,
            metadata={
                "bounds": Bounds(
                    "mm", 1, 2, default=1.25, step=0.5, group="Size", sentence="Thing."
                )
            },
        )

    assert list(omissions(Careless, [tmp_path])) == [
        "no docstring",
        "its file has another name",
        "does not say good",
        "does not say weak",
        "does not say posture",
        "does not say kind",
        "bare: no bounds",
        "unmeasured: no unit",
        "unmeasured: no sentence",
        "unmeasured: no group",
        "unmeasured: no range",
        "unmeasured: no step",
        "between: no sentence",
        "between: range and default lie between steps",
        f"no {tmp_path.name}/careless.scad",
    ]


def test_values_and_parts_without_a_word_are_found(monkeypatch: pytest.MonkeyPatch) -> None:
    all_families()
    monkeypatch.setattr("scadgen.hinge.family._registry", {})
    monkeypatch.setattr("scadgen.hinge.family._definitions", {})

    @family(good="", weak="")
    class Wordless(Hinge):
        @derived
        def size(self) -> float:
            return 2 * self.clearance

        @part
        def block(self) -> Shape:
            return box(self.size, 1, 1)

        def pieces(self) -> Iterable[Piece]:
            yield Piece(("both",), self.block())

    assert list(unnamed(Wordless)) == ["size", "block"]


@pytest.mark.parametrize("folder", [LIBRARY, GOLDEN], ids=lambda folder: folder.name)
def test_no_file_has_lost_its_family(folder: Path) -> None:
    assert orphans(folder) == []


def test_a_file_without_a_family_is_found(tmp_path: Path) -> None:
    for name in ("none_such.scad", f"{next(iter(all_families()))}.scad"):
        (tmp_path / name).touch()
    assert orphans(tmp_path) == ["none_such.scad"]


def test_every_file_of_the_folder_is_a_family_of_that_name() -> None:
    files = (ROOT / "scadgen" / "families").glob("[!_]*.py")
    assert sorted(all_families()) == sorted(path.stem for path in files)


@each_family
def test_a_name_means_one_thing_within_a_part(cls: type[Hinge]) -> None:
    """A part may call a parameter like a field only where nothing below it needs the field."""
    modules = {use.module for use in _uses(cls)}
    names = {module.name for module in modules}
    assert len(names) == len(modules)
    assert CHECK not in names
    of_hinge = definition(cls).derived.values()
    for module in modules:
        hidden = {*module.params}
        assert not {let.name for let in _named(module.body)} & hidden, module.name
        for let in _named(module.body, bodies=True):
            assert let not in of_hinge or not expr.free(let) & hidden, (module.name, let.name)


def _named(shape: Shape, *, bodies: bool = False) -> list[Let]:
    """The named values that a shape uses, with those of the parts that it calls if ``bodies``."""
    used = (e for node in inside(shape, bodies=bodies) for e in measures(node))
    return [node for node in expr.walk(*used) if isinstance(node, Let)]


@each_family
def test_no_emitted_line_is_too_long(cls: type[Hinge]) -> None:
    for hinge in (cls(), moved(cls)):
        for text in (emit(hinge), emit_customizer(hinge)):
            assert [line for line in text.splitlines() if len(line) > WIDTH] == []


@each_family
def test_emitted_numbers_have_names(cls: type[Hinge]) -> None:
    assert bare_numbers(cls.family, emit(cls())) <= {"0", "1", "2", "45", "90", "180", "360"}


def bare_numbers(name: str, source: str) -> set[str]:
    """Numbers in the module's code that stand neither in a table, a message nor for a name."""
    code = source[source.index(f"\nmodule {name}(") :]
    for named in (
        r"//.*",  # comments
        r"(?s)\branges = \[.*?\n +\].*?;",  # the table of ranges
        r"\b[orv]\[\d\]",  # the columns that tables are read by
        r'"[^"]*"',
        r"\w+ = \[\[.*?\]\][;,]",  # named tables
        r"(?s)\bstr\(.*?\)\);",  # messages
        r"\w+ = -?[\d.e-]+(?= *[;,)\n])",  # name = number
    ):
        code = re.sub(named, "", code)
    return set(re.findall(r"(?<![\w.])\d[\d.]*(?:e-?\d+)?", code))


def test_bare_numbers_are_found() -> None:
    source = (
        '\nmodule m(a = 5) {\n  ranges = [for (v = [  // 7\n    ["a", a, 0.5, 8]\n  ]) v[0]];\n'
        '  assert(r[3] > 4, str("9", ceil(a / 0.1)));\n  b = 6;\n  d = 1e-06;\n'
        "  c = a * 22.5 + 1e-3;\n}\n"
    )
    assert bare_numbers("m", source) == {"4", "22.5", "1e-3"}
