"""Sections cut through meshed solids: area and section moduli, to bend beams by hand.

Shares nothing with the formulas but the solids: polygons, integrated by Green's theorem.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

import numpy as np


@dataclass(frozen=True)
class Section:
    """A section in x and y: area (mm2), and the moduli (mm3) of bending about x and about y."""

    area: float
    about_x: float
    about_y: float


def cut(solid: Any, z: float, at: tuple[float, float], window: tuple[float, float]) -> Section:
    """The section of a solid at a height, within a window (half sides, mm) around a point."""
    import manifold3d

    box = manifold3d.CrossSection.square((2 * window[0], 2 * window[1]), center=True)
    polygons = (solid.slice(z) ^ box.translate(at)).to_polygons()
    area = first_x = first_y = square_x = square_y = 0.0
    for polygon in polygons:
        (x, y), (u, v) = polygon.T, np.roll(polygon, -1, axis=0).T
        cross = x * v - u * y
        area += cross.sum() / 2
        first_x += ((x + u) * cross).sum() / 6
        first_y += ((y + v) * cross).sum() / 6
        square_x += ((x * x + x * u + u * u) * cross).sum() / 12
        square_y += ((y * y + y * v + v * v) * cross).sum() / 12
    middle = np.array([first_x, first_y]) / area
    far = np.max(np.abs(np.vstack(polygons) - middle), axis=0)
    inertia_y, inertia_x = square_x - area * middle[0] ** 2, square_y - area * middle[1] ** 2
    return Section(float(area), float(inertia_x / far[1]), float(inertia_y / far[0]))


def inertia(outline: Any) -> float:
    """Second moment of an outline about the x axis (Green's theorem)."""
    total = 0.0
    for polygon in outline.to_polygons():
        here, there = np.asarray(polygon), np.roll(polygon, -1, axis=0)
        cross = here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0]
        rise = here[:, 1] ** 2 + here[:, 1] * there[:, 1] + there[:, 1] ** 2
        total += float((cross * rise).sum()) / 12
    return total


def upright_modulus(outline: Any) -> float:
    """Section modulus of an outline that bends up or down, at its farthest fibre."""
    area, middle = outline.area(), 0.0
    for polygon in outline.to_polygons():
        (x, y), (u, v) = polygon.T, np.roll(polygon, -1, axis=0).T
        middle += float(((x * v - u * y) * (y + v)).sum() / 6) / area
    far = max(abs(y - middle) for polygon in outline.to_polygons() for y in polygon[:, 1])
    return float((inertia(outline) - area * middle**2) / far)


@functools.cache
def twisted(long: float, short: float) -> tuple[float, float]:
    """Torsion constant of a rectangle, and its greatest shear under 100 N mm: finite elements."""
    from sectionproperties.analysis.section import Section as Meshed
    from sectionproperties.pre.library.primitive_sections import rectangular_section

    geometry = rectangular_section(d=long, b=short)
    geometry.create_mesh(mesh_sizes=[long * short / 500])
    section = Meshed(geometry)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    stress = section.calculate_stress(mzz=100).get_stress()[0]["sig_zxy_mzz"]
    return float(section.get_j()), float(max(stress))
