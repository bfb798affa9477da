"""Pictures of a spec sheet, inside its page: how it lies on the bed, and its drawing."""

from __future__ import annotations

import base64
import functools
import importlib.util
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.jobs.job import Job

#: Pixels of a picture.
SIZE = (480, 360)
#: What SVG says of itself in a file of its own; within a page of HTML it is understood.
_NAMESPACE = ' xmlns="http://www.w3.org/2000/svg"'


def pictures(hinge: Hinge) -> dict[str, str]:
    """By what they show, data URIs; none where Pillow (extra ``pictures``) is missing."""
    if importlib.util.find_spec("PIL") is None:
        return {}
    words = {"printed": f"As it lies on the bed: {hinge.posture}", "opened": "Opened"}
    return {told: _still(hinge, view) for view, told in words.items()}


@functools.lru_cache(maxsize=8)
def _still(hinge: Hinge, view: str) -> str:
    from scadgen.pictures.stills import still

    encoded = base64.b64encode(still(hinge, view, SIZE)).decode()
    return f"data:image/png;base64,{encoded}"


def drawing_of(job: Job) -> str:
    """The section drawing as SVG within HTML; "" for a hinge too large for the paper."""
    from scadgen.pictures.drawings import drawing

    plastic = job.plastic.name if job.plastic else ""
    try:
        return drawing(job.hinge, title=job.heading, material=plastic).replace(_NAMESPACE, "", 1)
    except ValueError:
        return ""
