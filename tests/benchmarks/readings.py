"""The readings beside the general libraries, called by hand for the same solids."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial
from typing import Any

from scadgen import emit, mesh
from scadgen.hinge.family import Hinge
from scadgen.openscad import emitter
from scadgen.openscad.bridge import to_solid2
from tests.benchmarks.by_hand import Call, calls, scene, solid
from tests.benchmarks.race import Effort, Ratio, race
from tests.support import changed

_OUTLINES = ("circle", "square", "polygon")


def emitting(effort: Effort) -> Iterator[Ratio]:
    """The text of a module beside solidpython2's text of as many primitives as it draws."""
    hand = "solidpython2 printing the same solids"
    for name, cls in effort.families.items():
        hinge = cls()
        plans = plans_of(hinge)
        assert outlines_in(printed(plans)) == sum(map(primitives, plans))
        by_hand = partial(printed, plans)
        yield Ratio(f"emit {name}", hand, *race(partial(emit, hinge), by_hand, effort.repeats))
        anew = partial(_emitted_anew, hinge)
        what = f"emit {name}, its family's first in a process"
        yield Ratio(what, hand, *race(anew, by_hand, effort.repeats))
        bridged = partial(_bridged, hinge)
        yield Ratio(f"to_solid2 {name}, as text", hand, *race(bridged, by_hand, effort.repeats))


def meshing(effort: Effort) -> Iterator[Ratio]:
    """The meshes of a hinge beside manifold3d called with numbers that are worked out already."""
    for name, cls in effort.families.items():
        hinge = cls()
        plans = plans_of(hinge)
        for part, plan in zip(bodies(hinge), plans, strict=True):
            assert abs(mesh(hinge, part).volume() / solid(plan).volume() - 1) < 1e-9
        # A fresh instance for each turn: it has no value at hand from the turn before.
        fresh = [changed(hinge, {}) for _ in range(effort.repeats + 1)]
        ours = partial(_meshed, fresh)
        theirs = partial(_built, plans)
        yield Ratio(f"mesh {name}", "manifold3d by hand", *race(ours, theirs, effort.repeats))


def bodies(hinge: Hinge) -> tuple[str, ...]:
    """The parts that together are the whole hinge."""
    return ("fixed", "moving") if hinge.kind == "pivot" else ("both",)


def plans_of(hinge: Hinge) -> list[Call]:
    """The calls that build the whole hinge by hand."""
    return [calls(hinge, part) for part in bodies(hinge)]


def primitives(call: Call) -> int:
    """How many outlines the calls draw."""
    return (call[0] in _OUTLINES) + sum(map(primitives, call[2]))


def outlines_in(source: str) -> int:
    """How many outlines a source without loops draws."""
    return len(re.findall(rf"\b(?:{'|'.join(_OUTLINES)})\(", source))


def printed(plans: list[Call]) -> str:
    """The solids as solidpython2 prints them."""
    return "".join(str(scene(plan)) for plan in plans)


def _emitted_anew(hinge: Hinge) -> None:
    emitter._body.cache_clear()
    emit(hinge)


def _bridged(hinge: Hinge) -> str:
    return str(to_solid2(hinge))


def _built(plans: list[Call]) -> None:
    for plan in plans:
        solid(plan).volume()


def _meshed(fresh: list[Any]) -> None:
    hinge = fresh.pop()
    for part in bodies(hinge):
        mesh(hinge, part).volume()
