"""The slit lattice."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import arm, lattice, torsion
from tests.strength.cell import MODULUS, POISSON, solid_cell
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, share
from tests.strength.frame import RZ, Beam, Sheet, X, lattice_stiffness
from tests.strength.section import twisted

STATICS = Source("statics, recorded", DERIVED)
FIT = "a model: torsion and bridges in series, fitted"


@compares("Slit lattice")
def bridges() -> Iterator[Comparison]:
    for bridge, theirs in ((2, 1.5), (4, 0.75)):
        ours = lattice.bridge_stress(1, bridge, 2)
        yield Comparison(
            "12 T/(b t2), MPa, T 1", f"t 2, b {bridge}", ours, theirs, share(1e-6), STATICS
        )
    ratio = lattice.bridge_stress(1, 1, 1) / (3**0.5 * arm.twisting(1, 1, 1))
    yield Comparison("b/t of equal distress", "square strip", ratio, 1.4423, share(3e-3), STATICS)


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
    shear = torsion.shear_modulus(modulus, poisson)
    ours = lattice.stiffness(shear * torsion.constant(2, 2) / 10, 6, 5)
    case = "n 6, m 5, w = t = 2, l 10, E 2000"
    yield Comparison("m G J/(n l), N mm/rad", case, ours, 138.84, share(1e-3), STATICS)
    source = Source("frame of beams, the whole sheet (numpy)", COMPUTED)
    for columns, strip, thickness in ((2, 2.0, 2.0), (3, 1.2, 2.4)):
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
        ours = lattice.stiffness(shear * torsion.constant(strip, thickness) / 10, 6, 2 * columns)
        yield Comparison("bend, rigid bridges, N mm/rad", case, ours, theirs, share(0.01), source)
        ours = lattice.segment_torque(ours, 90, 2 * columns)
        theirs = theirs * np.pi / 2 / (2 * columns)
        yield Comparison("a segment's torque, N mm", case, ours, theirs, share(0.01), source)
        # Pulled apart by 1 mm, each of 6 strips is a beam whose ends move apart by a sixth of it.
        force = lattice_stiffness(sheet, beam, X) / (2 * columns)
        ours = lattice.opening_stress(force, 10, thickness, strip)
        theirs = 6 * beam.in_plane / 6 / 10**2 / (thickness * strip**2 / 6)
        yield Comparison("3 F l/(t w2), MPa", case, ours, theirs, share(0.02), source)


@compares("Slit lattice")
def strains() -> Iterator[Comparison]:
    source = Source("sectionproperties (finite elements)", COMPUTED)
    for strip, thickness in ((2, 2), (2, 3)):
        constant, stress = twisted(thickness, strip)
        ours = lattice.shear_strain(strip, thickness, 5.625, 12)
        theirs = stress / 100 * constant * np.radians(5.625) / 12  # tau J/T, times the twist
        case = f"w {strip}, t {thickness}, l 12, turned by 5.625 deg"
        yield Comparison("shear strain of a strip", case, ours, theirs, share(0.02), source)


@compares("Slit lattice")
def whole_sheets_under_loads() -> Iterator[Comparison]:
    case = "S 300 N mm/rad, s 42"
    ours, theirs = lattice.buckling_force(300, 42), _buckles(300, 42)
    source = Source("a chain of links, its lowest eigenvalue (numpy)", COMPUTED)
    yield Comparison("push that bends it, N", case, ours, theirs, share(1e-3), source)
    source = Source("springs side by side, solved (numpy)", COMPUTED)
    for segments in (2, 4, 10):
        place = ((np.arange(segments) + 0.5) / segments - 0.5) * 64
        theirs = 500 * place[-1] / float((place**2).sum())
        ours = lattice.edge_force(500, 64, segments)
        case = f"M 500, W 64, m {segments}"
        yield Comparison("pull on the outermost, N", case, ours, theirs, share(1e-6), source)
    ours, theirs = lattice.moment_of_load(3, 20, 42), 3 * (20 + 21)
    case = "F 3, L 20, s 42, the strip at the far end"
    yield Comparison("moment, N mm", case, ours, theirs, share(1e-6), STATICS)


def _buckles(stiffness: float, span: float) -> float:
    """Push on a chain of links joined by springs; both ends keep their direction."""
    links = 200
    spring = stiffness * links
    bends = spring * (2 * np.eye(links - 1) - np.eye(links - 1, k=1) - np.eye(links - 1, k=-1))
    return float(np.linalg.eigvalsh(bends)[0] / (span / links))
