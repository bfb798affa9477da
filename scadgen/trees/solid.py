"""Shape trees: outlines (2D) and solids (3D) whose measures are expressions.

Like :mod:`scadgen.trees.expr`, this module knows nothing of hinges. Lengths are in millimetres and
angles in degrees. Every circle and every turned outline has as many sides per full turn as the
parameter named ``facets`` says, so that all readings agree on the last corner.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, ParamSpec, cast

from scadgen.trees.expr import Expr, Sym, as_expr, free

Point = tuple[float, float]
P = ParamSpec("P")


class Shape:
    """A node of the tree; ``dim`` is 2 for an outline and 3 for a solid."""

    @property
    def dim(self) -> int:
        raise NotImplementedError

    def __add__(self, other: Shape) -> Shape:
        return Combined("union", _same_dim(self, other))

    def __sub__(self, other: Shape) -> Shape:
        return Combined("difference", _same_dim(self, other))

    def __and__(self, other: Shape) -> Shape:
        return Combined("intersection", _same_dim(self, other))

    def at(self, x: float = 0, y: float = 0, z: float = 0) -> Shape:
        """Move by (x, y, z); an outline has no z."""
        by = _vector(self.dim, x, y, z)
        if isinstance(self, Moved) and self.op == "translate":
            by = tuple(a + b for a, b in zip(by, self.by, strict=True))
            return Moved("translate", by, self.child)
        return Moved("translate", by, self)

    def turned(self, x: float = 0, y: float = 0, z: float = 0) -> Shape:
        """Turn about the x axis, then y, then z (degrees); an outline turns about z only."""
        if self.dim == 2:
            return Moved("rotate", (as_expr(z),), self)
        return Moved("rotate", _vector(3, x, y, z), self)

    def mirrored(self, x: float = 0, y: float = 0, z: float = 0) -> Shape:
        """Mirror in the plane through the origin square to (x, y, z)."""
        return Moved("mirror", _vector(self.dim, x, y, z), self)

    def because(self, why: str) -> Shape:
        """Attach the reason that the emitted text gives in a comment above the shape."""
        return Noted(why, self)


@dataclass(frozen=True, eq=False)
class Polygon(Shape):
    """A closed outline through ``points``; a Repeated entry stands for a run of points."""

    points: tuple[tuple[Expr, ...] | Repeated, ...]
    dim = 2


@dataclass(frozen=True, eq=False)
class Circle(Shape):
    """A regular polygon with ``facets`` corners at ``radius`` around the origin."""

    radius: Expr
    dim = 2


@dataclass(frozen=True, eq=False)
class Square(Shape):
    """A rectangle from the origin to ``size``."""

    size: tuple[Expr, ...]
    dim = 2


@dataclass(frozen=True, eq=False)
class Extruded(Shape):
    """``outline`` raised from z = 0 to ``height``, or half of it to each side if centered."""

    outline: Shape
    height: Expr
    centered: bool
    dim = 3


@dataclass(frozen=True, eq=False)
class Revolved(Shape):
    """``outline`` (x >= 0 only) turned about the z axis, its y becoming z."""

    outline: Shape
    dim = 3


@dataclass(frozen=True, eq=False)
class Combined(Shape):
    """Union, difference, intersection or hull of the parts."""

    op: str
    parts: tuple[Shape, ...]

    @property
    def dim(self) -> int:
        return self.parts[0].dim


@dataclass(frozen=True, eq=False)
class Moved(Shape):
    """``child`` after the rigid motion ``op``."""

    op: str
    by: tuple[Expr, ...]
    child: Shape

    @property
    def dim(self) -> int:
        return self.child.dim


@dataclass(frozen=True, eq=False)
class Repeated(Shape):
    """The union of ``child`` for ``index`` = 0 .. count - 1 (in a Polygon: its points)."""

    index: str
    count: Expr
    child: Shape | tuple[Expr, ...]

    @property
    def dim(self) -> int:
        return self.child.dim if isinstance(self.child, Shape) else 0


@dataclass(frozen=True, eq=False)
class Chosen(Shape):
    """``yes`` where ``cond`` holds, else ``no`` (nothing when None)."""

    cond: Expr
    yes: Shape
    no: Shape | None

    @property
    def dim(self) -> int:
        return self.yes.dim


@dataclass(frozen=True, eq=False)
class Noted(Shape):
    """``child`` with a comment that says why."""

    note: str
    child: Shape

    @property
    def dim(self) -> int:
        return self.child.dim


@dataclass(frozen=True, eq=False)
class Module:
    """A named shape with parameters; ``note`` is the sentence that describes it."""

    name: str
    note: str
    params: tuple[str, ...]
    body: Shape


@dataclass(frozen=True, eq=False)
class Child(Shape):
    """Inside a module's body: the shape that the module is applied to."""

    dim: int = 3


