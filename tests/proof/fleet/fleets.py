"""Small fleets and definitions that several tests share."""

from __future__ import annotations

import dataclasses
import functools
from typing import Any

from scadgen.hinge.family import Definition, Hinge, all_families, definition
from scadgen.hinge.gaps import Gap, Grip
from scadgen.proof.fleet.population import ROUGH, LayerHeights, Population, Spread
from scadgen.trees.to_numpy import Numbers

NOTHING = Spread(0, 0, 0, 0, "none")
THIN = LayerHeights((1e-9,), (1,), "no layers to land on")


def nothing_but(**quantities: Any) -> Population:
    """A fleet whose printers have only the errors that are given, in layers without height."""
    without = dict.fromkeys(("growth", "hole_shrinkage", "first_layer_spread", "sag"), NOTHING)
    given: dict[str, Any] = {**without, "layer": THIN, **quantities}
    return Population(name="made up", **given)


def only(*declared: Gap | Grip) -> Definition:
    """A definition that has nothing but these gaps and grips."""
    some = definition(next(iter(all_families().values())))
    return dataclasses.replace(
        some,
        gaps=tuple(one for one in declared if isinstance(one, Gap)),
        grips=tuple(one for one in declared if isinstance(one, Grip)),
        webs=(),
    )


def values(**symbols: Any) -> Numbers:
    """Values to read a gap with: layers as thick as anyone likes, of wide lines, unless given."""
    return Numbers({"layer": 1.0, "line_width": 2.0, "clearance": 0.3, **symbols})


@functools.cache
def default(family: str) -> Hinge:
    """The family's default hinge."""
    return all_families()[family]()


ROUGH_WITHOUT_SAG = dataclasses.replace(ROUGH, sag=NOTHING)
