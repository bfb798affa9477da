"""How far parts give way under a load."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from scadgen.strength import giving
from tests.strength.beam import bent
from tests.strength.compared import COMPUTED, Comparison, Source, compares, share
from tests.strength.plane import Plate
from tests.strength.ring import pressed
from tests.strength.section import twisted

PLANE = Source("scikit-fem, plane stress, nu 0.4", COMPUTED)
BEAM = Source("beam in 400 pieces (numpy)", COMPUTED)


@compares("Giving way under a load")
def bars() -> Iterator[Comparison]:
    why = "a model: Timoshenko's beam; its root is held all over"
    for length, side in ((25.0, 5.0), (10.0, 5.0), (5.0, 5.0)):
        ours, theirs = giving.bar_end(1, length, side, 1, 1000), _bar(length, side, 1000)
        case = f"l {length:g}, side {side:g}, 1 wide, F 1, E 1000"
        within, model = (0.04, why) if length <= side else (0.02, "")
        yield Comparison("end of a bar, mm", case, ours, theirs, share(within), PLANE, model)
    constant, _ = twisted(3, 2)
    ours, theirs = giving.bar_twist(90, 12, 2, 3, 2000), 90 * 12 / (2000 / 2.8 * constant)
    source = Source("sectionproperties (finite elements)", COMPUTED)
    yield Comparison("twist, rad", "3 x 2 x 12, T 90, E 2000", ours, theirs, share(5e-3), source)


def _bar(length: float, side: float, modulus: float) -> float:
    import skfem  # type: ignore[import-untyped]

    across = np.linspace(-side / 2, side / 2, 13)
    mesh = skfem.MeshQuad.init_tensor(np.linspace(0, length, 31), across)

    def root(x: Any) -> Any:
        return np.isclose(x[0], 0)

    def end(x: Any) -> Any:
        return np.isclose(x[0], length)

    def pull(x: Any) -> tuple[Any, Any]:
        return 0 * x[0], 1.5 / side * (1 - (2 * x[1] / side) ** 2)

    plate = Plate(mesh, skfem.ElementQuad2(), modulus, 0.4)
    basis, moved = plate.moved({"u^1": root, "u^2": root}, end, pull)
    return float(moved[basis.get_dofs(end).all(["u^2"])].mean())


@compares("Giving way under a load")
def rings() -> Iterator[Comparison]:
    outer, bore, height, modulus = 9.0, 4.4, 5.0, 2000.0
    # A cone of 45 degrees presses outwards as hard as it is pulled, around the bore.
    pressure = 50 / (np.pi * bore * height)
    hoop, radial = pressed(pressure, outer, bore)
    theirs = bore / 2 * (hoop - 0.4 * radial) / modulus
    ours = giving.bore_opens(50, outer, bore, height, modulus)
    source = Source("scipy, the ring's boundary-value problem", COMPUTED)
    case = "50 N, D 9, d 4.4, h 5, E 2000"
    yield Comparison("bore opens by, mm", case, ours, theirs, share(1e-3), source)
    # Castigliano on a quarter of a thin ring: M = F R (1/pi - cos t/2), the bending alone.
    radius, inertia = 5.75, 3 * 0.5**3 / 12
    turn = (np.arange(20000) + 0.5) * np.pi / 2 / 20000
    moment = radius * (1 / np.pi - np.cos(turn) / 2)
    theirs = 4 * float((moment**2).mean()) * np.pi / 2 * radius / (modulus * inertia)
    ours = giving.ring_stretches(1, 12, 11, 3, modulus)
    source = Source("Castigliano, integrated around the ring (numpy)", COMPUTED)
    case = "1 N, D 12, d 11, b 3, E 2000"
    yield Comparison("ring stretches by, mm", case, ours, theirs, share(1e-4), source)


@compares("Giving way under a load")
def rods() -> Iterator[Comparison]:
    ends = {0.0: "way turn", 20.0: "way turn"}
    theirs = bent(20, 2000 * np.pi * 5**4 / 64, ends, {10.0: 10}).way.max()
    ours = giving.rod_sags(10, 20, 5, 2000)
    case = "10 N, l 20, d 5, E 2000"
    yield Comparison("sag of a rod, mm", case, ours, theirs, share(1e-4), BEAM)
