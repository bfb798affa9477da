"""Random products with faults planted in them: each is found, and nothing else is."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from scadgen.product.bodies import Plate, Tray
from scadgen.product.model import Product
from scadgen.product.proving import check_product
from tests.product.support import box
from tests.support import thorough

#: Random products.
MANY = 12 if thorough() else 2
#: Air between two bodies that print as one, mm.
TOO_NEAR = (0.005, 0.06)
#: How far from all else a body stands that is in nobody's way, mm.
FAR = 90.0


def drawn_box(draw: np.random.Generator) -> Product:
    """A box with a lid, of any size, that is sound."""
    made = box(low=round(draw.uniform(12, 20), 1), lid=round(draw.uniform(7, 10), 1))
    sides: dict[str, Any] = {
        "length": round(draw.uniform(44, 70), 1),
        "width": round(draw.uniform(26, 45), 1),
    }
    return replace(made, bodies={name: replace(one, **sides) for name, one in made.bodies.items()})


def post(x: float, y: float, height: float, **said: Any) -> Plate:
    return Plate(length=6, width=6, height=height, at=(round(x, 3), round(y, 3)), **said)


def failed(product: Product) -> set[str]:
    return {found.name for found in check_product(product).verdict.findings if not found.passed}


@pytest.mark.parametrize("number", range(MANY))
def test_what_is_planted_in_a_box_is_found_and_nothing_else(number: int) -> None:
    draw = np.random.default_rng([7, number])
    made = drawn_box(draw)
    below, lid = made.bodies["box"], made.bodies["lid"]
    assert isinstance(below, Tray)
    assert isinstance(lid, Tray)
    side, near = below.length / 2 + 3, draw.uniform(*TOO_NEAR)
    planted = {
        "stray": post(FAR, draw.uniform(-9, 9), 8),
        "welded": post(side + near, draw.uniform(-5, 5), draw.uniform(4, 9), loose=True),
        "post": post(
            draw.uniform(-8, 8), draw.uniform(-4, 4), below.height + lid.height, loose=True
        ),
        "harmless": post(-FAR, 0, 8, loose=True),
    }
    found = failed(replace(made, bodies={**made.bodies, **planted}))
    wanted = {
        "stray is held",
        "box and welded: gap at rest",
        "box and post: gap at rest",
        "box and lid: turn beside the others",
        "rough fleet, all together",
    }
    assert wanted <= found
    printed = {name for name in found - wanted if not name.startswith(("layers", "first layer"))}
    assert printed <= {"air between layers", "over-extrusion"}


def test_without_a_fault_none_is_found() -> None:
    made = drawn_box(np.random.default_rng([7, 0]))
    beside = {"harmless": post(-FAR, 0, 8, loose=True)}
    assert failed(replace(made, bodies={**made.bodies, **beside})) == set()
