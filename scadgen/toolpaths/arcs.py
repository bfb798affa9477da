"""Arcs (G2, G3) as short straight lines."""

from __future__ import annotations

import math
from collections.abc import Mapping

#: Farthest that a straight line may leave its arc, mm.
SAG = 0.002
#: Most lines of one arc.
MOST = 720


def chords(
    start: tuple[float, float],
    end: tuple[float, float],
    words: Mapping[str, float],
    clockwise: bool,
) -> list[tuple[float, float]]:
    """Points along an arc after its start, its end being the last.

    words: I and J, from the start to the centre, or R, its radius; mm. An end that is the start is
    a whole turn. Raises ValueError where there is no such arc.
    """
    x, y = _centre(start, end, words, clockwise)
    radius = math.hypot(start[0] - x, start[1] - y)
    if radius == 0:
        raise ValueError("an arc without a radius")
    first = math.atan2(start[1] - y, start[0] - x)
    turn = math.atan2(end[1] - y, end[0] - x) - first
    turn = turn % (2 * math.pi) or 2 * math.pi
    if clockwise:
        turn = turn - 2 * math.pi or -2 * math.pi
    step = 2 * math.acos(max(0.0, 1 - SAG / radius)) if radius > SAG else math.pi / 2
    count = min(MOST, max(1, math.ceil(abs(turn) / step)))
    angles = (first + turn * k / count for k in range(1, count))
    return [*((x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles), end]


def _centre(
    start: tuple[float, float],
    end: tuple[float, float],
    words: Mapping[str, float],
    clockwise: bool,
) -> tuple[float, float]:
    if "R" not in words:
        if "I" not in words and "J" not in words:
            raise ValueError("an arc with neither centre nor radius")
        return start[0] + words.get("I", 0.0), start[1] + words.get("J", 0.0)
    radius, along = words["R"], (end[0] - start[0], end[1] - start[1])
    chord = math.hypot(*along)
    if chord == 0 or chord > 2 * abs(radius) * (1 + 1e-6):
        raise ValueError("an arc whose ends its radius does not reach")
    rise = math.sqrt(max(0.0, radius * radius - chord * chord / 4))
    side = rise / chord * (1 if clockwise == (radius < 0) else -1)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    return middle[0] - along[1] * side, middle[1] + along[0] * side
