"""Hinges that a rule refuses, drawn all the same: what the proof says of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, all_families

#: Cones that PrusaSlicer 2.5.0 (classic) welded in layers of 0.25 mm, with lines of 0.85 mm: single
#: lines across the narrow ends of a socket.
WELDED = (
    "nested_cones",
    {"wall": 2.7, "clearance": 0.269079, "leaf_length": 5.794039, "facets": 32}
    | {"layer": 0.25, "line_width": 0.85},
)


def unruled(family: str, values: Mapping[str, Any], monkeypatch: pytest.MonkeyPatch) -> Hinge:
    """The hinge with these values, whatever its rules say."""
    with monkeypatch.context() as patched:
        patched.setattr("scadgen.hinge.validate._first_broken", lambda *_: None)
        return all_families()[family](**values)
