"""The solids' figures are kept in a file: they take minutes. ``python -m tests.solid_table``.

Each family's carry a fingerprint of all that they hang on: the solids and the sections that it
names, what the plastic bears, the duties, and the code that measures. The formulas are not in it:
they are worked out anew whenever the table is written or tested.
"""

from __future__ import annotations

import hashlib
import io
import json
import tokenize
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from scadgen.elements.bears import stiffness
from tests.solids import subjects
from tests.solids.subjects import BORNE, DUTIES, PETG, Subject

FILE = Path(__file__).with_name("figures.json")
#: Modules of ``scadgen/elements`` on which no figure hangs: what is said of it, and to whom.
WORDS = {"__init__", "arms", "gives", "judged", "of_hinge"}
#: Files beside this one that measure.
MEASURING = ("measured.py", "subjects.py")
#: A solid is known by its areas at so many heights, among other things.
HEIGHTS = 16


def load() -> dict[str, Any]:
    """What is kept, by family."""
    found: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}
    return found


def save(found: dict[str, Any]) -> None:
    """Keep the figures of all families."""
    FILE.write_text(json.dumps(found, indent=1, sort_keys=True) + "\n", encoding="utf-8")


def fingerprint(subject: Subject) -> str:
    """Of all that a family's figures hang on."""
    told = (
        [_shape(solid) for solid in subject.solids],
        [_plain(asdict(one)) for one in subject.hinge.carriers()],
        _plain([subject.size, subject.reach, *BORNE.each, *stiffness(PETG).ravel().tolist()]),
        [_plain(asdict(duty)) for duty in DUTIES.values()],
        [hashlib.sha256(code(path).encode()).hexdigest() for path in sources()],
    )
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()[:16]


def sources() -> list[Path]:
    """The files that measure."""
    from scadgen import elements

    folder = Path(elements.__path__[0])
    ours = [path for path in sorted(folder.glob("*.py")) if path.stem not in WORDS]
    return [*ours, *(Path(__file__).with_name(name) for name in MEASURING)]


def code(path: Path) -> str:
    """What a file does: its code without comments, blanks and docstrings."""
    found, begins = [], True
    for token in tokenize.generate_tokens(io.StringIO(path.read_text(encoding="utf-8")).readline):
        if token.type in (tokenize.COMMENT, tokenize.NL):
            continue
        blank = token.type in (tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT)
        if not blank and not (begins and token.type == tokenize.STRING):
            found.append(token.string)
        begins = blank
    return "".join("".join(found).split())


def stale() -> list[str]:
    """The families whose figures are missing, or of something else."""
    kept = load()
    return [
        name
        for name, one in subjects.subjects()
        if kept.get(name, {}).get("of") != fingerprint(one)
    ]


def _shape(solid: Any) -> Any:
    """A solid, however its triangles run: volume, area, box, and areas at heights."""
    low_x, low_y, low, high_x, high_y, high = solid.bounding_box()
    heights = low + (high - low) * (np.arange(HEIGHTS) + 0.5) / HEIGHTS
    areas = [solid.slice(float(z)).area() for z in heights]
    box = [low_x, low_y, low, high_x, high_y, high]
    return _plain([solid.volume(), solid.surface_area(), *box, *areas])


def _plain(value: Any) -> Any:
    """Numbers without the noise of rounding."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return f"{value + 0.0:.4g}" if isinstance(value, int | float | np.floating) else value
