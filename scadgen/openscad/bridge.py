"""The solidpython2 reading: hinges as objects of a solid2 scene.

A scene that holds hinges prints each needed module once, whole, so that its text is one file that
needs no other. Arguments keep the names that the scene gives them.
"""

from __future__ import annotations

import re
from contextvars import ContextVar
from typing import Any

from solid2.core import register_pre_render
from solid2.core.object_base import ObjectBase, OpenSCADConstant, OpenSCADObject

from scadgen.hinge.automatic import altered
from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.openscad.emitter import emit_call, emit_module
from scadgen.tables.hints import closest, did_you_mean
from scadgen.text.quoting import scad_string
from scadgen.trees.to_scad import number


class HingeObject(OpenSCADObject):  # type: ignore[misc]  # solid2 has no types
    """A call of a family's module, as solid2 prints it; it moves and combines like any object."""

    def __init__(self, hinge: Hinge, given: dict[str, str]) -> None:
        super().__init__(hinge.family, given)
        self._call = emit_call(hinge, **given)

    def _generate_scad_head(self) -> str:
        return self._call


def to_solid2(hinge: Hinge, part: str | OpenSCADConstant = "both", **given: Any) -> HingeObject:
    """The hinge as a solid2 object that draws ``part``.

    ``given`` replaces values of the hinge. A plain number is held against the family's bounds and
    rules (HingeError). A symbol of the scene stays one, and only the module's own assertions see
    its value: the other values have to suit the hinge's own value there as well. Raises TypeError
    for a name that the family has not, ValueError for a part that it has not.
    """
    _check_names(hinge, part, given)
    symbols = {n: str(value) for n, value in given.items() if isinstance(value, OpenSCADConstant)}
    numbers = {n: value for n, value in given.items() if n not in symbols}
    hinge = altered(hinge, **numbers)
    spelt = symbols | {name: number(getattr(hinge, name)) for name in numbers}
    if not isinstance(part, str) or part != "both":
        spelt["part"] = scad_string(part) if isinstance(part, str) else str(part)
    return HingeObject(hinge, spelt)


def _check_names(hinge: Hinge, part: str | OpenSCADConstant, given: dict[str, Any]) -> None:
    family = definition(type(hinge))
    if isinstance(part, str) and part not in family.parts:
        raise ValueError(f"{hinge.family}: part = {part!r}; it must be one of {family.parts}")
    for name in given:
        if name not in family.bounds:
            hint = (
                did_you_mean(closest(name, family.bounds)) or f"it has {', '.join(family.bounds)}"
            )
            raise TypeError(f"{hinge.family} has no parameter {name}; {hint}")


_searching: ContextVar[bool] = ContextVar("_searching", default=False)


@register_pre_render  # type: ignore[untyped-decorator]
def _modules(scene: ObjectBase) -> str:
    """The modules that the scene calls, however deep, each once, for solid2 to print on top.

    The scene's text is searched, not its objects: solid2 keeps loops and choices as text only.
    """
    if _searching.get():
        return ""  # solid2 asks again for the very text that is searched
    asked = _searching.set(True)
    try:
        text = scene.as_scad()
    finally:
        _searching.reset(asked)
    called = [cls for name, cls in all_families().items() if re.search(rf"\b{name}\(", text)]
    return "".join(f"\n{emit_module(cls)}" for cls in called)
