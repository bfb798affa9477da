"""A model that was read from a file is loaded as the hinge that wrote it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from scadgen import CaptiveCone
from scadgen.elements.bears import borne
from scadgen.elements.judged import judged, worst
from scadgen.elements.of_hinge import asked_of
from scadgen.elements.turning import Load
from scadgen.hinge.meshing import mesh
from scadgen.inspection import Asked, inspect
from scadgen.meshfiles.writing import stl
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material

PETG = material("petg")


def test_an_inspected_file_gives_a_mechanism_whose_links_are_judged_alike(tmp_path: Path) -> None:
    hinge = CaptiveCone(facets=16)
    path = tmp_path / "model.stl"
    path.write_bytes(stl(mesh(hinge)))
    whole = inspect(path, Asked(layers=(0.3,))).mechanism()
    (turn,) = whole.joints
    assert {body.name for body in whole.bodies} == set(turn.pair)
    asked = replace(asked_of(hinge, Duty(3, 0, 5, 1, 1), PETG), sizes=(1.0, 0.9), reach=1.3)
    load = Load("load and pull", 3, 5)
    most = []
    for mechanism in (hinge.mechanism(), whole):
        (found,) = judged(mechanism, asked)
        both = (worst(found.cuts[1], link, load, borne(PETG)).used.max() for link in (0, 1))
        most.append(sorted(map(float, both)))
    assert most[1] == pytest.approx(most[0], rel=0.05)
