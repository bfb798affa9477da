"""Models of several bodies: which turn in which, all pairs proven, every body accounted for."""

from __future__ import annotations

import itertools
import struct
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.families.captive_cone import CaptiveCone
from scadgen.findings.finding import Finding
from scadgen.hinge.meshing import mesh
from scadgen.inspection import Asked, Inspection, Touch, inspect
from scadgen.motion.meeting import closing
from scadgen.tables.documents import JobError
from tests.inspection.models import ascii_stl, soup

LAYERS = (0.2,)
#: A small hinge of few facets: what is tested is what becomes of its bodies.
HINGE = CaptiveCone(facets=16, leaf_length=6)
SIDES = 24


def by_name(found: Inspection) -> dict[str, Finding]:
    return {finding.name: finding for finding in found.verdict.findings}


def chain(count: int) -> list[Manifold]:
    """Bodies in a row, each joined to the next by an upright hinge of its own."""
    hinge = HINGE
    fixed, moving = mesh(hinge, "fixed"), mesh(hinge, "moving")
    pitch = 2 * hinge.leaf_end - 0.5
    between = [(pitch * k, 0, 0) for k in range(count - 1)]
    inner = [moving.translate(a) + fixed.translate(b) for a, b in itertools.pairwise(between)]
    return [fixed, *inner, moving.translate(between[-1])]


def test_every_pair_of_a_chain_is_found_and_proven() -> None:
    found = inspect(chain(3), Asked(layers=LAYERS))
    pairs = {frozenset(joint.pair) for joint in found.joints}
    assert len(found.bodies) == 3
    assert len(pairs) == 2
    ends = {number for pair in pairs for number in pair}
    assert ends == {1, 2, 3}
    findings = by_name(found)
    for a, b in (sorted(pair) for pair in pairs):
        names = [name for name in findings if name.endswith(": hold")]
        assert any({f"body {a}", f"body {b}"} <= _bodies(name) for name in names)
    assert all(findings[name].passed for name in findings if "hold" in name or "swing" in name)
    beside = [finding for name, finding in findings.items() if name.endswith("beside the others")]
    assert len(beside) == 2
    (all_joints,) = (f for name, f in findings.items() if name == "all joints together")
    assert "all 2 joints" in all_joints.words


def _bodies(name: str) -> set[str]:
    return set(name.partition(":")[0].split(" and "))


def test_a_link_that_missed_its_pin_is_named_and_fails() -> None:
    """Two links turn in each other; a third one stands by itself, as does a leaf off its stub."""
    parts = [*chain(2), Manifold.cube((8, 8, 2)).translate((60, 0, 0))]
    found = inspect(parts, Asked(layers=LAYERS))
    failed = {name for name, finding in by_name(found).items() if "held" in name}
    (joint,) = found.joints
    (stray,) = {1, 2, 3} - set(joint.pair)
    assert failed == {f"body {stray} is held"}
    assert not found.passed


def test_two_hinges_in_one_file_are_two_pairs_each_with_its_own_body() -> None:
    pair = chain(2)
    far = [part.translate((0, 60, 0)) for part in pair]
    found = inspect([*pair, *far], Asked(layers=LAYERS))
    boxes = {body.number: body.box for body in found.bodies}
    assert len(found.joints) == 2
    for joint in found.joints:
        (low, high) = (boxes[number] for number in joint.pair)
        assert abs(low[1] - high[1]) < 10, "a pair is of one hinge"
    assert not [name for name in by_name(found) if "is held" in name]


def test_bodies_without_a_bearing_are_told_with_what_is_near() -> None:
    boxes = [Manifold.cube((5, 5, 5)).translate((5.4 * k, 0, 0)) for k in range(3)]
    with pytest.raises(JobError) as caught:
        inspect(boxes, Asked(layers=LAYERS))
    words = str(caught.value)
    assert "no pair of the 3 bodies has round walls" in words
    assert "0.40 mm apart" in words
    for number in (1, 2, 3):
        assert f"body {number}: 125 mm3" in words


