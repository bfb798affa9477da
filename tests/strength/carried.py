"""Nominal stresses at the places that families name, measured on sections of their own solids.

Statics, and polygons integrated by Green's theorem: no formula of ``scadgen.strength`` is used.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import manifold3d
import numpy as np

from scadgen.hinge.family import Hinge
from scadgen.hinge.meshing import mesh
from scadgen.strength.carried import Carrier, Cut, Force, Tube
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Plastic

Array = np.ndarray[Any, Any]
AXES = "xyz"
#: Half the thickness of the skin in which the wall of a tube is measured, outside it, mm.
SKIN = 0.02
#: Plastic over elastic modulus of a rectangle in bending (elementary plasticity).
RECTANGLE = 1.5
#: Directions that are tried in a plane.
DIRECTIONS = 8


@dataclass(frozen=True)
class Section:
    """A section: its axes u, v and normal as indices; area, middle (3D), moments, corners."""

    axes: tuple[int, int, int]
    area: float
    middle: Array
    moments: Array
    corners: Array

    @property
    def sides(self) -> Array:
        """Of the box around it, along u and v."""
        sides: Array = np.ptp(self.corners, axis=0)
        return sides

    @property
    def torsion(self) -> float:
        """Saint-Venant's constant, about A4/(40 Ip) for any compact section (from memory)."""
        return float(self.area**4 / (40 * np.trace(self.moments)))


def section(solid: Any, cut: Cut) -> Section:
    """What a cut leaves of a solid: the outline nearest to its point, or the whole."""
    n = AXES.index(cut.normal)
    u, v = (n + 1) % 3, (n + 2) % 3
    turned = solid.transform(np.eye(3, 4)[[u, v, n]])
    at = np.array([cut.at[u], cut.at[v]])
    plane = turned.slice(cut.at[n])
    sides = np.minimum([cut.window[u], cut.window[v]], 1e4)
    box = manifold3d.CrossSection.square(sides.tolist(), center=True).translate(at.tolist())
    plane = plane ^ box
    if not cut.whole:
        plane = min(plane.decompose(), key=lambda one: _distance(one, at))
    return _integrated(plane.to_polygons(), (u, v, n), cut.at[n])


def _distance(outline: Any, at: Array) -> float:
    """From a point to an outline; 0 within it."""
    dot = manifold3d.CrossSection.square((1e-4, 1e-4), center=True).translate(at.tolist())
    if not (outline ^ dot).is_empty():
        return 0.0
    edges = map(_filled, outline.to_polygons())
    return min(float(np.min(np.hypot(*(edge - at).T))) for edge in edges)


def _filled(polygon: Array) -> Array:
    """Points along all edges of a polygon."""
    shares = np.linspace(0, 1, 20)[:, None, None]
    points: Array = (polygon * (1 - shares) + np.roll(polygon, -1, axis=0) * shares).reshape(-1, 2)
    return points


def _integrated(polygons: Any, axes: tuple[int, int, int], height: float) -> Section:
    area, first, second = 0.0, np.zeros(2), np.zeros((2, 2))
    for polygon in polygons:
        here, there = np.asarray(polygon), np.roll(polygon, -1, axis=0)
        cross = here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0]
        area += float(cross.sum()) / 2
        first += ((here + there) * cross[:, None]).sum(axis=0) / 6
        both = here + there
        products = (both[:, :, None] * both[:, None, :]) + (
            here[:, :, None] * here[:, None, :] + there[:, :, None] * there[:, None, :]
        )
        second += (products * cross[:, None, None]).sum(axis=0) / 24
    centre = first / area
    middle = np.zeros(3)
    middle[list(axes)] = (*centre, height)
    corners = np.vstack(polygons) - centre
    return Section(axes, area, middle, second - area * np.outer(centre, centre), corners)


def wall(solid: Any, tube: Tube) -> float:
    """Area (mm2) in which the wall of a tube runs through a solid, a skin further out."""
    cylinders = [
        manifold3d.Manifold.cylinder(
            tube.height, tube.diameter / 2 + skin, circular_segments=256, center=True
        )
        for skin in (2 * SKIN, 0)
    ]
    n = AXES.index(tube.axis)
    turn = np.zeros((3, 4))
    turn[[(n + 1) % 3, (n + 2) % 3, n], [0, 1, 2]] = 1
    turn[:, 3] = tube.at
    shell = (cylinders[0] - cylinders[1]).transform(turn)
    return float((solid ^ shell).volume() / (2 * SKIN))


def size_of(force: Force, duty: Duty, cut: Cut | Tube) -> float:
    """How large a force is under a duty (N); none where it does not reach the section."""
    whole = float(getattr(duty, force.by)) * force.share
    if force.times:
        length = float(getattr(duty, force.times))
        whole *= force.least + max(length, force.least) if force.least else length
    if force.over:
        pries = (duty.lever - force.over.fulcrum) / force.over.arm
        return whole * max(pries, force.over.least)
    if force.out and _lever(force, duty) <= cut.at[AXES.index(force.out)]:
        return 0.0
    return whole


def point_of(force: Force, duty: Duty) -> Array:
    """Where a force acts."""
    at = np.array(force.at, float)
    if force.out:
        at[AXES.index(force.out)] += _lever(force, duty)
    if force.beside:
        at[AXES.index(force.beside)] += duty.offset
    return at


def _lever(force: Force, duty: Duty) -> float:
    """From where a force's point is to where it acts."""
    return max(duty.pull_lever if force.by == "pull" else duty.lever, force.least)


