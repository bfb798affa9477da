"""The data reading: expressions and shapes as plain tables, for a program in another language.

Each node is a row, which names those below it by their numbers and comes after them. What is the
same is one row. A reader needs to know only the kinds of rows here: nothing of any hinge.
"""

from __future__ import annotations

from typing import Any

from scadgen.trees.expr import Call, Cell, Expr, Let, Num, Op, Rows, Sym, Where, as_expr, free
from scadgen.trees.solid import (
    Child,
    Chosen,
    Circle,
    Combined,
    Drawn,
    Extruded,
    Module,
    Moved,
    Noted,
    Polygon,
    Repeated,
    Revolved,
    Shape,
    Square,
)

Row = list[Any]


class Tables:
    """Rows of expressions, shapes and modules, as far as anything asked for them."""

    def __init__(self) -> None:
        self.expressions: list[Row] = []
        self.shapes: list[Row] = []
        self.modules: list[Row] = []
        self._numbers: dict[object, int] = {}  # of nodes, which it keeps alive
        self._rows: dict[str, int] = {}  # of rows, by all that they say

    def data(self) -> dict[str, list[Row]]:
        """The tables as JSON can hold them."""
        return {
            "expressions": self.expressions,
            "shapes": self.shapes,
            "modules": self.modules,
        }

    def expr(self, value: Expr | float) -> int:
        """The number of an expression's row. Raises TypeError for a node of no known kind."""
        node = as_expr(value)
        if node not in self._numbers:
            self._numbers[node] = self._put(self.expressions, self._expression(node))
        return self._numbers[node]

    def shape(self, shape: Shape) -> int:
        """The number of a shape's row. Raises TypeError for a node of no known kind."""
        if shape not in self._numbers:
            self._numbers[shape] = self._put(self.shapes, [shape.dim, *self._drawn(shape)])
        return self._numbers[shape]

    def _put(self, table: list[Row], row: Row) -> int:
        key = f"{id(table)} {row!r}"
        if key not in self._rows:
            self._rows[key] = len(table)
            table.append(row)
        return self._rows[key]

    def _all(self, nodes: tuple[Expr, ...]) -> list[int]:
        return [self.expr(node) for node in nodes]

    def _expression(self, node: Expr) -> Row:
        match node:
            case Num(value=value):
                return ["number", value]
            case Sym(name=name):
                return ["symbol", name]
            case Let(name=name, value=value):  # its free symbols tell where it is worked out
                return ["let", name, self.expr(value), sorted(free(node))]
            case Op(op=op, args=args):
                return ["operator", op, *self._all(args)]
            case Call(name=name, args=args):
                return ["call", name, *self._all(args)]
            case Where(cond=cond, yes=yes, no=no):
                return ["where", self.expr(cond), self.expr(yes), self.expr(no)]
            case Rows(rows=rows):
                return ["rows", [list(row) for row in rows]]
            case Cell(table=table, row=row, column=column):
                return ["cell", self.expr(table), self.expr(row), self.expr(column)]
        raise TypeError(f"no data for {node!r}")

    def _drawn(self, shape: Shape) -> Row:
        match shape:
            case Polygon(points=points):
                return ["polygon", list(map(self._point, points))]
            case Circle(radius=radius):
                return ["circle", self.expr(radius)]
            case Square(size=size):
                return ["square", self._all(size)]
            case Extruded(outline=outline, height=height, centered=centered):
                return ["extruded", self.shape(outline), self.expr(height), centered]
            case Revolved(outline=outline):
                return ["revolved", self.shape(outline)]
            case Combined(op=op, parts=parts):
                return ["combined", op, list(map(self.shape, parts))]
            case Moved(op=op, by=by, child=child):
                return ["moved", op, self._all(by), self.shape(child)]
            case Noted(child=child):
                return ["noted", self.shape(child)]
            case Drawn(module=module, args=args, child=child):
                applied = None if child is None else self.shape(child)
                return ["drawn", self._module(module), self._all(args), applied]
            case Repeated(index=index, count=count, child=Shape() as child):
                return ["repeated", index, self.expr(count), self.shape(child)]
            case Chosen(cond=cond, yes=yes, no=no):
                otherwise = None if no is None else self.shape(no)
                return ["chosen", self.expr(cond), self.shape(yes), otherwise]
            case Child():
                return ["child"]
        raise TypeError(f"no data for {shape!r}")

    def _point(self, point: tuple[Expr, ...] | Repeated) -> Row:
        """A point as [x, y], a run of them as [index, count, [x, y]]."""
        if not isinstance(point, Repeated):
            return self._all(point)
        assert isinstance(point.child, tuple)
        return [point.index, self.expr(point.count), self._all(point.child)]

    def _module(self, module: Module) -> int:
        if module not in self._numbers:
            body = self.shape(module.body)
            self._numbers[module] = self._put(
                self.modules, [module.name, list(module.params), body]
            )
        return self._numbers[module]
