"""What a picture shows: the bodies of a hinge in one of its views, as coloured triangles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from scadgen.pictures.palette import DARK, LIGHT, rgb
from scadgen.pictures.sections import Vector, open_plane, product
from scadgen.pictures.sides import Sides

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.hinge.family import Hinge
    from scadgen.pictures.sections import Plane

    Array = np.ndarray[Any, Any]

VIEWS = ("printed", "opened", "cut")
#: Dihedral angle above which an edge is a crease, degrees; facets meet at less.
CREASE = 30.0
#: Corners this near the plane of a cut, mm, are on it: meshes are handed over in single precision.
ON_PLANE = 1e-3
#: Where pictures are looked at from, as a direction; a cut by what its plane looks at.
EYE = (0.5, -0.75, 0.6)
#: Other places from which what is opened may be looked at: as high, elsewhere before it.
_AROUND: tuple[Vector, ...] = (
    (0.75, -0.5, 0.6),
    (-0.5, -0.75, 0.6),
    (-0.75, -0.5, 0.6),
)
#: Pixels of the small picture, and how much more must be seen from there to look from elsewhere.
LOOKED, WORTH_MOVING = (120, 90), 1.3
CUT_EYES: dict[Vector, Vector] = {
    (1, 0, 0): (0.9, -0.4, 0.36),
    (0, -1, 0): (0.32, -0.85, 0.3),
    (0, 0, 1): (0.35, -0.55, 0.85),
}


@dataclass(frozen=True, eq=False)
class Scene:
    """What is seen from the direction ``eye``: triangles of all bodies.

    Their ``corners`` (mm) and the ``normals`` there are (count, 3, 3). ``patch`` numbers the smooth
    faces, ``colour`` is 0 to 1. Cut faces are ``unshaded``, as in a drawing.
    """

    eye: Vector
    corners: Array
    normals: Array
    patch: Array
    colour: Array
    unshaded: Array
    background: str = field(default=LIGHT["background"], kw_only=True)


def in_the_dark(shown: Scene) -> Scene:
    """The same in the colours for dark surroundings."""
    import numpy as np

    colour = shown.colour.copy()
    for name, light in LIGHT.items():
        colour[np.isclose(shown.colour, rgb(light)).all(1)] = rgb(DARK[name])
    return replace(shown, colour=colour, background=DARK["background"])


def scene(hinge: Hinge, view: str) -> Scene:
    """The hinge as ``printed``, ``opened`` all the way, or ``cut`` in half through its axis.

    Without an axis it is cut square to its bends, or through the middle.

    Raises ValueError for another view.
    """
    if view not in VIEWS:
        raise ValueError(f"view = {view!r}; it must be one of {VIEWS}")
    sides = Sides(hinge.mechanism())
    plane = open_plane(sides) if view == "cut" else None
    solids = {"printed": sides.printed, "opened": sides.opened, "cut": sides.cut}[view]
    there = open_eye(solids) if view == "opened" and sides.axis else eye(plane)
    return scene_of(solids, there, plane)


def open_eye(solids: Mapping[str, Manifold]) -> Vector:
    """From where both sides of what is opened are seen best: the usual place if it is as good.

    The side of which less is seen counts, by the pixels that it covers of a small picture.
    """
    import numpy as np

    whole = scene_of(solids, EYE)
    sides = np.concatenate([[k] * one.num_tri() for k, one in enumerate(solids.values())])
    seen = {around: _seen(whole.corners, sides, around) for around in (EYE, *_AROUND)}
    best = max(seen, key=lambda around: seen[around])
    return best if seen[best] > WORTH_MOVING * seen[EYE] else EYE


def _seen(corners: Array, sides: Array, around: Vector) -> int:
    """Pixels of the side of which an eye sees less."""
    import numpy as np

    from scadgen.pictures.light import into_picture
    from scadgen.pictures.raster import NOTHING, raster

    flat = corners @ into_picture(np.array(around)).T
    low, high = flat.min((0, 1)), flat.max((0, 1))
    scale = ((np.array(LOOKED) - 2) / (high - low)[:2]).min()
    _, index = raster((flat - low) * scale + 1, *LOOKED)
    found = sides[index[index != NOTHING]]
    return int(min(np.bincount(found, minlength=sides.max() + 1)))


def eye(plane: Plane | None) -> Vector:
    """Where a picture is looked at from, as a direction; of one cut by a plane, onto its cut."""
    if plane is None:
        return EYE
    nearest = max(CUT_EYES, key=lambda normal: product(normal, plane.normal))
    return CUT_EYES[nearest]


def scene_of(
    solids: Mapping[str, Manifold],
    eye: Vector,
    plane: Plane | None = None,
    mark: Manifold | None = None,
) -> Scene:
    """Solids named ``fixed`` and ``moving``, cut by a plane if one is given.

    A ``mark`` is neither cut nor shaded. What lies beyond the plane altogether is not seen.
    """
    seen = {name: _trimmed(solid, plane) for name, solid in solids.items()}
    parts = [_body(solid, name, plane) for name, solid in seen.items() if not solid.is_empty()]
    if mark is not None:
        corners, normals, patches, colour, cut = _body(mark, "accent", None)
        parts.append((corners, normals, patches, colour, ~cut))
    return _joined(parts, eye)


def _trimmed(solid: Manifold, plane: Plane | None) -> Manifold:
    return solid.trim_by_plane([-n for n in plane.normal], -plane.offset) if plane else solid


def _body(solid: Manifold, name: str, plane: Plane | None) -> tuple[Array, ...]:
    """Corners, normals, patches, colours and whether unshaded, of the triangles of a body."""
    import numpy as np

    mesh = solid.calculate_normals(0, CREASE).to_mesh()
    corners = mesh.vert_properties[mesh.tri_verts].astype(float)
    corners, normals = corners[:, :, :3], corners[:, :, 3:6]
    cut = np.zeros(len(corners), bool)
    if plane:
        cut = (abs(corners @ np.array(plane.normal) - plane.offset) < ON_PLANE).all(1)
    colour = np.where(cut[:, None], rgb(LIGHT.get(f"{name}_cut", LIGHT[name])), rgb(LIGHT[name]))
    return corners, normals, _patches(mesh.tri_verts), colour, cut


def _joined(parts: list[tuple[Array, ...]], eye: Vector) -> Scene:
    import numpy as np

    corners, normals, patches, colour, cut = zip(*parts, strict=True)
    first = np.cumsum([0, *(patch.max() + 1 for patch in patches)])
    patches = tuple(patch + start for patch, start in zip(patches, first, strict=False))
    columns: list[Array] = [
        np.concatenate(column) for column in (corners, normals, patches, colour, cut)
    ]
    return Scene(eye, *columns)


def _patches(triangles: Array) -> Array:
    """A number for each triangle, the same for those that hang together by shared corners."""
    import numpy as np

    labels = np.arange(triangles.max() + 1)
    while True:
        least: Array = labels[triangles].min(1)
        spread = labels.copy()
        np.minimum.at(spread, triangles, least[:, None])
        spread = spread[spread]
        if (spread == labels).all():
            return least
        labels = spread
