"""Typed descriptions of 3D-printed hinges, turned into OpenSCAD modules and proven on solids.

>>> from scadgen import WaistedSpindle, emit
>>> "  height = 40,  // " in emit(WaistedSpindle(height=40))
True

Every family is importable from here under its class name. Nothing costly is imported before it
is used.
"""

from __future__ import annotations

import importlib
from typing import Any

from scadgen.version import VERSION as __version__  # noqa: N811

_HOMES = {
    "all_families": "scadgen.hinge.family",
    "HingeError": "scadgen.hinge.rules",
    "check": "scadgen.proof.verdict",
    "definition": "scadgen.hinge.family",
    "emit": "scadgen.openscad.emitter",
    "mesh": "scadgen.hinge.meshing",
    "to_solid2": "scadgen.openscad.bridge",
}

__all__ = ["__version__", *sorted(_HOMES)]


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        found = getattr(importlib.import_module(_HOMES[name]), name)
    else:
        from scadgen.hinge.family import all_families

        found = next((cls for cls in all_families().values() if cls.__name__ == name), None)
        if found is None:
            raise AttributeError(f"module 'scadgen' has no attribute {name!r}")
    globals()[name] = found
    return found