def test_round_walls_side_by_side_on_one_axis_are_no_joint() -> None:
    """A pin through two eyes: each turns on the pin, and not in the other."""
    pin = Manifold.cylinder(12, 2, 2, SIDES)
    eye = Manifold.cylinder(5, 5, 5, SIDES) - Manifold.cylinder(12, 2.4, 2.4, SIDES, True)
    arm = Manifold.cube((12, 3, 5)).translate((4, -1.5, 0))
    lower, upper = eye + arm, (eye + arm).rotate((0, 0, 180)).translate((0, 0, 5.4))
    found = inspect([pin, lower, upper], Asked(layers=LAYERS))
    numbers = {body.number: body.volume for body in found.bodies}
    pin_number = min(numbers, key=lambda number: numbers[number])
    assert all(pin_number in joint.pair for joint in found.joints)
    assert len(found.joints) == 2


@pytest.mark.parametrize(("rise", "touching"), [(0.0, True), (1.0, False)])
def test_a_lid_that_hovers_above_its_rim_is_told_from_one_that_lies_on_it(
    rise: float, touching: bool
) -> None:
    """A plate of 20 x 10 mm over a rim 2 mm wide along its near side, held up by one pad."""
    rim = Manifold.cube((20, 2, 5))
    pad = Manifold.cube((3, 3, 5 + rise)).translate((10, 7, 0))
    lid = Manifold.cube((20, 10, 2)).translate((0, 0, 5 + rise))
    tray = Manifold.compose([rim, pad])
    up = np.eye(3, 4)
    up[2, 3] = 9
    found = closing(tray, lid, up)
    assert found is not None
    wanted = 49.0 if touching else 9.0
    assert found.contact == pytest.approx(wanted, rel=0.15)
    assert found.facing == pytest.approx(0.0 if touching else 40.0, rel=0.15)
    assert found.gap == pytest.approx(0.0 if touching else rise, abs=1e-6)
    assert closing(rim, lid.translate((0, 0, 40)), up) is None
    assert closing(tray, lid, np.eye(3, 4)) is None, "what is no nearer at the end does not close"


def test_where_bodies_come_to_rest_is_told_and_never_fails() -> None:
    found = inspect(chain(2), Asked(layers=LAYERS))
    rests = [finding for name, finding in by_name(found).items() if name.startswith("at rest at")]
    assert len(rests) == 2
    assert all(finding.passed and finding.place for finding in rests)
    assert all("mm2 in contact" in finding.words for finding in rests)


def post(x: float, y: float, z: float) -> Manifold:
    """A post of 1 x 1 mm from the bed up to z, tied to the fixed leaf by a bar along the bed."""
    bar = Manifold.cube((x + 9, 1, 1)).translate((-9, y, 0))
    tie = Manifold.cube((1, abs(y), 1)).translate((-9, min(y, 0), 0))
    return Manifold.cube((1, 1, z)).translate((x, y, 0)) + bar + tie


def test_a_collision_has_its_place_in_words_and_data() -> None:
    asked = Asked(layers=LAYERS, swing=(-60, 60))
    fixed, moving = chain(2)
    free = by_name(inspect([fixed, moving], asked))["swing"]
    assert free.passed
    assert free.place is None
    met = by_name(inspect([fixed + post(9, 9, 9), moving], asked))["swing"]
    assert not met.passed
    assert met.place is not None
    assert "They meet around (" in met.words
    x, y, z = met.place.point
    assert 8 < x < 11
    assert 8 < y < 11
    assert 0 < z < 10
    assert 0 < met.place.angle < 60
    data = met.to_dict()["place"]
    assert data == {"point": met.place.point, "angle": met.place.angle}


