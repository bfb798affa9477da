"""Any mesh as what a file prints: each of its bodies is a link that has to come out by itself."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.mechanism.mechanism import Body, Mechanism

if TYPE_CHECKING:
    from manifold3d import Manifold


def mechanism_of(path: Path) -> Mechanism:
    """The bodies of an STL, 3MF or OBJ file, the lowest on the bed, as slicers put them.

    Raises JobError for a file that makes no sound bodies.
    """
    from scadgen.inspection.bodies import bodies
    from scadgen.meshfiles.reading import read
    from scadgen.tables.documents import JobError

    try:
        found, _ = bodies(read(path))
    except JobError as error:
        error.path = path
        raise
    floor = min(one.box[2] for one in found)
    made = tuple(
        Body(str(one.number), f"body {one.number}", partial(_lowered, one.solid, floor))
        for one in found
    )
    return Mechanism(path.name, made, loose=tuple(body.name for body in made))


def _lowered(solid: Manifold, floor: float) -> Manifold:
    return solid.translate((0, 0, -floor))
