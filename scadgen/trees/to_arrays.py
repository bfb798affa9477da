"""The reading of arrays, compiled: whether conditions hold of many hinges at once.

Its values are those of :mod:`scadgen.trees.to_numpy`, bit for bit: the same functions of arrays in
the same order. A search that asks small batches thousands of times spends most on finding its way
through the trees; here that is done once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from scadgen.trees.expr import Cell, Expr, Let, Num, Op, Where
from scadgen.trees.to_numpy import OPERATORS, VALUES, Value, cell, chosen
from scadgen.trees.to_python import Writer

#: Of a mapping of symbols to numbers or arrays, and an array of truths, which loses those where not
#: all holds; gives what named values are worth.
Asked = Callable[[Mapping[str, Value], Value], dict[Let, Value]]

_INFIX = ("+", "-", "*", "<", "<=", ">", ">=", "==")
_CALLED = {"/": "divided", "%": "rest", "&&": "both", "||": "either"}
_FUNCTIONS = {
    "chosen": chosen,
    "cell": cell,
    **{name: OPERATORS[op] for op, name in _CALLED.items()},
    **{f"{name}_": function for name, function in VALUES.items()},
}


def all_hold(conditions: Iterable[Expr]) -> Asked:
    """A function that asks all the conditions. Numpy has to be told to be silent.

    It raises KeyError for a symbol without a value.
    """
    writer = _Arrays(_FUNCTIONS)
    for condition in conditions:
        words = writer.words(condition)
        writer.lines.append(f"every &= {words}")
    writer.names["every_let"] = lets = tuple(writer.known)
    told = ", ".join(writer.known[let] for let in lets)
    writer.lines.append(f"return dict(zip(every_let, ({told}{',' if lets else ''})))")
    made: Asked = writer.compiled("values, every")
    return made


class _Arrays(Writer):
    """Lines that read as :class:`scadgen.trees.to_numpy.Numbers` does."""

    def number(self, node: Num) -> str:
        return f"({node.value!r})"

    def operator(self, node: Op) -> str:
        words = [self.words(each) for each in node.args]
        if node.op == "neg":
            return f"(-{words[0]})"
        if node.op in _INFIX:
            return f"({words[0]} {node.op} {words[1]})"
        return f"{_CALLED[node.op]}({', '.join(words)})"

    def where(self, node: Where) -> str:
        return f"chosen({', '.join(map(self.words, (node.cond, node.yes, node.no)))})"

    def cell(self, node: Cell) -> str:
        return f"cell({', '.join(map(self.words, (node.table, node.row, node.column)))})"