def ways(along: str) -> list[Array]:
    """The directions in which a force may act."""
    unit = np.eye(3)[[AXES.index(axis) for axis in along]]
    if len(along) == 1:
        return [unit[0], -unit[0]]
    turns = np.arange(DIRECTIONS) * math.tau / DIRECTIONS
    return [math.cos(turn) * unit[0] + math.sin(turn) * unit[1] for turn in turns]


def loads(carrier: Carrier, duty: Duty, cut: Cut | Tube) -> Iterator[list[tuple[Array, Array]]]:
    """The forces on a cut as vectors and points, in all directions; one cause has one direction."""
    acting = [force for force in carrier.forces if size_of(force, duty, cut)]
    causes = list(dict.fromkeys((force.by, force.along) for force in acting))
    for chosen in itertools.product(*(ways(along) for _, along in causes)):
        way = dict(zip(causes, chosen, strict=True))
        yield [
            (way[force.by, force.along] * size_of(force, duty, cut), point_of(force, duty))
            for force in acting
        ]


def stresses(found: Section, forces: list[tuple[Array, Array]]) -> tuple[float, float, float]:
    """Greatest normal stress, mean shear stress, and shear stress of torsion (MPa)."""
    axes = list(found.axes)
    force, moment = np.zeros(3), np.zeros(3)
    for vector, at in forces:
        force += vector[axes]
        moment += np.cross((at - found.middle)[axes], vector[axes])
    slope = np.linalg.solve(found.moments, [-moment[1], moment[0]])
    normal = force[2] / found.area + found.corners @ slope
    twisted = abs(moment[2]) * min(found.sides) / found.torsion
    return float(np.max(np.abs(normal))), math.hypot(*force[:2]) / found.area, twisted


@functools.cache
def _solid(hinge: Hinge, part: str) -> Any:
    return mesh(hinge, part, angle=-hinge.as_printed())


@functools.cache
def _section(hinge: Hinge, cut: Cut) -> Section:
    """Cut once for all duties: what a section is does not depend on what it bears."""
    return section(_solid(hinge, cut.part), cut)


@functools.cache
def _wall(hinge: Hinge, tube: Tube) -> float:
    return wall(_solid(hinge, tube.part), tube)


def nominal(hinge: Hinge, carrier: Carrier, duty: Duty, plastic: Plastic) -> float:
    """What the section of a place bears, in the unit of its strength's ``actual``."""
    if carrier.kind in ("normal", "shear", "both"):
        weak = 1 / plastic.layer_share
        return max(_under(hinge, carrier, cut, duty, weak) for cut in carrier.cuts)
    found = [_section(hinge, cut) for cut in carrier.cuts if isinstance(cut, Cut)]
    return _turned(carrier, found, duty, plastic)


def _under(hinge: Hinge, carrier: Carrier, cut: Cut | Tube, duty: Duty, weak: float) -> float:
    """The worst of all directions at one cut (MPa)."""
    if isinstance(cut, Tube):
        forces = next(loads(carrier, duty, cut))
        total = np.sum([np.zeros(3), *(force for force, _ in forces)], axis=0)
        return float(np.linalg.norm(total)) / _wall(hinge, cut)
    found, worst = _section(hinge, cut), 0.0
    for forces in loads(carrier, duty, cut):
        normal, shear, twist = stresses(found, forces)
        one = {"normal": normal, "shear": shear}
        worst = max(worst, one.get(carrier.kind, math.hypot(normal, math.sqrt(3) * weak * twist)))
    return worst


def _turned(carrier: Carrier, found: list[Section], duty: Duty, plastic: Plastic) -> float:
    """What a turn asks: a strain in percent, or a force (N) or torque (N mm) from it."""
    turn, first = carrier.turn, found[0]
    assert turn is not None
    angle = math.radians(turn.degrees) / turn.length
    if carrier.kind == "bend":
        (cut,) = carrier.cuts
        torn = max(stresses(found[0], forces)[0] for forces in loads(carrier, duty, cut))
        return 100 * (angle * float(min(first.sides)) / 2 + torn / plastic.modulus.low)
    if carrier.kind == "twist":
        return 100 * angle * float(min(first.sides))
    if carrier.kind == "snap":
        # All webs fully plastic at the strong end, by a push at the far edge.
        modulus = RECTANGLE * first.moments[0, 0] / (first.sides[0] / 2)
        return float(plastic.strength.high * modulus * turn.count / turn.length)
    shear = 1 / (2 * (1 + plastic.poisson.high))  # over the modulus of elasticity
    if carrier.kind == "wound":
        twice = 2 * shear * first.torsion * angle  # over the modulus
        other = found[1]
        thin = int(np.argmin(other.sides))
        return 100 * float(twice * other.sides[thin] / 2 / other.moments[thin, thin])
    assert carrier.kind == "held"
    return duty.load * (duty.lever + turn.reach)


def held(hinge: Hinge, carrier: Carrier, plastic: Plastic) -> float:
    """The torque (N mm) that a turn takes of bars of a soft plastic: G J angle/length each."""
    turn, (cut, *_) = carrier.turn, carrier.cuts
    assert turn is not None
    assert isinstance(cut, Cut)
    found = _section(hinge, cut)
    shear = plastic.modulus.low / (2 * (1 + plastic.poisson.high))
    return turn.count * shear * found.torsion * math.radians(turn.degrees) / turn.length