def test_a_meant_contact_touches_there_and_nowhere_else() -> None:
    """A detent: a bump on the fixed side that reaches into the moving leaf where it prints."""
    fixed, moving = chain(2)
    box = moving.bounding_box()
    near = HINGE.leaf_thickness / 2 - 0.2
    arm = Manifold.cube((1, 10 - near, 1)).translate((box[3] - 2, near, 0))
    bodies = [fixed + post(box[3] - 2, 9, 1) + arm, moving]
    plain = by_name(inspect(bodies, Asked(layers=LAYERS)))["gap at rest"]
    assert not plain.passed
    assert plain.place is not None
    x, y, z = plain.place.point
    asked = Asked(layers=LAYERS, contacts=(Touch(0, x, y, z, 2),))
    meant = by_name(inspect(bodies, asked))
    assert meant["contact at 0 deg"].passed
    assert meant["gap at rest"].passed
    elsewhere = Asked(layers=LAYERS, contacts=(Touch(0, x, y + 40, z, 1),))
    nowhere = by_name(inspect(bodies, elsewhere))
    assert not nowhere["contact at 0 deg"].passed
    assert not nowhere["gap at rest"].passed


def test_a_contact_that_holds_a_whole_body_is_refused() -> None:
    """Within it the bodies may meet: so nothing would be left that must not."""
    solids = list(chain(2))
    words = r"contact: all of body \d lies within 150 mm of it"
    with pytest.raises(JobError, match=words):
        inspect(solids, Asked(layers=LAYERS, contacts=(Touch(0, 0, 0, 5, 150),)))


@pytest.mark.parametrize("radius", [0.0, -1.0, float("nan"), 1e6])
def test_a_contact_without_a_place_is_refused(radius: float) -> None:
    with pytest.raises(JobError, match=r"contact radius = .*This works"):
        Touch(0, 0, 0, 0, radius)


def _rounded(triangles: Any) -> bytes:
    """Text STL with six significant digits, as many programs write it."""
    lines = ascii_stl(triangles).decode().splitlines()
    words = ([f"{float(w):.6g}" if _number(w) else w for w in line.split()] for line in lines)
    return "\n".join(map(" ".join, words)).encode()


def _number(word: str) -> bool:
    try:
        float(word)
    except ValueError:
        return False
    return True


def _binary(triangles: Any) -> bytes:
    rows = [struct.pack("<12fH", 0, 0, 0, *triangle.ravel(), 0) for triangle in triangles]
    return bytes(80) + struct.pack("<I", len(rows)) + b"".join(rows)


@pytest.mark.parametrize("write", [_rounded, _binary])
def test_a_joint_far_from_the_origin_is_judged_as_near_it(write: Any, tmp_path: Path) -> None:
    """What the file rounds away at its coordinates is no fault, and is stated."""
    asked = Asked(layers=LAYERS, clearance=HINGE.clearance)
    for shift in (0.0, 130.0, 980.0):
        path = tmp_path / f"{shift:g}.stl"
        path.write_bytes(write(soup(*chain(2)) + np.array([shift, 0.37, 0.0])))
        gap = by_name(inspect(path, asked))["gap at rest"]
        assert gap.passed, gap.words
        assert "by which the file rounds" in gap.words


def test_tolerances_grow_with_the_coordinates_and_not_beyond() -> None:
    from scadgen.meshfiles.precision import DIGITS, grain_of

    assert DIGITS == 6
    near, far = np.array([[[10.0, 0, 0]]]), np.array([[[900.0, 0, 0]]])
    path = Path(__file__)  # any text whose numbers have few digits
    assert grain_of(path, far) == pytest.approx(10 * grain_of(path, near))
    assert grain_of(path, far) < 0.001


def test_zeros_before_a_number_are_no_digits_of_it(tmp_path: Path) -> None:
    from scadgen.meshfiles.precision import grain_of

    place = np.array([[[12.3457, 0.0012345, 0]]])
    text = tmp_path / "text.obj"
    text.write_text("v 12.3457 0.00123457 0\n")
    longer = tmp_path / "longer.obj"
    longer.write_text("v 12.3457000 0.00123457 0\n")
    assert grain_of(text, place) == pytest.approx(1e-4 * 3**0.5 / 2)
    assert grain_of(longer, place) == pytest.approx(1e-7 * 3**0.5 / 2)
