"""Pictures of mechanisms that no family has: whatever is told is drawn, and nothing breaks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree

import pytest
from manifold3d import Manifold

from scadgen import RodLoops
from scadgen.gallery.cards import FIGURES
from scadgen.hinge.family import Hinge
from scadgen.hinge.measures import Measure
from scadgen.mechanism.joint import Case, Joint, JointProof, Vector
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.pictures.drawings import drawing
from scadgen.pictures.measures import found
from scadgen.pictures.scene import VIEWS, scene
from scadgen.pictures.sections import sections
from scadgen.pictures.sides import Sides


@dataclass(frozen=True, eq=False, kw_only=True)
class Strange(Joint):
    """A joint of which nothing is told but, if asked for, a fold line."""

    line: Vector | None = None

    @property
    def fold_line(self) -> Vector | None:
        return self.line

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        return JointProof(self, ())


def box(*middle: float, size: Vector = (10.0, 10.0, 10.0)) -> Manifold:
    x, y, z = middle
    return Manifold.cube(size, True).translate((x, y, z))


def of(joints: tuple[Joint, ...], **solids: Manifold) -> Mechanism:
    def body(name: str, solid: Manifold) -> Body:
        return Body(name, name, lambda: solid)

    return Mechanism("strange", tuple(body(*named) for named in solids.items()), joints)


def ring(height: float = 10.0) -> Manifold:
    outer, inner = (Manifold.cylinder(height, r, r, 32, True) for r in (9.0, 5.0))
    return outer - inner


def turn(origin: Vector, direction: Vector, **joint: Any) -> Turn:
    return Turn(fixed="pin", moving="ring", about=Axis(origin, direction), **joint)


PIN = Manifold.cylinder(30, 4, 4, 32, True)
ASKED: dict[str, Any] = {"asked": (-20.0, 70.0)}


def about(direction: Vector, origin: Vector = (0, 0, 0), **joint: Any) -> Mechanism:
    """A ring on a pin, both turned from z to a direction of length 1."""
    to = Axis((0, 0, 0), direction)
    rows = [(*(axis[k] for axis in to.frame), 0.0) for k in range(3)]
    solids = {"pin": PIN.transform(rows), "ring": (ring() + box(12, 0, 0)).transform(rows)}
    return of((turn(origin, direction, **joint),), **solids)


CASES: dict[str, Mechanism] = {
    "no joint": of((), alone=box(0, 0, 5)),
    "two without a joint": of((), one=box(0, 0, 5), other=box(20, 0, 5)),
    "nothing told": of((Strange(fixed="a", moving="b"),), a=box(0, 0, 5), b=box(20, 0, 5)),
    "asked for, but not drawn": of(
        (Strange(fixed="a", moving="b", asked=(0, 5)),), a=box(0, 0, 5), b=box(20, 0, 5)
    ),
    "a hole in the middle": of((Strange(fixed="a", moving="b"),), a=ring(), b=box(30, 30, 5)),
    "fold line along y": of(
        (Strange(fixed="a", moving="b", line=(0, 1, 0), asked=(0, 5)),), a=box(0, 0, 5), b=ring()
    ),
    "fold line that stands": of(
        (Strange(fixed="a", moving="b", line=(0, 0, 1)),), a=box(0, 0, 5), b=box(20, 0, 5)
    ),
    "fold line away from the middle": of(
        (Strange(fixed="a", moving="b", line=(1, 0, 0)),), a=box(0, 50, 5), b=box(20, 50, 5)
    ),
    "along x": about((1, 0, 0), **ASKED),
    "along y": about((0, 1, 0), **ASKED),
    "down": about((0, 0, -1), **ASKED),
    "leaning": about((0.6, 0, 0.8), **ASKED),
    "no range": about((0, 0, 1)),
    "beside both": about((0, 0, 1), (0, 60, 0), **ASKED),
    "none encloses the other": of(
        (turn((0, 0, 0), (0, 0, 1), **ASKED),), pin=box(0, 0, 5), ring=box(0, 0, 16)
    ),
    "three bodies": of(
        (
            turn((0, 0, 0), (0, 0, 1), **ASKED),
            Turn(fixed="ring", moving="far", about=Axis((40, 0, 0), (0, 0, 1)), **ASKED),
        ),
        pin=PIN,
        ring=ring() + box(12, 0, 0),
        far=box(40, 0, 0),
    ),
    "a loop": of(
        (
            turn((0, 0, 0), (0, 0, 1), **ASKED),
            Strange(fixed="ring", moving="far"),
            Strange(fixed="far", moving="pin"),
        ),
        pin=PIN,
        ring=ring() + box(12, 0, 0),
        far=box(40, 0, 0),
    ),
}

each_case = pytest.mark.parametrize("whole", CASES.values(), ids=CASES)


def told(self: Hinge) -> dict[str, Measure]:
    """All measures there are, whatever they may find; each answers the same value."""
    return {f"clearance{'_' * k}": each for k, each in enumerate(Measure)}


@pytest.fixture
def hinge_of(monkeypatch: pytest.MonkeyPatch) -> Callable[[Mechanism], Hinge]:
    """A hinge of that mechanism, of which all that can be measured is told."""

    def made(whole: Mechanism) -> Hinge:
        monkeypatch.setattr(RodLoops, "mechanism", lambda self: whole)
        monkeypatch.setattr(RodLoops, "measured", told)
        for k in range(1, len(Measure)):
            monkeypatch.setattr(RodLoops, f"clearance{'_' * k}", 0.3, raising=False)
        hinge: Hinge = RodLoops()
        return hinge

    return made


@each_case
def test_it_is_drawn(whole: Mechanism, hinge_of: Callable[[Mechanism], Hinge]) -> None:
    hinge = hinge_of(whole)
    root = ElementTree.fromstring(drawing(hinge))
    fills = [element.attrib.get("fill") for element in root.iter() if "fill" in element.attrib]
    sides = Sides(whole).printed
    for side in sides:
        assert f"url(#{side})" in fills
    for view in VIEWS:
        shown = scene(hinge, view)
        assert len(shown.corners) > 0
        assert len({tuple(colour) for colour in shown.colour.tolist()}) >= len(sides), view
    assert [figure for figures in FIGURES for figure in figures(hinge)]


def test_what_the_first_joint_carries_moves_along() -> None:
    whole = CASES["three bodies"]
    sides = Sides(whole)
    volumes = {body.name: body.solid.volume() for body in whole.bodies}
    assert sides.printed["fixed"].volume() == pytest.approx(volumes["pin"])
    for moved in (sides.printed["moving"], sides.at(30)["moving"]):
        assert moved.volume() == pytest.approx(volumes["ring"] + volumes["far"])
    assert sides.swung is not None
    assert sides.swung.bounding_box()[4] > 40  # the far body, at a right angle or so


def test_the_body_in_which_a_joint_moves_stays_even_in_a_loop() -> None:
    whole = CASES["a loop"]
    sides = Sides(whole)
    assert sides.printed["fixed"].volume() == pytest.approx(PIN.volume())
    assert sides.at(90)["fixed"].bounding_box() == sides.printed["fixed"].bounding_box()


@pytest.mark.parametrize("way", ["along x", "along y", "down"])
def test_a_bearing_is_measured_whichever_way_its_axis_lies(
    way: str, hinge_of: Callable[[Mechanism], Hinge]
) -> None:
    whole = CASES[way]
    read = found(hinge_of(whole), *sections(Sides(whole)))
    assert read[Measure.GAP] == pytest.approx(1, abs=0.1)
    assert read[Measure.LENGTH] == pytest.approx(30)
    assert read[Measure.MOTION] == pytest.approx(70)
    assert read[Measure.RADIUS] == pytest.approx(9, abs=0.2)


def test_a_joint_draws_its_moving_body_itself_where_it_says_how() -> None:
    own = box(99, 0, 0)
    whole = about((0, 0, 1), asked=(0.0, 90.0), posed=lambda to: own)
    assert Sides(whole).opened["moving"] is own
    assert Sides(whole).printed["moving"] is not own
