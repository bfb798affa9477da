"""The function of a module's file tells what Python tells, by the parameters of the module."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from scadgen import emit
from scadgen.families.sheet_flexure import SheetFlexure as Tried
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Hinge, bounds, definition
from scadgen.openscad.functions import size_call, size_name
from scadgen.trees.to_scad import number
from tests.engine import run
from tests.openscad.newer import run as run_newer
from tests.support import each_family, moved, some_hinges

pytestmark = pytest.mark.openscad

DRAWN = 6
#: What an automatic value is rounded to in Python (mm), and more.
NEAR = 2e-6


def told(hinge: Hinge) -> dict[str, float]:
    return {one.name: float(one.value) for one in hinge.exported()}


def claims(hinge: Hinge, given: Mapping[str, Any]) -> Iterator[str]:
    """That the function, given these values, tells what the hinge is."""
    values = ", ".join(['part = "fixed"', *(f"{n} = {number(v)}" for n, v in given.items())])
    for name, value in told(hinge).items():
        call = size_call(hinge.family, name, values)
        yield f'assert(abs({call} - {number(value)}) < {NEAR}, str("{name} = ", {call}));'


def every_claim(cls: type[Hinge]) -> list[str]:
    """Of the default hinge, of some with all values given, and of some with what differs alone."""
    found = list(claims(cls(), {}))
    for hinge in (moved(cls), *some_hinges(cls, DRAWN)):
        given = given_values(hinge)
        found += claims(hinge, given)
        initial = {name: limits.initial for name, limits in bounds(cls).items()}
        found += claims(hinge, {n: v for n, v in given.items() if v != initial[n]})
    return found


@each_family
def test_each_tells_what_python_tells(cls: type[Hinge], tmp_path: Path) -> None:
    """Through use, which shows functions, too."""
    (tmp_path / "hinge.scad").write_text(emit(cls()), encoding="utf-8")
    source = ["use <hinge.scad>", "cube(1);", *every_claim(cls)]
    assert run("\n".join(source), tmp_path).mesh.volume == pytest.approx(1)


@each_family
@pytest.mark.newer
def test_a_newer_openscad_tells_the_same(cls: type[Hinge], tmp_path: Path) -> None:
    path = tmp_path / "main.scad"
    path.write_text("\n".join([emit(cls()), "cube(1);", *every_claim(cls)]), encoding="utf-8")
    assert run_newer(path, tmp_path).mesh.volume == pytest.approx(1)


@each_family
def test_a_wrong_value_would_be_noticed(cls: type[Hinge], tmp_path: Path) -> None:
    first, *_ = claims(cls(), {})
    wrong = first.replace(f"< {NEAR}", "< 0")
    source = f"{emit(cls())}\ncube(1);\n{wrong}"
    assert run(source, tmp_path, strict=False).code == 1


@each_family
def test_every_family_tells_what_a_maker_builds_around(cls: type[Hinge]) -> None:
    names = [one.name for one in definition(cls).exported]
    assert len(set(names)) == len(names)
    assert {"length_taken", "least_wall"} <= set(names)
    text = emit(cls())
    assert text.count(f"\nfunction {size_name(cls.family)}(") == 1
    assert all(f'    ["{name}", ' in text for name in names)


def test_a_size_that_is_none_is_refused_with_those_that_are(tmp_path: Path) -> None:
    result = run(f"{emit(Tried())}\necho({size_call('sheet_flexure', 'weight')});", tmp_path)
    names = ", ".join(f'"{one.name}"' for one in definition(Tried).exported)
    told = f"sheet_flexure_size(): name = weight; it must be one of [{names}]."
    assert (result.code, told in result.messages) == (1, True)


@each_family
def test_the_values_are_those_of_the_hinge(cls: type[Hinge]) -> None:
    """Held against the solid: what it takes along the axis, and its height where it lies."""
    from scadgen import mesh

    values: dict[str, Any] = {"leaf_length": 0} if "leaf_length" in bounds(cls) else {}
    hinge = cls(**values)
    found, (low, high) = told(hinge), _box(mesh(hinge, "both"))
    size = [b - a for a, b in zip(low, high, strict=True)]
    if {"axis_height", "reach"} <= set(found):
        assert 0 <= found["axis_height"] + found["reach"] - high[2] < 0.05  # its top is flat
        assert size[0] <= found["length_taken"] < size[0] + 4 * hinge.clearance
    elif "reach" in found:
        assert found["length_taken"] == pytest.approx(size[2])
        assert found["reach"] < found["leaf_start"] < high[0]
    elif "width_taken" in found:
        borders = [_box(mesh(hinge, part)) for part in ("fixed", "moving")]
        between = borders[1][0][1] - borders[0][1][1]
        assert found["length_taken"] == pytest.approx(between)
        assert found["width_taken"] == pytest.approx(size[0])
    else:
        assert found["length_taken"] in [pytest.approx(side) for side in size]


def _box(solid: Any) -> tuple[tuple[float, ...], tuple[float, ...]]:
    box = solid.bounding_box()
    return box[:3], box[3:]
