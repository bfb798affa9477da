"""A tiny reader of OpenSCAD expressions, written from its language manual and nothing else.

It shares no table with the emitter, so that the two can disagree.
"""

from __future__ import annotations

import math
import re
from typing import Any

Tree = Any  # a float, a name, or (operator or function, operands...)

_LEVELS = (("||",), ("&&",), ("==", "!="), ("<", "<=", ">", ">="), ("+", "-"), ("*", "/", "%"))
_TOKEN = re.compile(r"\s*(\d+\.?\d*(?:e[+-]?\d+)?|\w+|&&|\|\||[<>=!]=|.)", re.ASCII)


def parse(source: str) -> Tree:
    """The tree that OpenSCAD makes of ``source``; ValueError where it would not read it."""
    tokens = [*_TOKEN.findall(source), ""]
    tree = _choice(tokens)
    if tokens != [""]:
        raise ValueError(f"left over in {source!r}: {tokens}")
    return tree


def _choice(tokens: list[str]) -> Tree:
    cond = _binary(tokens, 0)
    if tokens[0] != "?":
        return cond
    tokens.pop(0)
    yes = _choice(tokens)
    _expect(tokens, ":")
    return ("?:", cond, yes, _choice(tokens))


def _binary(tokens: list[str], level: int) -> Tree:
    if level == len(_LEVELS):
        return _unary(tokens)
    left = _binary(tokens, level + 1)
    while tokens[0] in _LEVELS[level]:
        left = (tokens.pop(0), left, _binary(tokens, level + 1))
    return left


def _unary(tokens: list[str]) -> Tree:
    token = tokens.pop(0)
    if token == "-":
        return ("neg", _unary(tokens))
    if token == "(":
        inner = _choice(tokens)
        _expect(tokens, ")")
        return inner
    if token[:1].isdigit():
        return float(token)
    if not token.isidentifier():
        raise ValueError(f"no operand: {token!r}")
    return (token, *_arguments(tokens)) if tokens[0] == "(" else token


def _arguments(tokens: list[str]) -> list[Tree]:
    tokens.pop(0)
    found = [_choice(tokens)]
    while tokens[0] == ",":
        tokens.pop(0)
        found.append(_choice(tokens))
    _expect(tokens, ")")
    return found


def _expect(tokens: list[str], wanted: str) -> None:
    if tokens[0] != wanted:
        raise ValueError(f"wanted {wanted!r}, got {tokens[0]!r}")
    tokens.pop(0)


def evaluate(tree: Tree, names: dict[str, float]) -> Any:
    """The value of a tree; a remainder has the sign of the dividend, x / 0 is not expected."""
    match tree:
        case float():
            return tree
        case str():
            return names[tree]
        case ("?:", cond, yes, no):
            return evaluate(yes if evaluate(cond, names) else no, names)
        case (operator, *operands):
            return _OPERATIONS[operator](*(evaluate(o, names) for o in operands))
    raise TypeError(tree)


_OPERATIONS: dict[str, Any] = {
    "||": lambda a, b: a or b,
    "&&": lambda a, b: a and b,
    "==": lambda a, b: a == b,
    "!=": lambda a, b: a != b,
    "<": lambda a, b: a < b,
    "<=": lambda a, b: a <= b,
    ">": lambda a, b: a > b,
    ">=": lambda a, b: a >= b,
    "+": lambda a, b: a + b,
    "-": lambda a, b: a - b,
    "*": lambda a, b: a * b,
    "/": lambda a, b: a / b,
    "%": math.fmod,
    "neg": lambda a: -a,
    "abs": abs,
    "min": min,
    "max": max,
    "floor": math.floor,
    "ceil": math.ceil,
}