@dataclass(frozen=True, eq=False)
class Drawn(Shape):
    """The module's shape with ``args`` for its parameters, applied to ``child`` if it takes one.

    A module that only moves outlines moves a solid in the same way, beside or about the z axis.
    """

    module: Module
    args: tuple[Expr, ...]
    child: Shape | None

    @property
    def dim(self) -> int:
        return _dim(self.module.body, self.child)


def _dim(body: Shape, child: Shape | None) -> int:
    """The ``dim`` of a module's body: that of the child where all it does is to move it."""
    match body:
        case Child() if child is not None:
            return child.dim
        case Moved(child=moved) | Noted(child=moved):
            return _dim(moved, child)
        case Drawn(module=module, child=Shape() as given):
            inner = given if child is None else Child(_dim(given, child))
            return _dim(module.body, inner)
    return body.dim


def polygon(*points: Point | Shape) -> Shape:
    """Outline through the points, in order; ``each`` gives a run of them."""
    return Polygon(tuple(p if isinstance(p, Repeated) else _point(cast(Point, p)) for p in points))


def circle(radius: float) -> Shape:
    """Circle around the origin."""
    return Circle(as_expr(radius))


def rectangle(width: float, height: float) -> Shape:
    """Rectangle from the origin to (width, height)."""
    return Square((as_expr(width), as_expr(height)))


def extrude(outline: Shape, height: float, *, centered: bool = False) -> Shape:
    """Raise an outline from z = 0 to ``height``, or half of it to each side if ``centered``."""
    return Extruded(_of_dim(2, outline), as_expr(height), centered)


def revolve(outline: Shape) -> Shape:
    """Turn an outline (x >= 0) about the z axis; its y becomes z."""
    return Revolved(_of_dim(2, outline))


def hull(*parts: Shape) -> Shape:
    """Smallest convex shape around the parts."""
    return Combined("hull", _same_dim(*parts))


def union(*parts: Shape) -> Shape:
    """All the parts together."""
    return Combined("union", _same_dim(*parts)) if len(parts) > 1 else parts[0]


def each(index: str, count: float, body: Callable[[float], Shape | Point]) -> Shape:
    """Repeat ``body(i)`` for i = 0 .. count - 1 (``count`` at least 1).

    A body that gives a point makes a run of points for :func:`polygon`.
    """
    child = body(cast(float, Sym(index)))
    return Repeated(index, as_expr(count), child if isinstance(child, Shape) else _point(child))


def choose(cond: bool, yes: Shape, no: Shape | None = None) -> Shape:
    """``yes`` where the comparison ``cond`` holds, else ``no`` or nothing."""
    return Chosen(as_expr(cond), yes, no)


