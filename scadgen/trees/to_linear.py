"""The linear reading: expressions as linear forms over boxes, tighter than intervals alone."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping

import numpy as np

from scadgen.trees import intervals as of
from scadgen.trees import linear
from scadgen.trees.expr import Call, Expr, Let, Num, Op, Sym, Where, as_expr, children, free
from scadgen.trees.intervals import Interval
from scadgen.trees.linear import Form, Key
from scadgen.trees.to_intervals import FUNCTIONS, Intervals

_DEGREE = Interval(np.nextafter(np.pi / 180, 0), np.nextafter(np.pi / 180, 1))
_RADIAN = of.divide(of.point(1), _DEGREE)


#: The slopes of a function over an interval, per degree or in degrees.
SLOPES: dict[str, Callable[[Interval], Interval]] = {
    "sin": lambda x: of.multiply(_DEGREE, of.cosine(x)),
    "cos": lambda x: of.negative(of.multiply(_DEGREE, of.sine(x))),
    "tan": lambda x: of.multiply(_DEGREE, of.add(of.point(1), of.square(of.tangent(x)))),
    "asin": lambda x: of.divide(_RADIAN, of.root(of.subtract(of.point(1), of.square(x)))),
    "acos": lambda x: of.negative(SLOPES["asin"](x)),
    "atan": lambda x: of.divide(_RADIAN, of.add(of.point(1), of.square(x))),
}

_keys: dict[tuple[object, ...], int] = {}
_symbols: dict[int, frozenset[str]] = {}


@functools.cache
def structure(node: Expr) -> int:
    """A number that is the same for nodes that say the same.

    Products and quotients of the same factors do, whatever their order: what rounding makes
    different in them is less than what forms leave for it.
    """
    match node:
        case Let(value=value):
            return structure(value)
        case Num(value=value) | Sym(name=value):
            told: tuple[object, ...] = (type(node), value)
        case Op(op="*" | "/"):
            above, under = _factors(node)
            told = ("product", tuple(sorted(above)), tuple(sorted(under)))
        case Op(op=name) | Call(name=name):
            told = (type(node), name, *map(structure, children(node)))
        case _:
            told = (type(node), *(map(structure, children(node)) if children(node) else (node,)))
    number = _keys.setdefault(told, len(_keys))
    _symbols[number] = free(node)
    return number


def _factors(node: Expr) -> tuple[list[int], list[int]]:
    """What a product has above and below its line."""
    match node:
        case Let(value=value):
            return _factors(value)
        case Op(op="*" | "/" as op, args=(left, right)):
            (above, under), (more, less) = _factors(left), _factors(right)
            return (above + more, under + less) if op == "*" else (above + less, under + more)
    return [structure(node)], []


def symbols_of(key: Key) -> frozenset[str]:
    """The symbols on which a deviation of a form depends."""
    match key:
        case str():
            return frozenset({key})
        case int():
            return _symbols[key]
        case (_, int() as number, *_):
            return _symbols[number]
    raise TypeError(f"no deviation: {key!r}")


class Linear(Intervals):
    """Forms of expressions where each symbol stands for a range; also their bounds and truths."""

    def __init__(self, symbols: Mapping[str, Interval]) -> None:
        super().__init__(symbols)
        self._forms: dict[int, Form] = {}

    def form(self, node: Expr | float) -> Form:
        """The form of ``node``. Raises KeyError for a symbol without a range."""
        with np.errstate(all="ignore"):
            return self._form(as_expr(node))

    def _worked_out(self, node: Expr) -> Interval:
        return self._form(node).bounds

    def _form(self, node: Expr) -> Form:
        key = structure(node)
        if key not in self._forms:
            self._forms[key] = self._made(node, key)
        return self._forms[key]

    def _made(self, node: Expr, key: int) -> Form:
        match node:
            case Let(value=value):
                return self._form(value)
            case Sym(name=name) if name != "PI":
                return linear.symbol(name, self.symbols[name])
            case Op(op=op, args=args):
                forms = [self._form(arg) for arg in args]
                return _operated(op, key, forms[0], forms[-1], super()._worked_out(node))
            case Call(name=name, args=args):
                return self._called(name, key, *map(self._form, args))
            case Where(cond=cond, yes=yes, no=no):
                bounds = super()._worked_out(node)
                return linear.chosen(
                    key, self._truth(cond), self._form(yes), self._form(no), bounds
                )
        bounds = super()._worked_out(node)
        return (
            linear.constant(bounds) if isinstance(node, (Num, Sym)) else linear.symbol(key, bounds)
        )

    def _called(self, name: str, key: int, *args: Form) -> Form:
        first = args[0]
        match name:
            case "sqrt":
                return linear.rooted(key, first)
            case "abs":
                twice = linear.positive(key, first), np.asarray(2.0)
                return linear.mixed(*twice, first, linear.MINUS, of.absolute(first.bounds))
            case "max" | "min":
                return _extreme(name, key, *args)
            case "floor" | "ceil":
                left = of.hull(of.point(0), of.point(-1 if name == "floor" else 1))
                return linear.straight(key, first, linear.ONE, left, FUNCTIONS[name](first.bounds))
        return linear.bent(key, first, FUNCTIONS[name], SLOPES[name](first.bounds))


def _operated(op: str, key: int, a: Form, b: Form, bounds: Interval) -> Form:
    match op:
        case "+":
            return linear.added(a, b, bounds)
        case "-":
            return linear.subtracted(a, b, bounds)
        case "neg":
            return linear.negated(a, bounds)
        case "*":
            return linear.multiplied(key, a, b, bounds)
        case "/":
            return linear.multiplied(key, a, linear.inverted(("over", key), b), bounds)
    return linear.symbol(key, bounds)


def _extreme(name: str, key: int, *args: Form) -> Form:
    """max(a, b) = b + max(a - b, 0), min(a, b) = b - max(b - a, 0); of more, in turn."""
    found, sign = args[0], linear.ONE if name == "max" else linear.MINUS
    for place, other in enumerate(args[1:]):
        apart = linear.mixed(found, sign, other, -sign)
        over = linear.positive((name, key, place), apart)
        bounds = FUNCTIONS[name](found.bounds, other.bounds)
        found = linear.mixed(other, linear.ONE, over, sign, bounds)
    return found
