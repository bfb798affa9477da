"""OpenSCAD draws from the text what the mesh reading builds from the trees."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from scadgen import mesh
from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.trees.solid import Drawn, Shape, inside
from scadgen.trees.to_mesh import to_mesh
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_scad import lines, module
from tests.engine import drawn, opened, run
from tests.samples import FACETS, SAMPLES
from tests.support import each_family, fewest, some_hinges, thorough

if TYPE_CHECKING:
    from manifold3d import Manifold
    from trimesh import Trimesh

pytestmark = pytest.mark.openscad

DRAWN = 2
#: Those that are drawn with all their corners.
WHOLE = list(all_families().values())
WHOLE = WHOLE if thorough() else WHOLE[1::3]


def assert_same_solid(made: Trimesh, built: Manifold) -> None:
    """Volumes within 0.1 %, bounding boxes within 0.01 mm."""
    assert made.volume == pytest.approx(built.volume(), rel=1e-3)
    wanted = np.reshape(built.bounding_box(), (2, 3))
    assert made.bounds == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("shape", [s for s, _ in SAMPLES.values()], ids=SAMPLES)
def test_a_small_solid_is_the_same(shape: Shape, tmp_path: Path) -> None:
    used = (node.module for node in inside(shape, bodies=True) if isinstance(node, Drawn))
    modules = (line for each in dict.fromkeys(used) for line in module(each))
    source = "\n".join([f"facets = {FACETS};", *lines(shape), *modules])
    built = to_mesh(shape, Numbers({"facets": FACETS}))
    assert_same_solid(run(source, tmp_path).mesh, built)


@pytest.mark.parametrize("cls", WHOLE, ids=lambda cls: cls.family)
def test_the_default_hinge_is_the_same(cls: type[Hinge]) -> None:
    """With all its corners; unless the run is thorough of a third of the families, as exact
    arithmetic takes seconds of each: a newer OpenSCAD draws all of them (test_newer).
    """
    assert_same_solid(drawn(opened(cls())).mesh, mesh(cls()))


@each_family
def test_every_part_of_the_default_hinge_is_the_same(cls: type[Hinge]) -> None:
    """Few corners keep the engine's exact arithmetic quick."""
    for name in definition(cls).parts:
        values: dict[str, Any] = {"part": name, **fewest(cls)}
        named = {f"{cls.family}_{name}": value for name, value in values.items()}
        assert_same_solid(drawn(opened(cls()), **named).mesh, mesh(cls(**fewest(cls)), name))


@each_family
@pytest.mark.parametrize("index", range(1, 1 + DRAWN))
def test_every_part_of_a_hinge_is_the_same(cls: type[Hinge], index: int) -> None:
    """Unless the run is thorough the parts are shared out among the hinges."""
    hinge = some_hinges(cls, DRAWN, **fewest(cls))[index]
    parts = definition(cls).parts
    for name in parts if thorough() else parts[index - 1 :: DRAWN]:
        part: dict[str, Any] = {f"{cls.family}_part": name}
        assert_same_solid(drawn(opened(hinge), **part).mesh, mesh(hinge, name))
