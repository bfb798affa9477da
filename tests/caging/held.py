"""Certificates of default hinges, made once."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from manifold3d import Manifold

from scadgen.caging.certificate import Certificate
from scadgen.caging.file import document
from scadgen.hinge.family import all_families
from scadgen.mechanism.turn import Turn

#: Every family whose bodies turn in each other.
PIVOTS = sorted(name for name, cls in all_families().items() if cls.kind == "pivot")


@cache
def bodies(family: str) -> tuple[Manifold, Manifold, Turn]:
    """The two bodies of a family's default hinge, and their joint."""
    whole = all_families()[family]().mechanism()
    (joint,) = whole.joints
    assert isinstance(joint, Turn)
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    return fixed, moving, joint


@cache
def held(family: str) -> Certificate:
    """The certificate of a family's default hinge."""
    whole = all_families()[family]().mechanism()
    cage = whole.joints[0].cage(whole)
    assert isinstance(cage, Certificate)
    return cage


@cache
def _stored(family: str) -> str:
    return json.dumps(document(held(family), family))


def stored(family: str) -> dict[str, Any]:
    """What its file holds."""
    told: dict[str, Any] = json.loads(_stored(family))
    return told
