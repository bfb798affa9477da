"""A flexure that would bend across its layers is refused."""

from __future__ import annotations

import pytest

import scadgen
from scadgen.findings.finding import Finding
from scadgen.hinge.family import Hinge
from scadgen.mechanism.joint import Case
from scadgen.strength.layers import ALONG, AcrossLayers, refuse_across, tilt_of_stretch
from scadgen.strength.materials import Plastic, material

X, Y, Z = (1, 0, 0), (0, 1, 0), (0, 0, 1)


@pytest.mark.parametrize(("axis", "face"), [(X, Z), (Y, Z), (Z, X), (Z, Y)])
def test_flat_and_on_edge_stretch_within_layers(
    axis: tuple[int, int, int], face: tuple[int, int, int]
) -> None:
    assert tilt_of_stretch(axis, face) == 0
    refuse_across(axis, face)


@pytest.mark.parametrize(("axis", "face"), [(X, Y), (Y, X), (X, (0, 3, 0.1))])
def test_standing_with_a_level_fold_is_refused_with_what_works(
    axis: tuple[float, float, float], face: tuple[float, float, float]
) -> None:
    with pytest.raises(AcrossLayers) as caught:
        refuse_across(axis, face, material("pla_matte"))
    assert caught.value.tilt == pytest.approx(90, abs=2)
    assert caught.value.most == ALONG
    for words in ("deg out of its layers", "at most 10 deg", "0.9 % of strain", "This works"):
        assert words in str(caught.value)


def bend(hinge: Hinge, plastic: Plastic | None = None) -> Finding:
    """What the proof of the hinge's only joint says of its layers."""
    whole = hinge.mechanism()
    (joint,) = whole.joints
    (found,) = (
        finding
        for finding in joint.prove(whole, Case(plastic)).findings
        if finding.name == "bend in its layers"
    )
    return found


def test_the_proof_refuses_a_flexure_that_prints_standing() -> None:
    assert bend(scadgen.SheetFlexure()).passed
    standing = type("Standing", (scadgen.SheetFlexure,), {"face": Y})
    found = bend(standing(), material("pla_matte"))
    assert not found.passed
    assert found.measured == pytest.approx(90)
    assert "This works: print the sheet flat" in found.change


def test_a_slope_counts_from_the_layers() -> None:
    assert tilt_of_stretch(X, (0, -1, 1)) == pytest.approx(45)
    refuse_across(X, (0, 0.1, 1))
    with pytest.raises(AcrossLayers, match="45 deg"):
        refuse_across(X, (0, 1, 1))


@pytest.mark.parametrize(("axis", "face"), [(X, X), (X, (0, 0, 0)), (Z, (0, 0, -2))])
def test_directions_that_make_no_sheet_are_refused(
    axis: tuple[int, int, int], face: tuple[int, int, int]
) -> None:
    with pytest.raises(ValueError, match="parallel or nothing"):
        tilt_of_stretch(axis, face)
