"""What a plain run spares a reader: light in pictures, facets of what OpenSCAD draws of a page.

Pictures keep their size and files their text; a thorough run spares nothing. What light does to a
picture is asked in ``tests/gallery``, what OpenSCAD makes of all facets in ``tests/openscad``.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from scadgen.hinge.family import all_families, definition
from scadgen.pictures import stills
from tests.support import thorough


@contextlib.contextmanager
def dim() -> Iterator[None]:
    """Pictures have one direction of light, and one sample to a pixel."""
    with pytest.MonkeyPatch.context() as patch:
        if not thorough():
            for name, value in (("FEW", (1, 1)), ("MANY", (1, 1)), ("FINE", 1)):
                patch.setattr(stills, name, value)
        yield


@contextlib.contextmanager
def few_sided(*paths: Path) -> Iterator[None]:
    """Files of OpenSCAD give as few facets as a family takes where they give a number."""
    before = {path: path.read_text(encoding="utf-8") for path in (() if thorough() else paths)}
    few = max(definition(cls).bounds["facets"].low for cls in all_families().values())
    for path, text in before.items():
        path.write_text(re.sub(r"\bfacets = \d+", f"facets = {few:g}", text), encoding="utf-8")
    try:
        yield
    finally:
        for path, text in before.items():
            path.write_text(text, encoding="utf-8")
