"""Borders and screw holes are proven as they are drawn, and traps fail."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from manifold3d import Manifold

from scadgen import mesh
from scadgen.families.rod_loops import RodLoops
from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.families.waisted_spindle import WaistedSpindle
from scadgen.findings.finding import Finding
from scadgen.hinge import meshing
from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.leaf import Leaves
from scadgen.proof.parts import borders, parts, screw_holes
from tests.support import some_hinges

LEAVES = [cls for cls in all_families().values() if issubclass(cls, Leaves)]
FLEXURES = [cls for cls in all_families().values() if issubclass(cls, Flexure)]
SCREWED = [RodLoops(screw=2, leaf_length=20), WaistedSpindle(screw=2, leaf_length=20)]
each_screwed = pytest.mark.parametrize("hinge", SCREWED, ids=[h.family for h in SCREWED])


def on_holes(hinge: Hinge) -> Finding:
    drilled = hinge.drilled_holes()
    assert drilled is not None
    return screw_holes(hinge, drilled, hinge.mechanism())


def on_borders(hinge: Hinge) -> list[Finding]:
    whole = hinge.mechanism()
    assert whole.whole is not None
    return list(borders(whole, whole.whole))


def names_of(hinge: Hinge) -> set[str]:
    return {finding.name for finding in parts(hinge, hinge.mechanism())}


def with_solids(
    monkeypatch: pytest.MonkeyPatch, other: Callable[[Hinge, str, Manifold], Manifold]
) -> None:
    """Let the proof find other solids than the family draws."""

    def drawn(hinge: Hinge, part: str = "both", angle: float | None = None) -> Manifold:
        return other(hinge, part, mesh(hinge, part, angle))

    monkeypatch.setattr(meshing, "mesh", drawn)


@pytest.mark.parametrize("screw", [1, 2, 3])
@pytest.mark.parametrize("cls", LEAVES, ids=[cls.family for cls in LEAVES])
def test_screw_holes_are_free(cls: type[Leaves], screw: int) -> None:
    for hinge in some_hinges(cls, 2, screw=screw, swing=60, stop_at=100):
        assert isinstance(hinge, Leaves)
        found = on_holes(hinge) if hinge.screw else None
        assert found is None or found.passed, (hinge, found)


@each_screwed
def test_a_hole_that_is_closed_fails(hinge: Leaves, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wall of half a millimetre across all holes of the moving leaf."""
    upright = hinge.stance() == "standing"

    def closed(of: Hinge, part: str, solid: Manifold) -> Manifold:
        if part != "moving" or of is not hinge:
            return solid
        wall = solid.hull().trim_by_plane((1, 0, 0) if upright else (0, 1, 0), hinge.reach)
        size = [99, 0.5, 99] if upright else [99, 99, 0.5]
        place = [-49, -0.25, -1] if upright else [-49, -49, 0.2]
        return solid + (wall ^ Manifold.cube(size).translate(place))

    assert on_holes(hinge).passed
    with_solids(monkeypatch, closed)
    found = on_holes(hinge)
    assert not found.passed
    assert found.words.startswith("2 and 0 of 2 holes")


@each_screwed
def test_a_hole_that_is_narrower_by_a_tenth_fails(
    hinge: Leaves, monkeypatch: pytest.MonkeyPatch
) -> None:
    kind = type(hinge)
    drawn = kind.screw_pins
    wider = kind(screw=hinge.screw, leaf_length=20, hole_series=2)
    monkeypatch.setattr(kind, "screw_pins", lambda _: drawn(wider))
    found = on_holes(hinge)
    assert not found.passed
    assert found.words.startswith("2 and 2 of 2 holes")


def test_without_screws_there_is_no_finding_on_them() -> None:
    assert names_of(RodLoops()) == {"fixed relief", "moving relief"}
    assert "screw holes" in names_of(SCREWED[0])


@pytest.mark.parametrize("cls", FLEXURES, ids=[cls.family for cls in FLEXURES])
def test_borders_are_in_their_sheet(cls: type[Flexure]) -> None:
    for hinge in some_hinges(cls, 3):
        assert isinstance(hinge, Flexure)
        found = on_borders(hinge)
        assert [finding.name for finding in found] == ["fixed border", "moving border"]
        assert all(finding.passed for finding in found), (hinge, found)


@pytest.mark.parametrize("by", [0.01, 1.0])
def test_a_border_that_is_drawn_elsewhere_fails(by: float, monkeypatch: pytest.MonkeyPatch) -> None:
    def moved(_: Hinge, part: str, solid: Manifold) -> Manifold:
        return solid.translate((0, by, 0)) if part == "moving" else solid

    with_solids(monkeypatch, moved)
    fixed, moving = on_borders(SheetFlexure())
    assert fixed.passed
    assert not moving.passed
