"""Boxes on their edge: open sideways, closed by standing hinges, printed nearly shut."""

from __future__ import annotations

from typing import Any

import pytest
from manifold3d import Manifold

from scadgen import WaistedSpindle
from scadgen.printing.layers import layers
from scadgen.product.bodies import Case, Plate
from scadgen.product.drawing import draw
from scadgen.product.model import Product, ProductJoint
from scadgen.product.proving import check_product
from scadgen.tables.documents import JobError
from tests.support import ROOT

#: Rounding of solids, mm3.
NOTHING = 1e-3


def case(**sides: Any) -> Case:
    usual = {"length": 40, "width": 14, "height": 60, "wall": 3, "floor": 1.6}
    return Case(**usual | sides)


def pens(moving_edge: str = "left", **values: Any) -> Product:
    """A box and its lid, both on their edge."""
    spine = ProductJoint(
        family=WaistedSpindle,
        fixed="box",
        moving="lid",
        edge="right",
        moving_edge=moving_edge,
        closes=True,
        values={"shaft": 9, "facets": 16, "clearance": 0.35, "printed_at": 170} | values,
    )
    bodies = {"box": case(), "lid": case(width=10)}
    return Product(name="pens", bodies=bodies, joints={"spine": spine}, layer_heights=(0.3,))


def test_a_case_on_edge_prints_nearly_shut_and_closes_rim_on_rim() -> None:
    verdict = check_product(pens()).verdict
    told = {found.name: found for found in verdict.findings}
    assert verdict.proven
    assert "0 to 180 deg are asked" in told["swing"].words
    assert told["shut at 180 deg"].passed
    assert told["layers of 0.3 mm"].words.startswith("0.00 mm2 droop")


def test_its_hollow_opens_to_the_back_and_its_ceiling_climbs() -> None:
    made = case().solid
    hollow = case().block() - made
    assert hollow.volume() == pytest.approx((40 - 6) * (12.4 * (54 - 12.4) + 12.4**2 / 2))
    low, high = hollow.bounding_box()[:3], hollow.bounding_box()[3:]
    assert low == pytest.approx((-17, -5.4, 3))
    assert high == pytest.approx((17, 7, 57))
    straight = Manifold.cube((34, 12.4, 54)).translate((-17, -5.4, 3))
    assert (hollow - straight).volume() < NOTHING


def test_a_level_ceiling_would_hang() -> None:
    made, level = case(), Manifold.cube((34, 20, 54)).translate((-17, -5.4, 3))
    assert layers([made.solid], 0.3).unsupported == 0
    assert layers([made.block() - level], 0.3).unsupported > 30 * 12


@pytest.mark.parametrize(
    ("sides", "why"),
    [
        ({"floor": 15}, "floor = 15 mm; it must be below the width"),
        ({"wall": 20}, "wall = 20 mm; it must be below half the length"),
        ({"height": 17}, "half of what its ceiling leaves of the height"),
    ],
)
def test_a_case_without_a_hollow_is_refused(sides: dict[str, Any], why: str) -> None:
    with pytest.raises(JobError, match=why):
        case(**sides)


def test_no_hinge_sits_at_its_open_side() -> None:
    with pytest.raises(JobError, match=r"spine\.moving_edge = .back.; a case is open"):
        _ = pens("back").fitted


def test_a_plate_closes_a_case_too_and_is_drawn() -> None:
    bodies = {"box": case(), "lid": Plate(length=40, width=6, height=60)}
    made = Product(name="lid", bodies=bodies, joints=pens().joints, layer_heights=(0.3,))
    text = draw(made, ROOT)
    assert "case(box_length, box_width, box_height, box_wall, box_floor);" in text
    assert "module plate(" in text
    assert "module case(" in text
