"""Random sound hinges on random slicers: the same number is the same slice on every machine."""

from __future__ import annotations

import random
from typing import Any

from scadgen.hinge.family import Bounds, Hinge, all_families, bounds
from scadgen.hinge.meshing import mesh
from scadgen.hinge.rules import HingeError
from tests.fuzz.draw import random_of
from tests.toolpaths.engines import ENGINES, LINES, Slicing

LAYERS, WALLS = (0.1, 0.15, 0.2, 0.25, 0.3), (2, 2, 3, 4)
#: Share of the fields that are drawn, and how far beyond its usual value one may be.
SHARE, FAR = 0.4, 2.0
#: Clearances that are drawn, mm, and facets: few, so that many hinges are sliced in the time.
CLEARANCE, FACETS = (0.15, 0.5), (16, 24, 32)
#: Longest leaf, largest volume (mm3) and largest size (mm) that are sliced.
LEAF, VOLUME, SIZE = 10.0, 8000.0, 70.0


def drawn_slice(number: int, family: str = "") -> tuple[Hinge, Slicing]:
    """A hinge that its rules accept for the printer, and how it is sliced.

    family: its name; without one they take turns.
    """
    rng = random_of(0, number)
    families = all_families()
    name = family or [*families][number % len(families)]
    cls, engine = families[name], rng.choice([*ENGINES])
    while True:
        how = Slicing(engine, rng.choice(LAYERS), rng.choice([*LINES]), walls=rng.choice(WALLS))
        for _ in range(40):
            hinge = _hinge(rng, cls, how)
            if hinge is not None and _small(hinge):
                return hinge, how


def _hinge(rng: random.Random, cls: type[Hinge], how: Slicing) -> Hinge | None:
    values: dict[str, Any] = {
        name: _value(rng, limits)
        for name, limits in bounds(cls).items()
        if limits.group != "Part" and not limits.labels and rng.random() < SHARE
    }
    values["clearance"] = rng.uniform(*CLEARANCE)
    values["facets"] = rng.choice(FACETS)
    if "leaf_length" in bounds(cls):
        values["leaf_length"] = rng.uniform(0, LEAF)
    try:
        return cls(**(values | {"layer": how.layer, "line_width": how.line}))
    except HingeError:
        return None


def _value(rng: random.Random, limits: Bounds) -> float:
    high = min(limits.high, max(FAR * limits.default, limits.low + limits.step))
    return limits.on_step(rng.uniform(limits.low, high))


def _small(hinge: Hinge) -> bool:
    solid = mesh(hinge)
    x, y, z, *far = solid.bounding_box()
    sizes = [end - start for start, end in zip((x, y, z), far, strict=True)]
    return bool(solid.volume() <= VOLUME and max(sizes) <= SIZE)