def part(function: Callable[P, Shape]) -> Callable[P, Shape]:
    """Give the shape that ``function`` draws a name: a module in the emitted text.

    Works on functions and on methods. The numbers among the parameters become the module's; a
    shape among them becomes the child that the module is applied to. The first sentence of the
    docstring is the comment. The body is drawn once, on symbols of the same names.
    """
    signature = inspect.signature(function)
    drawn: dict[str, Module] = {}

    @functools.wraps(function)
    def use(*args: P.args, **kwargs: P.kwargs) -> Shape:
        given = signature.bind(*args, **kwargs).arguments
        owner = given.get("self")
        child = next((value for value in given.values() if isinstance(value, Shape)), None)
        numbers = {n: v for n, v in given.items() if v is not owner and v is not child}
        modules = drawn if owner is None else vars(owner).setdefault("_modules", {})
        if function.__name__ not in modules:
            inside = {n: _placeholder(n, v) for n, v in given.items() if v is not owner}
            body = cast(Any, function)(**({"self": owner} if owner else {}), **inside)
            note = inspect.cleandoc(function.__doc__ or "").split("\n\n")[0]
            modules[function.__name__] = Module(function.__name__, note, tuple(numbers), body)
        return Drawn(modules[function.__name__], tuple(map(as_expr, numbers.values())), child)

    return use


def _placeholder(name: str, value: object) -> object:
    return Child(value.dim) if isinstance(value, Shape) else Sym(name)


def below(node: Shape) -> tuple[Shape, ...]:
    """The shapes directly below ``node``, a used module's body among them."""
    match node:
        case Extruded(outline=child) | Revolved(outline=child):
            return (child,)
        case Moved(child=child) | Noted(child=child):
            return (child,)
        case Combined(op=_, parts=parts):
            return parts
        case Polygon(points=points):
            return tuple(p for p in points if isinstance(p, Repeated))
        case Repeated(child=Shape() as child):
            return (child,)
        case Chosen(yes=yes, no=no):
            return (yes, no) if no else (yes,)
        case Drawn(module=module, child=child):
            return (module.body, child) if child else (module.body,)
    return ()


def measures(node: Shape) -> tuple[Expr, ...]:
    """The expressions that ``node`` itself holds."""
    match node:
        case Extruded(height=only) | Circle(radius=only) | Chosen(cond=only):
            return (only,)
        case Square(size=several) | Moved(by=several) | Drawn(args=several):
            return several
        case Polygon(points=points):
            return tuple(e for p in points if not isinstance(p, Repeated) for e in p)
        case Repeated(count=number, child=child):
            return (number,) if isinstance(child, Shape) else (number, *child)
    return ()


def needs(shape: Shape) -> frozenset[str] | None:
    """The names of all symbols that ``shape`` needs a value of; None if it holds a body's child."""
    names, whole = _needs(shape)
    return names if whole else None


@functools.cache
def _needs(node: Shape) -> tuple[frozenset[str], bool]:
    """The names that a node needs, and whether it is whole without a body's child."""
    own = frozenset({"facets"}).union(*map(free, measures(node)))
    found = [_needs(child) for child in below(node)]
    whole = not isinstance(node, Child) and all(each for _, each in found)
    names = [each for each, _ in found]
    if isinstance(node, Drawn):
        names[0] -= frozenset(node.module.params)
        whole = node.child is None or found[1][1]
    elif isinstance(node, Repeated):
        return own.union(*names) - {node.index} | free(node.count), whole
    return own.union(*names), whole


def inside(*roots: Shape, bodies: bool = False) -> Iterator[Shape]:
    """Every node below and including ``roots``, parents first.

    Stops at the uses of modules, or goes on into the bodies, each once, if ``bodies``.
    """
    seen: set[int] = set()
    waiting = list(reversed(roots))
    while waiting:
        node = waiting.pop()
        if id(node) not in seen:
            seen.add(id(node))
            yield node
            skipped = node.module.body if isinstance(node, Drawn) and not bodies else None
            waiting.extend(child for child in reversed(below(node)) if child is not skipped)


def _vector(dim: int, *values: float) -> tuple[Expr, ...]:
    return tuple(map(as_expr, values[:dim]))


def _point(point: Point) -> tuple[Expr, ...]:
    return (as_expr(point[0]), as_expr(point[1]))


def _of_dim(dim: int, shape: Shape) -> Shape:
    if shape.dim != dim:
        raise TypeError(f"needs a {dim}D shape, got a {shape.dim}D one")
    return shape


def _same_dim(*parts: Shape) -> tuple[Shape, ...]:
    return tuple(_of_dim(parts[0].dim, p) for p in parts)
