"""Rims that lie on each other, on printers: heights in layers, faces on edge, the play between."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
import pytest

from scadgen.product.building import mechanism
from scadgen.product.joints import MergedTurn
from scadgen.product.model import Product
from scadgen.product.rims import apart, rims
from scadgen.proof.fleet.population import ROUGH, LayerHeights, Spread
from scadgen.proof.fleet.printer import Printer
from tests.product.support import box, wallet
from tests.proof.fleet.fleets import nothing_but


def closing(product: Product) -> tuple[Any, MergedTurn]:
    (fitted,) = product.fitted.values()
    (turn,) = mechanism(product).joints
    return fitted, cast(MergedTurn, turn)


def test_a_box_and_its_lid_come_out_in_whole_layers() -> None:
    """14 and 8 mm: 70 and 40 layers of 0.2 mm; 47 and 27 of 0.3 mm, which is 0.2 mm too high."""
    fitted, turn = closing(box(14, 8))
    layers = np.array([0.2, 0.3, 0.16])
    # Of 0.16 mm they are 87 and 50: the middle of an 88th layer lies at 14 mm, and not below.
    told = apart(fitted, turn, Printer(layer=layers))
    assert told == pytest.approx([0, 0.2, 87 * 0.16 - 14], abs=1e-6)


def test_faces_on_edge_come_nearer_by_both_their_growths() -> None:
    fitted, turn = closing(wallet())
    assert apart(fitted, turn, Printer(growth=np.array([-0.05, 0.1]))) == pytest.approx([-0.1, 0.2])


def test_enough_of_the_printers_must_close_it_within_the_play() -> None:
    closed = closing(box(14, 8))
    found = rims(*closed, ROUGH)
    assert found.passed
    assert found.name == "rims on the rough fleet"
    layers = LayerHeights((0.16,), (1,), "made up")
    fat = Spread(0.19, 0, 0, 1, "made up")
    # The play of 0.42 mm, less twice the growth, is 0.04 mm; the rims are 0.08 mm too low.
    failed = rims(*closed, nothing_but(growth=fat, layer=layers))
    assert not failed.passed
    assert "0 % of the printers" in failed.words
    assert failed.change
    assert rims(*closed, nothing_but(layer=layers)).passed
