"""A tree of free poses, grown from rest by steps that shift, tilt and turn at once."""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.motion.contact import GRAZE
from scadgen.motion.pair import least, turned

if TYPE_CHECKING:
    from scadgen.motion.pair import Couple

    Array = np.ndarray[Any, Any]

#: The longest step by shift or tilt, mm at the ends of the bearing, and by a turn, degrees.
STEP, TURN = 0.4, 10.0
#: Poses tried at a time.
BATCH = 48
#: How many of them aim at a random place, up to so many times as far as any that was reached.
AIMED, BEYOND = 16, 1.5
#: A pose counts as new where the ends of the bearing, mm, or the turn, a whole TURN, are new.
APART = 0.2
#: Corrections of a pose that digs in, before it is given up.
PUSHES = 2
#: Which of tilt (2), turn (1) and shift (3) a step mixes.
MIXES = np.array([[*"111111"], [*"000111"], [*"110000"], [*"001000"], [*"110111"]], dtype=float)
#: Share of steps that go one way only: along or about one of the axes.
PLAIN = 0.3


class Tree:
    """Free poses (turns, shifts), each with the one it was reached from; the first is rest."""

    def __init__(self, couple: Couple, limit: float, seed: int) -> None:
        self.couple, self.limit = couple, limit
        self.random = np.random.default_rng(seed)
        self.turns, self.shifts = np.eye(3)[None], np.zeros((1, 3))
        self.parents = np.array([-1])
        self.moves = np.zeros((1, 6))
        self.uses, self.away = np.zeros(1), np.zeros(1)
        self.gap = float(couple.depth(self.turns, self.shifts)[0])
        self.marks = _lattice(couple)
        self.ends = np.array([(0, 0, -couple.lever), (0, 0, couple.lever)]).T
        self.scale = np.array([1 / couple.lever] * 2 + [math.radians(TURN) / STEP] + [1.0] * 3)
        self.places = self._places(self.turns, self.shifts)
        self.cells = {(0,) * 7}
        self.span = np.zeros(14)
        self.tries = self.last_gain = 0
        for way in (1, -1):
            self._swing(way)
        count = len(self.parents)
        ways = np.vstack([np.eye(6)[3:], -np.eye(6)[3:]])
        #: The first steps: at each turn along the axis and square to it, both ways.
        self.first = np.repeat(np.arange(count), 6), np.tile(ways, (count, 1))

    def grow(self) -> int | None:
        """Try one batch of steps; the pose that is out, if one is."""
        picked, moves = (part[:BATCH] for part in self.first)
        self.first = self.first[0][BATCH:], self.first[1][BATCH:]
        if not len(picked):
            picked, moves = self._aimed()
            others = self._picked(BATCH - len(picked))
            picked = np.concatenate([picked, others])
            moves = np.vstack([moves, self._moves(others)])
        self.uses += np.bincount(picked, minlength=len(self.uses))
        length = STEP * self.random.uniform(0.25, 1, len(picked))
        small = moves * length[:, None] * self.scale
        turns, shifts = _moved(self.turns[picked], self.shifts[picked], small[:, :3], small[:, 3:])
        found = self.couple.distances(turns, shifts)
        free = least(found) > -GRAZE
        self.tries += len(picked)
        stuck, tight = np.flatnonzero(~free), ~free
        for _ in range(PUSHES):
            if len(stuck):
                turn, shift, found = turns[stuck], shifts[stuck], (found[0][tight], found[1][tight])
                turns[stuck], shifts[stuck] = _moved(
                    turn, shift, *self.couple.push(turn, shift, found)
                )
                found = self.couple.distances(turns[stuck], shifts[stuck])
                tight = least(found) <= -GRAZE
                free[stuck] = ~tight
                self.tries += len(stuck)
                stuck = stuck[tight]
        return self._added(picked, moves, turns, shifts, free)

    def path(self, pose: int) -> list[int]:
        """The poses from rest to this one."""
        way = [pose]
        while self.parents[way[-1]] >= 0:
            way.append(int(self.parents[way[-1]]))
        return way[::-1]

    def _swing(self, way: int) -> None:
        """Start with the poses that a turn about the axis alone reaches, one way."""
        count = round(180 / TURN)
        spins = np.zeros((count, 3))
        spins[:, 2] = np.radians(TURN) * way * np.arange(1, count + 1)
        turns, shifts = turned(spins), np.zeros((count, 3))
        self.tries += count
        free = np.cumprod(self.couple.free(turns, shifts)).astype(bool)
        moves = np.tile([0.0, 0, way, 0, 0, 0], (count, 1))
        first = len(self.parents)
        self._added(np.zeros(count, dtype=np.int64), moves, turns, shifts, free)
        self.parents[first + 1 :] = np.arange(first, len(self.parents) - 1)

    def _aimed(self) -> tuple[Array, Array]:
        """Towards random places, a little beyond those reached: the nearest poses, and the ways."""
        wide = self.span[None] * BEYOND + 1
        aims = self.random.uniform(-wide[:, 7:], wide[:, :7], (AIMED, 7))
        gone = aims[:, None] - self.places
        nearest = (gone * gone).sum(2).argmin(1)
        gone = gone[np.arange(AIMED), nearest] * APART
        below, above = gone[:, :6].reshape(-1, 3, 2).transpose(2, 0, 1)
        lean, slide = (above - below) / 2, (above + below) / 2
        moves = np.column_stack([-lean[:, 1], lean[:, 0], gone[:, 6], slide])
        return nearest, moves / np.linalg.norm(moves, axis=1, keepdims=True)

    def _picked(self, count: int) -> Array:
        """Half of them where the tree was least used, half where it has come farthest."""
        noise = self.random.random(len(self.uses)) * 1e-3
        least = np.argsort(self.uses + noise)[: count // 2]
        far = np.argsort(noise - self.away / (1 + self.uses / 4))[: count // 2]
        rest = self.random.integers(0, len(self.uses), count - len(least) - len(far))
        return np.concatenate([least, far, rest])

    def _moves(self, picked: Array) -> Array:
        """A way to go from each pose: on as it was reached if it is fresh, any way otherwise."""
        moves = self.random.normal(size=(len(picked), 6))
        moves *= MIXES[self.random.integers(0, len(MIXES), len(picked))]
        most = np.abs(moves).argmax(1)
        plain = (self.random.random(len(picked)) < PLAIN)[:, None] & (most[:, None] != range(6))
        moves[plain] = 0
        moves /= np.linalg.norm(moves, axis=1, keepdims=True)
        fresh = (self.uses[picked] == 0) & (picked > 0)
        moves[fresh] = self.moves[picked[fresh]]
        return moves

    def _added(
        self, picked: Array, moves: Array, turns: Array, shifts: Array, free: Array
    ) -> int | None:
        """Take in the free poses that are new; the pose that is out, if one is."""
        places = self._places(turns, shifts)
        keys = list(map(tuple, np.round(places).astype(int).tolist()))
        new = []
        for k in np.flatnonzero(free):
            if keys[k] not in self.cells:
                self.cells.add(keys[k])
                new.append(k)
        if not new:
            return None
        before = len(self.parents)
        turns, shifts = turns[new], shifts[new]
        away = self._away(turns, shifts)
        self.turns = np.concatenate([self.turns, turns])
        self.shifts = np.concatenate([self.shifts, shifts])
        self.parents = np.concatenate([self.parents, picked[new]])
        self.moves = np.concatenate([self.moves, moves[new]])
        self.uses = np.concatenate([self.uses, np.zeros(len(new))])
        self.away = np.concatenate([self.away, away])
        self.places = np.vstack([self.places, places[new]])
        self._widen(places[new])
        out = np.flatnonzero((away >= self.limit) | self.couple.parted(turns, shifts))
        return before + int(out[0]) if len(out) else None

    def _widen(self, places: Array) -> None:
        """Note when the tree has come farther than ever, by half a place."""
        reached = np.hstack([places, -places]).max(0)
        if (reached > self.span + 0.5).any():
            self.span = np.maximum(self.span, reached)
            self.last_gain = self.tries

    def _places(self, turns: Array, shifts: Array) -> Array:
        """Where the ends of the bearing are, in steps of APART, and the turn, in steps of TURN."""
        where = (turns @ self.ends + shifts[:, :, None] - self.ends).reshape(len(turns), -1)
        turn = np.arctan2(turns[:, 1, 0] - turns[:, 0, 1], turns[:, 0, 0] + turns[:, 1, 1])
        return np.column_stack([where / APART, np.degrees(turn) / TURN])

    def _away(self, turns: Array, shifts: Array) -> Array:
        """The least way, mm, that any place of the bearing has gone."""
        gone = turns @ self.marks + shifts[:, :, None] - self.marks
        least: Array = np.linalg.norm(gone, axis=1).min(1)
        return least


def _lattice(couple: Couple) -> Array:
    """Places all over the bearing, (3, n)."""
    spots = np.linspace(couple.low, couple.high, 3).T
    return np.array([*product(*spots), (0, 0, 0)]).T


def _moved(turns: Array, shifts: Array, spin: Array, slide: Array) -> tuple[Array, Array]:
    small = turned(spin)
    return small @ turns, np.einsum("nij,nj->ni", small, shifts) + slide
