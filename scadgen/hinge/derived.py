"""Named intermediate values of a family."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, cast, overload

from scadgen.trees.expr import Let, as_expr

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge


class derived:  # noqa: N801 - read as a decorator
    """A named intermediate value of a family; the docstring's first line is its comment.

    On a hinge it reads as a number, on the symbols as a named expression.
    """

    def __init__(self, formula: Callable[[Any], float]) -> None:
        self.formula = formula
        self.name = formula.__name__
        self.note = inspect.cleandoc(formula.__doc__ or "").split("\n")[0].rstrip(".")

    @overload
    def __get__(self, hinge: None, owner: type) -> derived: ...
    @overload
    def __get__(self, hinge: Hinge, owner: type) -> float: ...
    def __get__(self, hinge: Hinge | None, owner: type) -> derived | float:
        if hinge is None:
            return self
        if hinge.symbolic:
            value: Any = Let(self.name, as_expr(self.formula(hinge)), self.note)
        else:
            from scadgen.hinge.family import definition, numbers

            value = numbers(hinge)(definition(type(hinge)).derived[self.name])
            value = value if getattr(value, "ndim", 0) else float(value)
        vars(hinge)[self.name] = value
        return cast(float, value)
