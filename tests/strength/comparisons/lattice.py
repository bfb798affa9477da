"""The slit lattice."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import lattice, torsion
from tests.strength.cell import MODULUS, POISSON, solid_cell
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, off, share
from tests.strength.frame import RZ, Beam, Sheet, X, lattice_stiffness

POLYGONS = Source("polygons turned into contact (shapely), recorded", DERIVED)
FENNER = Source('P. Fenner, "Minimum bend radius", weblog, 2012 (excerpt)', "looked up")
STATICS = Source("statics, recorded", DERIVED)
FIT = "a model: torsion and bridges in series, fitted"


@compares("Slit lattice")
def slits() -> Iterator[Comparison]:
    for strip, thickness, turn, theirs in (
        (3, 3, 90 / 23, 0.19772),
        (3, 3, 90 / 22, 0.20638),
        (2, 2, 6, 0.19810),
    ):
        ours = lattice.least_slit(strip, thickness, turn)
        case = f"w {strip}, t {thickness}, turn {turn:.3f} deg"
        yield Comparison("least slit, mm", case, ours, theirs, off(2e-5), POLYGONS)
    for wide, thick, lean in ((3.0, 3.0, 4.0), (2.0, 3.0, 12.0), (1.0, 4.0, 30.0)):
        ours = lattice.least_slit(wide, thick, lean)
        theirs = _slit_by_turning(wide, thick, lean)
        source = Source("corner clouds turned apart (numpy)", COMPUTED)
        case = f"w {wide}, t {thick}, turn {lean} deg"
        yield Comparison("least slit, mm", case, ours, theirs, off(2e-4), source)


def _slit_by_turning(strip: float, thickness: float, turn: float) -> float:
    """Least gap so that two rectangles, leaning by a turn each way, stay on their own sides."""
    lean = np.radians(turn)
    corners = np.array([(x, y) for x in (-strip / 2, strip / 2) for y in (-1, 1)], float)
    corners[:, 1] *= thickness / 2
    spin = np.array([[np.cos(lean), -np.sin(lean)], [np.sin(lean), np.cos(lean)]])
    reach = max((corners @ spin.T)[:, 0])
    return float(2 * reach - strip)


@compares("Slit lattice")
def strips() -> Iterator[Comparison]:
    ours = lattice.fewest_strips(90, 3, 3, 0.2)
    yield Comparison("fewest strips", "90 deg, w = t = 3, k 0.2", ours, 23, off(0.4), FENNER)
    ours = lattice.fewest_strips(90, 2, 2, 0.5)
    yield Comparison("fewest strips", "90 deg, w = t = 2, k 0.5", ours, 6, off(0.4), POLYGONS)
    ours = lattice.strips_for_shear(90, 3, 3, 14, 1000, 15)
    case = "90 deg, w = t = 3, l 14, G 1000, tau 15"
    yield Comparison("strips from shear", case, ours, 15.154, share(1e-3), STATICS)
    ours = lattice.middle_radius(3.2, 90 / 23)
    yield Comparison("R of the middle, mm", "23 strips, p 3.2", ours, 46.837, off(1e-3), STATICS)
    ours = lattice.middle_radius(3.0, 90 / 23)
    case = "23 strips of 3 mm, slits left out as the article does"
    yield Comparison("R of the arc, mm", case, ours, 44, share(0.005), FENNER)


@compares("Slit lattice")
def bridges() -> Iterator[Comparison]:
    for bridge, theirs in ((2, 1.5), (4, 0.75)):
        ours = lattice.bridge_stress(1, bridge, 2)
        yield Comparison(
            "12 T/(b t2), MPa, T 1", f"t 2, b {bridge}", ours, theirs, share(1e-6), STATICS
        )
    for sides, theirs in (((2, 2), 0.6005), ((1.2, 2.4), 1.1768)):
        ours = torsion.stress(1, *sides)
        case = f"strip {sides[0]} x {sides[1]}"
        yield Comparison("tau, MPa, T 1", case, ours, theirs, share(1e-3), STATICS)
    ratio = lattice.bridge_stress(1, 1, 1) / (3**0.5 * torsion.stress(1, 1, 1))
    yield Comparison("b/t of equal distress", "square strip", ratio, 1.4423, share(1e-3), STATICS)


@compares("Slit lattice")
def cells_in_solid_elements() -> Iterator[Comparison]:
    source = Source("scikit-fem, solid quadratic elements", COMPUTED)
    recorded = Source("solid finite elements, recorded", DERIVED)
    for strip, thickness, free, bridge, slit, theirs in (
        (2.0, 2.0, 10.0, 2.0, 0.4, 0.806),
        (2.0, 2.0, 10.0, 1.0, 0.4, 0.728),
        (3.0, 1.2, 10.0, 2.0, 0.4, 0.603),
        (1.2, 2.0, 40.0, 2.0, 0.4, 0.994),
    ):
        plain = torsion.shear_modulus(MODULUS, POISSON) * torsion.constant(strip, thickness) / free
        cell = lattice.cell_stiffness(strip, thickness, free, bridge, slit, MODULUS, POISSON)
        solid = solid_cell(strip, thickness, free, bridge, slit)
        case = f"w {strip:g}, t {thickness:g}, l {free:g}, b {bridge:g}, k {slit:g}"
        yield Comparison("K/(G J/l)", case, cell / plain, solid / plain, share(0.06), source, FIT)
        yield Comparison("K/(G J/l)", case, cell / plain, theirs, share(0.06), recorded, FIT)


@compares("Slit lattice")
def whole_sheets_as_frames() -> Iterator[Comparison]:
    modulus, poisson = 2000, 0.35
    ours = lattice.plain_stiffness(2, 2, 10, modulus, poisson, 6, 5)
    case = "n 6, m 5, w = t = 2, l 10, b 2, E 2000"
    yield Comparison("m G J/(n l), N mm/rad", case, ours, 138.84, share(1e-3), STATICS)
    ours = lattice.stretch_stiffness(2, 2, 10, modulus, 6, 5)
    yield Comparison("m 12 E I/(n l3), N/mm", case, ours, 26.67, share(1e-3), STATICS)
    source = Source("frame of beams, the whole sheet (numpy)", COMPUTED)
    for columns, strip, thickness in ((2, 2.0, 2.0), (3, 1.2, 2.4)):
        shear = modulus / (2 * (1 + poisson))
        long, short = max(strip, thickness), min(strip, thickness)
        table = {1.0: 0.1406, 2.0: 0.229}[long / short]  # Timoshenko's beta
        beam = Beam(
            axial=modulus * strip * thickness,
            torsion=shear * table * long * short**3,
            in_plane=modulus * thickness * strip**3 / 12,
            out_of_plane=modulus * strip * thickness**3 / 12,
        )
        sheet = Sheet(strip, thickness, 10, 2, 0.4, 6, columns)
        case = f"{columns} periods, w {strip}, t {thickness}, l 10"
        theirs = lattice_stiffness(sheet, beam, RZ)
        ours = lattice.plain_stiffness(strip, thickness, 10, modulus, poisson, 6, 2 * columns)
        yield Comparison("bend, rigid bridges, N mm/rad", case, ours, theirs, share(0.01), source)
        theirs = lattice_stiffness(sheet, beam, X)
        ours = lattice.stretch_stiffness(strip, thickness, 10, modulus, 6, 2 * columns)
        yield Comparison("stretch, N/mm", case, ours, theirs, share(0.02), source)
