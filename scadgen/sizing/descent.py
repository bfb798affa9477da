"""The last steps down: from hinges that serve to one that no step of a slider makes smaller.

A step moves one field, or one field against another: less of one often allows less in all once
another has a little more. All steps from all starts are looked at together, as one batch. From the
best that these lead to, steps of several fields at once are tried as well.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from scadgen.hinge.batch import batch, count
from scadgen.hinge.family import Hinge, bounds

Array = np.ndarray[Any, Any]
Columns = dict[str, Array]
#: What each hinge of a batch is to have least of; which hinges of a batch do.
Worth = Callable[[Hinge], Array]
Allowed = Callable[[Hinge], Array]

#: Steps of a slider that one move takes: large ones only save time.
LEAPS = (1, 2, 4, 8, 16)
#: Steps of a slider that a field takes in a move of several, how many such moves are drawn, and how
#: many of the best take them; of how many fields all moves by one step are among them.
ALTOGETHER, DRAWN, FINALISTS, WHOLE = (1, 1, 2, 3, 4, 6), 4_000, 4, 7
#: Less than this share of gain is rounding.
GRAIN = 1e-9


def smallest(
    cls: type[Hinge], free: Sequence[str], starts: Columns, worth: Worth, allowed: Allowed
) -> dict[str, float]:
    """Values of the hinge with the least worth to which steps of the free fields lead.

    ``starts``: allowed hinges, as columns by field, alike in all that is not free. Each goes down
    the steepest way; from where it has come to rest no single step of a free field leads to less.
    """
    state = {name: column.copy() for name, column in starts.items()}
    if free:
        state, reached = _down(cls, free, state, _few(len(free)), worth, allowed)
        best = _best(state, free, reached)
        state = {name: column[best] for name, column in state.items()}
        state, reached = _down(cls, free, state, _many(len(free)), worth, allowed)
        state = {name: column[[np.argmin(reached)]] for name, column in state.items()}
    return {name: float(column[0]) for name, column in state.items()}


def _down(
    cls: type[Hinge],
    free: Sequence[str],
    state: Columns,
    moves: Array,
    worth: Worth,
    allowed: Allowed,
) -> tuple[Columns, Array]:
    """Where each start comes to rest, and what it is worth there."""
    reached = np.array(_of(worth, batch(cls, state)))
    moving = np.arange(len(reached))
    held = {name: column[0] for name, column in state.items() if name not in free}
    while len(moving):
        now = {name: state[name][moving] for name in free}
        near = neighbours(cls, free, now, moves)
        origin = moving[near.pop("")]
        gained = _of(worth, batch(cls, held | near)) if len(origin) else np.zeros(0)
        less = np.flatnonzero(gained < reached[origin] * (1 - GRAIN))
        near, origin, gained = {n: c[less] for n, c in near.items()}, origin[less], gained[less]
        keep = np.flatnonzero(allowed(batch(cls, held | near))) if len(origin) else less
        near, origin, gained = {n: c[keep] for n, c in near.items()}, origin[keep], gained[keep]
        order = np.lexsort((gained, origin))
        moving, first = np.unique(origin[order], return_index=True)
        best = order[first]
        reached[moving] = gained[best]
        for name in free:
            state[name][moving] = near[name][best]
        moving = _apart(state, free, moving)
    return state, reached


def neighbours(
    cls: type[Hinge], free: Sequence[str], state: Mapping[str, Array], moves: Array | None = None
) -> Columns:
    """All hinges one move away that keep their fields' bounds; under "" that which each is from."""
    fields = [bounds(cls)[name] for name in free]
    moves = _few(len(free)) if moves is None else moves
    near = np.stack([state[name] for name in free])[:, :, None]
    near = near + moves.T[:, None, :] * np.array([f.step for f in fields])[:, None, None]
    near = np.round(near, 6)
    lows = np.array([limits.low for limits in fields])[:, None, None]
    highs = np.array([limits.high for limits in fields])[:, None, None]
    inside = np.flatnonzero(np.all((near >= lows) & (near <= highs), axis=0))
    origin = inside // near.shape[2]
    found = {name: column[origin] for name, column in state.items() if name not in free}
    found |= {name: column.ravel()[inside] for name, column in zip(free, near, strict=True)}
    return found | {"": origin}


@functools.cache
def _few(dimensions: int) -> Array:
    """Steps by field of every move: one field either way, or one down and another up."""
    unit = np.eye(dimensions)
    single = [way * leap * unit[k] for k in range(dimensions) for leap in LEAPS for way in (-1, 1)]
    pairs = [
        up * unit[j] - down * unit[i]
        for i in range(dimensions)
        for j in range(dimensions)
        if i != j
        for up, down in ((1, 1), (1, 2), (2, 1), (1, 4), (4, 1))
    ]
    return np.array(single + pairs)


@functools.cache
def _many(dimensions: int) -> Array:
    """Also moves of up to all fields at once: by one step, or drawn, the same every time."""
    few, chance = _few(dimensions), np.random.default_rng(1)
    size = chance.choice(ALTOGETHER, (DRAWN, dimensions))
    moved = chance.random((DRAWN, dimensions)) < chance.uniform(0.3, 1, (DRAWN, 1))
    drawn = size * moved * chance.choice((-1, 1), (DRAWN, dimensions))
    steps = np.array(list(itertools.product((-1, 0, 1), repeat=min(dimensions, WHOLE))))
    beside = np.zeros((len(steps), dimensions))
    beside[:, : steps.shape[1]] = steps
    return np.concatenate([few, beside, drawn])


def _best(state: Columns, free: Sequence[str], reached: Array) -> Array:
    """Where the best stand that are not the same."""
    order = np.argsort(reached, kind="stable")
    return _apart(state, free, order)[:FINALISTS]


def _apart(state: Columns, free: Sequence[str], places: Array) -> Array:
    """The places, less those at which there is the same as at one before."""
    values = np.stack([state[name][places] for name in free], axis=1)
    _, first = np.unique(values, axis=0, return_index=True)
    return places[np.sort(first)]


def _of(worth: Worth, hinges: Hinge) -> Array:
    return np.broadcast_to(np.asarray(worth(hinges), float), count(hinges))
