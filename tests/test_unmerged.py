"""Solids as parts that are not merged: together they are the same."""

from __future__ import annotations

import pytest
from manifold3d import Manifold, OpType

from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.meshing import mesh, meshes, unmerged_meshes

from .support import each_family


@each_family
def test_merged_they_are_the_solid_at_any_angle(cls: type[Hinge]) -> None:
    hinge = cls()
    angles = (0, hinge.swing / 3, hinge.swing)
    for angle, parts in zip(angles, unmerged_meshes(hinge, "both", angles), strict=True):
        whole = mesh(hinge, "both", angle)
        merged = Manifold.batch_boolean(parts, OpType.Add)
        assert (merged - whole).volume() == pytest.approx(0, abs=1e-6 * whole.volume())
        assert (whole - merged).volume() == pytest.approx(0, abs=1e-6 * whole.volume())


@each_family
def test_parts_drawn_together_are_those_drawn_alone(cls: type[Hinge]) -> None:
    hinge, parts = cls(), definition(cls).parts
    for part, drawn in zip(parts, meshes(hinge, parts, 7), strict=True):
        alone = mesh(hinge, part, 7)
        assert drawn.volume() == pytest.approx(alone.volume(), rel=1e-12)
        assert drawn.bounding_box() == pytest.approx(alone.bounding_box(), abs=1e-12)
