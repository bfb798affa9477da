"""Points that stand for sections lie in them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from manifold3d import CrossSection

from scadgen.printing.outlines import within
from scadgen.toolpaths.inside import inside


def _square() -> CrossSection:
    return CrossSection.square((10, 10))


def _ring() -> CrossSection:
    return _square().offset(2) - _square()


def _hook() -> CrossSection:
    return _square() - CrossSection.square((9, 8)).translate((1, 1))


def _apart() -> CrossSection:
    small = CrossSection.square((1, 1)).translate((40, 0))
    return _square() + _square().translate((0, 31)) + small


@pytest.mark.parametrize("section", [_ring, _hook, _apart])
@pytest.mark.parametrize("turn", [0, 33, 90])
def test_a_section_is_told_by_a_point_of_it(
    section: Callable[[], CrossSection], turn: float
) -> None:
    turned = section().rotate(turn)
    assert inside(np.array([within(turned)]), turned).all()


def test_a_section_around_its_centre_is_told_by_that() -> None:
    assert within(_square().translate((3, -7))) == pytest.approx((8, -2))
