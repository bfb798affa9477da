"""Findings on products: each fails over the least that must not pass, which is made by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from scadgen import SideCones
from scadgen.product import half_shut, seating

#: As a frame that carries solids nowhere else.
STILL = SimpleNamespace(carry=lambda solid: solid, back=SimpleNamespace(carry=lambda solid: solid))


@pytest.mark.parametrize(("apart", "good"), [(10, True), (8, False)])
def test_too_few_printers_that_keep_bodies_apart_as_they_print_fail(
    apart: int, good: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    ten = np.ones(10, bool)
    monkeypatch.setattr(half_shut, "COUNT", len(ten))
    monkeypatch.setattr(half_shut, "drawn", lambda *_: [None])
    monkeypatch.setattr(half_shut, "works", lambda *_: (ten, ten))
    monkeypatch.setattr(half_shut, "apart_on", lambda *_: np.arange(len(ten)) < apart)
    population: Any = SimpleNamespace(name="rough", needed=90.0)
    fitted: Any = SimpleNamespace(hinge=SideCones(facets=16))
    gap: Any = SimpleNamespace(size=1.0)
    assert half_shut.on_fleet(fitted, gap, population).passed is good


@pytest.mark.parametrize(("share", "good"), [(1.0, True), (0.0, False)])
def test_a_hinge_that_its_body_does_not_carry_fails(
    share: float, good: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("mesh", "bared"):
        monkeypatch.setattr(seating, name, lambda *_: None)
    monkeypatch.setattr(seating, "_along", lambda *_: (share, 0.0))
    fitted: Any = SimpleNamespace(
        spots=[SimpleNamespace(frame=STILL)],
        joint=SimpleNamespace(pair=("box", "lid")),
        own=SimpleNamespace(lengthwise=((1.0, 0.0, 0.0),)),
        hinge=None,
        part=lambda _: "fixed",
        frame=lambda _: STILL,
    )
    product: Any = SimpleNamespace(line_width=0.45)
    assert seating._seat(product, fitted, 0, "box").passed is good
