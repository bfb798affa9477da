"""Whether a body can be led out of another by any motion, without bending anything."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.motion.contact import clear
from scadgen.motion.obstacle import gives_way
from scadgen.motion.pair import Couple, turned, turns_of
from scadgen.motion.poses import APART, Tree

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import Manifold

    from scadgen.motion.axis import Axis, Vector

    Array = np.ndarray[Any, Any]

Pose = tuple[tuple[float, float, float, float], ...]

#: Between two poses of a way out that are looked at, the bearing moves by no more than this, mm,
#: and nothing by more than twice as much: one printed line, and two.
CLOSELY = 0.4
#: A body that comes so many gaps far is loose, and worth so many times the effort.
LOOSE, WORTH = 3, 3
#: Trees that are grown at most: a second for a loose body, one more for each way refused.
ATTEMPTS = 6


@dataclass(frozen=True)
class Escape:
    """What a search for a way out came to.

    free: whether it found one, and the meshes bear it out.
    path: that way, from rest on: 3 x 4 matrices that move the body from where it was given, in
        short steps; empty without one.
    towards: the shift at the end of the way, mm; where there is none, (0, 0, 0).
    tilt, turn: the largest tilt of the axis and the turn either way, degrees, of the poses on the
        way, or of all that were reached.
    shift: how far, mm, the middle of the bearing came on the way, or at all.
    tries: poses tried. reached: how many free ones the last tree told apart, ``apart`` mm or 10
        degrees of turn from each other.
    refused: ways that the search believed in and the meshes did not.
    """

    free: bool
    path: tuple[Pose, ...]
    towards: Vector
    tilt: float
    turn: tuple[float, float]
    shift: float
    tries: int
    reached: int
    refused: int
    apart: float = APART


def escape(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    *,
    effort: int = 800,
    most: int = 6_000,
    limit: float = 10.0,
    seed: int = 1,
    couple: Couple | None = None,
) -> Escape:
    """Look for a way to lead `moving` out of `fixed` by shift, tilt and turn together.

    A tree of free poses is grown at random from the pose given, in steps of 0.4 mm or 10 degrees
    at most; a step that digs in is corrected by what pushes back. The search knows the bodies by
    distances from their skins, good to about 0.05 mm; a way that it finds counts only if the
    meshes leave nothing as thick as a graze in it. Finding none is no proof that there is none: it
    says what this effort reached. The same bodies give the same search wherever they stand.

    effort: poses tried, at least; where the middle of the bearing comes three gaps far, or the
        meshes refused a way, three times as many after it last came farther. most: poses tried in
        one tree, at most.
    limit: way, mm, of every place in the bearing that counts as free. couple: the bodies made ready
        by another search, to save time.

    Raises ValueError when the bodies overlap already.
    """
    couple = _ready(fixed, moving, axis, couple)
    tries = refused = 0
    for attempt in range(ATTEMPTS):
        tree = Tree(couple, limit, seed + attempt)
        out = None
        while out is None and tree.tries < min(most, _enough(tree, effort, refused)):
            out = tree.grow()
        tries += tree.tries
        if out is None:
            if attempt > refused or not _promising(tree, refused):
                break
            continue
        way = _shortened(couple, tree, tree.path(out))
        poses = [*_between(couple, tree, way)]
        blocked = _blocked(fixed, moving, couple, poses)
        if blocked is None:
            path = tuple(_plain(couple.world(*pose)) for pose in poses)
            return _result(couple, tree, way, path, tries, refused)
        refused += 1
        if refused == 1:  # what is in the way may lie beyond what was watched
            couple = Couple(fixed, moving, axis, whole=True)
        couple.watch(*blocked)
    return _result(couple, tree, range(len(tree.parents)), (), tries, refused)


def _ready(fixed: Manifold, moving: Manifold, axis: Axis, couple: Couple | None) -> Couple:
    if not (clear(fixed, moving) or gives_way(fixed ^ moving, axis.frame)):
        raise ValueError("escape: the bodies overlap; start from a pose where they are apart.")
    return couple or Couple(fixed, moving, axis)


def _promising(tree: Tree, refused: int) -> bool:
    """Whether a body moves so freely that more effort may pay."""
    far = float(np.linalg.norm(tree.shifts, axis=1).max())
    return refused > 0 or far > LOOSE * tree.gap


def _enough(tree: Tree, effort: int, refused: int) -> int:
    """How many poses are to be tried, as far as the tree has come."""
    return tree.last_gain + WORTH * effort if _promising(tree, refused) else effort


def _result(
    couple: Couple,
    tree: Tree,
    which: list[int] | range,
    path: tuple[Pose, ...],
    tries: int,
    refused: int,
) -> Escape:
    turns, shifts = tree.turns[which], tree.shifts[which]
    spin = np.degrees(np.arctan2(turns[:, 1, 0] - turns[:, 0, 1], turns[:, 0, 0] + turns[:, 1, 1]))
    end = shifts[-1] @ couple.frame if path else np.zeros(3)
    return Escape(
        free=bool(path),
        path=path,
        towards=(float(end[0]), float(end[1]), float(end[2])),
        tilt=float(np.degrees(np.arccos(np.clip(turns[:, 2, 2], -1, 1))).max()),
        turn=(float(spin.min()), float(spin.max())),
        shift=float(np.linalg.norm(shifts, axis=1).max()),
        tries=tries,
        reached=len(tree.parents),
        refused=refused,
    )


def _shortened(couple: Couple, tree: Tree, way: list[int]) -> list[int]:
    """The way with detours left out where the straight motion between two of its poses is free."""
    kept = [way[0]]
    while kept[-1] != way[-1]:
        here = way.index(kept[-1])
        ahead = len(way) - 1
        while ahead > here + 1 and not _straight(couple, tree, way[here], way[ahead]):
            ahead = here + (ahead - here) // 2
        kept.append(way[ahead])
    return kept


def _straight(couple: Couple, tree: Tree, start: int, stop: int) -> bool:
    steps = list(_steps(couple, tree, start, stop))
    turns, shifts = (np.array(list(part)) for part in zip(*steps, strict=True))
    return bool(couple.free(turns, shifts).all())


def _between(couple: Couple, tree: Tree, way: list[int]) -> Iterator[tuple[Array, Array]]:
    """The poses along a way, close enough together that nothing is jumped over."""
    yield tree.turns[way[0]], tree.shifts[way[0]]
    for start, stop in pairwise(way):
        yield from _steps(couple, tree, start, stop)


def _steps(couple: Couple, tree: Tree, start: int, stop: int) -> Iterator[tuple[Array, Array]]:
    """The straight motion from one pose to another, the first pose left out."""
    spin = turns_of((tree.turns[stop] @ tree.turns[start].T)[None])
    slide = tree.shifts[stop] - tree.shifts[start]
    way, angle = float(np.linalg.norm(slide)), float(np.linalg.norm(spin))
    reach = float(np.linalg.norm(couple.hull, axis=0).max())
    far = max(way + angle * couple.lever, (way + angle * reach) / 2)
    count = max(1, math.ceil(far / CLOSELY))
    for k in range(1, count + 1):
        part = turned(spin * k / count)[0] @ tree.turns[start]
        yield part, tree.shifts[start] + slide * k / count


def _blocked(
    fixed: Manifold, moving: Manifold, couple: Couple, poses: list[tuple[Array, Array]]
) -> tuple[Array, Array, Array] | None:
    """Places that both bodies share in the first pose with something in the way, and the pose."""
    for turn, shift in poses:
        moved = moving.transform(couple.world(turn, shift))
        if clear(fixed, moved):
            continue
        shared = fixed ^ moved
        if not gives_way(shared, couple.frame.tolist()):
            places = shared.to_mesh64().vert_properties[:, :3]
            return couple.local(places), turn, shift
    return None


def _plain(matrix: Array) -> Pose:
    return tuple((float(a), float(b), float(c), float(d)) for a, b, c, d in matrix)
