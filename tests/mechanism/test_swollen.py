"""The skin with which noses and bumps are taken off their bodies."""

from __future__ import annotations

import pytest
from manifold3d import CrossSection, Manifold

from scadgen.mechanism.swollen import SKIN, swollen

CUBE, DISC = Manifold.cube((4, 3, 2), True), Manifold.cylinder(2, 3, 2, 32)
STEP = CUBE + Manifold.cube((2, 3, 2), True).translate((0, 0, 1.5))  # with inward corners


@pytest.mark.parametrize("solid", [CUBE, DISC, STEP], ids=["cube", "cone", "step"])
def test_a_skin_goes_all_around_and_no_farther_than_it_must(solid: Manifold) -> None:
    found = swollen(solid)
    assert (solid - found).volume() == pytest.approx(0, abs=1e-12)
    skin = SKIN * solid.surface_area()
    assert 0.999 * skin < found.volume() - solid.volume() < 2 * skin
    assert found.num_tri() == solid.num_tri()


def test_where_no_way_leaves_all_faces_the_solid_is_shaken() -> None:
    blade = CrossSection([[(0, -0.02), (4, 0), (0, 0.02)]]).extrude(1)
    found = swollen(blade)
    assert (blade - found).volume() == pytest.approx(0, abs=1e-12)
    low, high = found.bounding_box()[:3], found.bounding_box()[3:]
    assert (low[2], high[2]) == pytest.approx((-SKIN, 1 + SKIN))
    assert high[0] == pytest.approx(4 + SKIN)  # and no spike
