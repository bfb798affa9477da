"""A certificate as a file, for anyone to check: see :mod:`scadgen.caging.checker`."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    from scadgen.caging.certificate import Certificate
    from scadgen.caging.cover import Node

#: Names of the faces of a region, in the order of its cells.
FACES = ("aside", "below", "above", "tilt")


def document(cage: Certificate, name: str) -> dict[str, Any]:
    """What the file of a certificate holds, as plain data; ``name``: of what it is."""
    nodes, seen = cage.cover.nodes, cage.witnesses
    used = sorted({node.place for node in nodes if node.place >= 0})
    number = {place: k for k, place in enumerate(used)}
    told = {
        "of": name,
        "fixed": [outline.tolist() for outline in seen.pair.fixed.outlines],
        "moving": [outline.tolist() for outline in seen.pair.moving.outlines],
        "centre": seen.pair.centre,
        "region": asdict(cage.region),
        "depth": cage.depth,
        "places": seen.places[used].astype(float).tolist(),
        "faces": {face: [*_told(nodes, k, number)] for k, face in enumerate(FACES)},
    }
    return told | {"seal": hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()}


def _told(nodes: tuple[Node, ...], first: int, number: dict[int, int]) -> Iterator[int]:
    """A face's cells: halved along a dimension, -1 to -4, both halves following; or its place."""
    waiting = [first]
    while waiting:
        node = nodes[waiting.pop()]
        if node.place >= 0:
            yield number[node.place]
        else:
            yield -1 - node.dimension
            waiting.extend(reversed(node.halves))
