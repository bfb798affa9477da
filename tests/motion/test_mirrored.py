"""Solids that are each other's image in a mirror square to an axis."""

from __future__ import annotations

from manifold3d import Manifold

from scadgen.motion.axis import Axis
from scadgen.motion.mirrored import across, mirrored
from tests.shapes import box

ALONG = Axis((0, 0, 3), (1, 0, 0))


def wedge(far: float) -> Manifold:
    """A solid that no mirror takes to itself."""
    corners = [(1, 0, 0), (4, 0, 0), (1, 2, 0), (1, 0, far)]
    return Manifold.hull_points(corners)


def test_an_image_in_the_middle_is_one_and_a_turned_one_is_not() -> None:
    one = wedge(5)
    assert mirrored([(one, one.mirror((1, 0, 0)))], ALONG)
    assert not mirrored([(one, one.rotate((0, 0, 180)))], ALONG)
    assert not mirrored([(one, one)], ALONG)
    assert not mirrored([(one, wedge(5.001).mirror((1, 0, 0)))], ALONG)


def test_one_mirror_has_to_serve_all_pairs() -> None:
    one, other = wedge(5), box((6, 0, 0), (8, 1, 1))
    images = [solid.mirror((1, 0, 0)) for solid in (one, other)]
    assert mirrored([(one, images[0]), (other, images[1])], ALONG)
    assert not mirrored([(one, images[0]), (other, images[1].translate((1, 0, 0)))], ALONG)


def test_a_way_is_turned_round_along_the_axis_only() -> None:
    assert across((1, 0, 0), ALONG) == (-1, 0, 0)
    assert across((0, 1, 0), ALONG) == (0, 1, 0)
