"""The line about which the walls of a bearing are surfaces of revolution.

A mesh of such a surface is made of facets. The plane that halves the angle between two neighbouring
facets holds the axis where the facets are alike: so two edges give a guess. A guess is judged by
the edges of *both* bodies: how many have a normal that meets it. Then it is fitted to them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.inspection.edges import Edges, round_edges, unit
from scadgen.motion.axis import Axis
from scadgen.motion.rows import cross, dot, length

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Pairs of edges of each body that are tried as a guess.
GUESSES = 400
#: Guesses that are fitted.
FITTED = 12
#: How near the axis a normal passes that meets it, mm: to judge a guess, then after each fit.
NEAR = (0.3, 0.2, 0.1, 0.05, 0.05)
#: How far a plane that holds the axis may lean from it, as a sine.
LEAN = 0.05
#: Least share of the round edges of each body that must agree, and their least number.
LEAST_SHARE, LEAST_EDGES = 0.15, 8
#: Facets that turn by less than this about the axis are neighbours along it, degrees.
FLATTEST_TURN = 0.3
#: Lines nearer to each other than this are one: distance, mm, and sine of the angle.
SAME = (0.2, 0.02)


@dataclass(frozen=True)
class Revolved:
    """An axis of round walls.

    share: of the round edges near the other body, by length and angle, how many have normals that
        meet the axis: of that body of the two where it is less.
    edges: how many these are in both bodies. miss: how far they pass the axis by, mm (median).
    facets: sides of the walls to a full turn.
    """

    axis: Axis
    share: float
    edges: int
    miss: float
    facets: int


def revolved(fixed: Manifold, moving: Manifold, gap: float) -> Iterator[Revolved]:
    """Axes that the round walls of both bodies have in common, likeliest first.

    Walls near the other body (``gap`` mm away at their nearest) are tried first, then all walls.
    """
    reach = max(1.0, 3 * gap)
    for near in (reach, 4 * reach, None):
        both = (round_edges(fixed, moving, near), round_edges(moving, fixed, near))
        if min(map(len, both)) >= LEAST_EDGES:
            yield from _common(both)


def _common(both: tuple[Edges, Edges]) -> Iterator[Revolved]:
    import numpy as np

    guesses = np.concatenate([_guesses(edges) for edges in both])
    if not len(guesses):
        return
    shares = np.min([_shares(edges, guesses) for edges in both], axis=0)
    found: list[Revolved] = []
    for guess in _apart(guesses[np.argsort(-shares, kind="stable")]):
        fit = _fitted(both, guess)
        if fit and not any(_same(fit.axis, other.axis) for other in found):
            found.append(fit)
    yield from sorted(found, key=lambda fit: -fit.share)


def _guesses(edges: Edges) -> Array:
    """Lines in which the halving planes of two edges meet, as (count, 2, 3): point, direction."""
    import numpy as np

    rng = np.random.default_rng(0)
    chance = edges.weight / edges.weight.sum()
    i, j = rng.choice(len(edges), (2, GUESSES), p=chance)
    m, k = edges.across[i], edges.across[j]
    along = cross(m, k)
    sine = length(along)
    good = sine > 0.2  # planes that meet more bluntly give no sharp line
    m, k, along, p, q = (rows[good] for rows in (m, k, along, edges.place[i], edges.place[j]))
    middle = (p + q) / 2
    rows = np.stack([m, k, along], 1)
    sides = np.stack([dot(m, p), dot(k, q), dot(along, middle)], 1)
    point = np.linalg.solve(rows, sides[..., None])[..., 0]
    return np.stack([point, unit(along)], 1)


def _misses(edges: Edges, point: Array, along: Array) -> Array:
    """How far each edge's normal passes by a line, mm; one parallel to it misses it by far.

    One line, or one for each edge.
    """
    import numpy as np

    square = cross(along, edges.normal)
    sine = length(square)
    miss = abs(dot(edges.place - point, square))
    return np.where(sine > 0.05, miss / np.maximum(sine, 1e-9), np.inf)


def _held(edges: Edges, point: Array, along: Array, near: float) -> Array:
    """Which edges belong to walls that are round about a line: neighbours along the wall."""
    across = edges.across
    offset = dot(edges.place - point, across)
    held: Array = (abs(across @ along) < LEAN) & (abs(offset) < near)
    return held


def _shares(edges: Edges, guesses: Array) -> Array:
    """For each guess the share of the edges whose normals meet it."""
    import numpy as np

    point, along = guesses[:, 0], guesses[:, 1]
    held = np.zeros((len(guesses), len(edges)), bool)
    guess, edge = np.nonzero(abs(along @ edges.across.T) < LEAN)
    near = abs(dot(edges.place[edge] - point[guess], edges.across[edge])) < NEAR[0]
    guess, edge = guess[near], edge[near]
    met = _misses(edges.of(edge), point[guess], along[guess]) < NEAR[0]
    held[guess[met], edge[met]] = True
    shares: Array = held @ edges.weight / edges.weight.sum()
    return shares


def _apart(guesses: Array) -> Iterator[Array]:
    """The first guesses that are not the same line as one before."""
    taken: list[Axis] = []
    for guess in guesses:
        axis = _axis(*guess)
        if not any(_same(axis, other) for other in taken):
            taken.append(axis)
            yield guess
        if len(taken) == FITTED:
            return


def _same(one: Axis, other: Axis) -> bool:
    import numpy as np

    u, v = np.array(one.unit), np.array(other.unit)
    between = np.array(one.origin) - np.array(other.origin)
    return bool(
        np.linalg.norm(np.cross(u, v)) < SAME[1]
        and np.linalg.norm(between - between @ v * v) < SAME[0]
    )


def _fitted(both: Sequence[Edges], guess: Array) -> Revolved | None:
    """The axis that the edges around a guess agree on; None when too few do."""
    import numpy as np

    point, along = guess
    for near in NEAR[1:]:
        kept = [edges.of(_misses(edges, point, along) < near) for edges in both]
        if min(map(len, kept)) < LEAST_EDGES:
            return None
        point, along = _nearer(kept, point, along)
    misses = [_misses(edges, point, along) for edges in both]
    agree = [miss < NEAR[-1] for miss in misses]
    held = [_held(e, point, along, NEAR[0]) & a for e, a in zip(both, agree, strict=True)]
    shares = [e.weight[a].sum() / e.weight.sum() for e, a in zip(both, agree, strict=True)]
    if min(shares) < LEAST_SHARE or min(h.sum() for h in held) < LEAST_EDGES:
        return None
    facets = _facets([e.of(h) for e, h in zip(both, held, strict=True)], along)
    miss = np.median(np.concatenate([m[a] for m, a in zip(misses, agree, strict=True)]))
    count = int(sum(a.sum() for a in agree))
    return Revolved(_axis(point, along), float(min(shares)), count, float(miss), facets)


def _nearer(kept: Sequence[Edges], point: Array, along: Array) -> tuple[Array, Array]:
    """The line moved and tilted so that the normals of the edges pass it more closely.

    Seen along the line, a normal misses it by a distance that shrinks by the share of the line's
    own shift that is square to that normal, at the height at which they pass: linear in the shift
    and in the tilt. Each body weighs the same.
    """
    import numpy as np

    place = np.concatenate([edges.place for edges in kept]) - point
    normal = np.concatenate([edges.normal for edges in kept])
    weight = np.sqrt(np.concatenate([edges.weight / edges.weight.sum() for edges in kept]))
    frame = np.array(Axis((0, 0, 0), tuple(along)).frame)
    place, normal = place @ frame.T, normal @ frame.T
    flat = np.linalg.norm(normal[:, :2], axis=1)
    side = np.stack([-normal[:, 1], normal[:, 0]], 1) / flat[:, None]
    miss = (side * place[:, :2]).sum(1)
    height = place[:, 2] - (place[:, :2] * normal[:, :2]).sum(1) / flat**2 * normal[:, 2]
    middle = np.average(height, weights=weight**2)
    rows = np.concatenate([side, side * (height - middle)[:, None]], 1)
    x, y, u, v = np.linalg.lstsq(rows * weight[:, None], miss * weight, rcond=1e-9)[0]
    return point + np.array([x, y, middle]) @ frame, unit(np.array([u, v, 1.0]) @ frame)


def _facets(kept: Sequence[Edges], along: Array) -> int:
    """Sides of the walls to a full turn, by how far their facets turn about the axis."""
    import numpy as np

    normals = np.concatenate([edges.normals for edges in kept], axis=1)
    flat = unit(normals - (normals @ along)[..., None] * along)
    turn = 2 * np.arcsin(np.clip(length(flat[0] - flat[1]) / 2, 0, 1))
    turn = turn[turn > np.radians(FLATTEST_TURN)]
    return round(2 * np.pi / float(np.median(turn))) if len(turn) else 0


def _axis(point: Array, along: Array) -> Axis:
    """The line as an axis that points up, or else along x, or else along y."""
    order = along[[2, 0, 1]]
    leading = order[int((abs(order) > abs(order).max() - 1e-3).argmax())]
    x, y, z = (float(value) for value in point)
    u, v, w = (float(value) for value in (along if leading > 0 else -along))
    return Axis((x, y, z), (u, v, w))
