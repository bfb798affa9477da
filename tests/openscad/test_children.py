"""What a maker puts under the call of a module goes with the moving side, and only there."""

from __future__ import annotations

from pathlib import Path

import pytest

from scadgen import emit, mesh
from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.trees.to_scad import number
from tests.engine import run, tree
from tests.openscad.newer import run as run_newer
from tests.openscad.test_solids import assert_same_solid
from tests.support import fewest

pytestmark = pytest.mark.openscad

CARRYING = {n: cls for n, cls in all_families().items() if definition(cls).carried is not None}
each_carrying = pytest.mark.parametrize("cls", CARRYING.values(), ids=CARRYING)

#: A block of the maker's, and where it stands: clear of every hinge at its usual values.
SIDE, AWAY = 5, 400


def scene(cls: type[Hinge], call: str, child: str, folder: Path) -> Path:
    """A file in which ``call`` has a child, above the family's module."""
    path = folder / "main.scad"
    path.write_text(f"{call} {child}\n{emit(cls(**fewest(cls)))}", encoding="utf-8")
    return path


def half_way(cls: type[Hinge]) -> float:
    return float(round(cls(**fewest(cls)).swing / 2))


def assert_moves_with_it(cls: type[Hinge], folder: Path, newer: bool) -> None:
    """The moving side as printed, as a child of itself turned, lies on itself."""
    angle = half_way(cls)
    call = f'{cls.family}(part = "moving", angle = {number(angle)})'
    path = scene(cls, call, f'{cls.family}(part = "moving");', folder)
    done = run_newer(path, folder, "--backend=manifold") if newer else run(path, folder)
    assert_same_solid(done.mesh, mesh(cls(**fewest(cls)), "moving", angle))


@each_carrying
def test_a_child_is_carried_as_the_moving_side_is(cls: type[Hinge], tmp_path: Path) -> None:
    assert_moves_with_it(cls, tmp_path, newer=False)


@each_carrying
@pytest.mark.newer
def test_a_newer_openscad_carries_it_as_well(cls: type[Hinge], tmp_path: Path) -> None:
    assert_moves_with_it(cls, tmp_path, newer=True)


@each_carrying
@pytest.mark.parametrize("part", ["both", "fixed", "moving", "fixed_relief", "moving_relief"])
def test_a_child_is_drawn_once_with_the_moving_side_alone(
    cls: type[Hinge], part: str, tmp_path: Path
) -> None:
    """As printed it stays where it is drawn. Where it is not drawn the tree is that of no child."""
    call, child = f'{cls.family}(part = "{part}")', f"translate([0, {AWAY}, 0]) cube({SIDE});"
    if part in ("both", "moving"):
        alone = mesh(cls(**fewest(cls)), part)
        block = alone.cube((SIDE, SIDE, SIDE)).translate((0, AWAY, 0))
        assert_same_solid(run(scene(cls, call, child, tmp_path), tmp_path).mesh, alone + block)
    else:
        trees = [tree(scene(cls, call, one, tmp_path), tmp_path) for one in (child, ";")]
        assert trees[0] == trees[1]
        assert f"[0, 1, 0, {AWAY}]" not in trees[0]


def test_all_pivots_and_flexures_carry() -> None:
    moving = {n for n, cls in all_families().items() if "moving" in definition(cls).parts}
    assert set(CARRYING) == moving
