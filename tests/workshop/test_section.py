"""The page's live section: Python's outlines, and dimensions that are the values they set."""

from __future__ import annotations

import functools
import math
from typing import Any

import numpy as np
import pytest

from scadgen.hinge.family import Hinge, all_families, definition, numbers
from scadgen.pictures.sections import Section, sections
from scadgen.pictures.sides import Sides
from tests.support import each_family
from tests.workshop.answers import answers, given

pytestmark = pytest.mark.node

#: mm: a bore is drawn around its circle, so that what is beside it is as much off.
FACET = 0.02


@functools.cache
def _told(name: str) -> dict[str, Any]:
    (found,) = answers(("sections", name, given(all_families()[name]())))
    return dict(found)


def _drawn(cls: type[Hinge]) -> tuple[Section, Section]:
    return sections(Sides(cls().mechanism()))


@each_family
def test_its_outlines_are_those_of_the_planes_of_the_drawing(cls: type[Hinge]) -> None:
    for section, bodies in zip(_drawn(cls), _told(cls.family)["views"], strict=True):
        found = sum(_area(np.array(ring)) for rings in bodies for ring in rings)
        wanted = sum(section.plane.cut(solid).area() for solid in section.sides.printed.values())
        assert found == pytest.approx(wanted, rel=1e-4)
        assert wanted > 0


def _area(ring: Any) -> float:
    x, y = ring.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2


@each_family
def test_each_dimension_stands_on_corners_and_is_its_value(cls: type[Hinge]) -> None:
    told, values = _told(cls.family), numbers(cls())
    found = [
        (name, k, span) for name, spans in told["spans"].items() for k, span in enumerate(spans)
    ]
    spans = [(name, k, span) for name, k, span in found if span]
    assert len({name for name, _, _ in spans}) > 4
    for name, k, span in spans:
        assert definition(cls).bounds[name].unit == "mm"
        (a, b), (c, d) = span["ends"]
        length = {"x": abs(a - c), "y": abs(b - d), "square": math.hypot(a - c, b - d)}[span["way"]]
        assert length == pytest.approx(float(values.symbols[name]), abs=FACET)
        corners = [corner for rings in told["views"][k] for ring in rings for corner in ring]
        assert span["ends"][0] in corners
