"""The worked example in the gallery: two bodies printed in one go, whose lid closes the box."""

from __future__ import annotations

import re
import runpy
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from solid2 import ScadVariable

from scadgen.families.break_away_link import BreakAwayLink
from scadgen.families.side_cones import SideCones
from scadgen.motion.axis import Axis
from scadgen.motion.rest import rest
from scadgen.motion.swing import swing
from scadgen.openscad.library import write_library
from scadgen.printing.layers import layers
from tests.engine import run
from tests.support import ROOT

if TYPE_CHECKING:
    from manifold3d import Manifold
    from trimesh import Trimesh

pytestmark = pytest.mark.openscad

EXAMPLE = ROOT / "gallery" / "tea_sampler_box.scad"
SCRIPT = EXAMPLE.with_suffix(".py")
BED = 180
WEBS = 4
#: OpenSCAD writes six digits of a coordinate: half a thousandth of 100 mm at either side of a gap.
ROUNDING = 1e-3
#: Cuts are made this far beside a face, so that no sliver of it is left, mm.
INSIDE = 0.01


def value(name: str, text: str | None = None) -> float:
    """What the example, or another text, sets a name to."""
    text = text or EXAMPLE.read_text(encoding="utf-8")
    found = re.search(rf"^{name} = ([\d.]+);", text, re.M)
    assert found, name
    return float(found[1])


def height_of_axis() -> float:
    return SideCones(cone=value("cone"), wall=value("socket")).axis_at


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Trimesh:
    """The example as OpenSCAD draws it, with a library of its own beside it."""
    folder = tmp_path_factory.mktemp("example")
    write_library(folder / "library")
    (folder / "gallery").mkdir()
    copy = folder / "gallery" / EXAMPLE.name
    copy.write_bytes(EXAMPLE.read_bytes())
    return run(copy, folder).mesh


@pytest.fixture(scope="module")
def bodies(printed: Trimesh) -> tuple[Manifold, Manifold]:
    """Box and lid: all that is printed."""
    from manifold3d import Manifold, Mesh64

    assert printed.is_watertight
    solid = Manifold(Mesh64(printed.vertices, printed.faces.astype(np.uint64)))
    box, lid = sorted(solid.decompose(), key=lambda body: body.bounding_box()[1])
    return box, lid


@pytest.fixture(scope="module")
def axis() -> Axis:
    return Axis((0, 0, height_of_axis()), (1, 0, 0))


def between(solid: Manifold, near: float, far: float) -> Manifold:
    """What of a solid is from ``near`` to ``far`` in front of the axis."""
    return solid.trim_by_plane((0, -1, 0), near).trim_by_plane((0, 1, 0), -far)


def test_two_sound_bodies_stand_apart_on_the_bed(
    bodies: tuple[Manifold, Manifold], printed: Trimesh
) -> None:
    still = rest(*bodies)
    assert [body.pieces for body in (still.fixed, still.moving)] == [1, 1]
    assert [body.voids for body in (still.fixed, still.moving)] == [0, 0]
    assert still.fixed.watertight
    assert still.moving.watertight
    assert still.overlap == 0
    assert still.gap >= value("clearance") - ROUNDING
    assert (printed.extents[:2] <= BED).all()
    assert printed.bounds[0, 2] == 0


def test_the_lid_swings_free_until_it_is_closed(
    bodies: tuple[Manifold, Manifold], axis: Axis
) -> None:
    least = value("clearance") - ROUNDING
    turn = swing(*bodies, axis, limit=270, within=(0, 175), aim=least)
    assert turn.low <= 0
    assert turn.high == pytest.approx(180, abs=0.05)
    assert turn.stopped_high
    assert turn.gap >= least


def test_the_closed_lid_sits_on_the_rim_all_around(
    bodies: tuple[Manifold, Manifold], axis: Axis
) -> None:
    """Just above the seam the lid's walls stand on the box's; the hinge's groove is left aside."""
    box, lid = bodies
    seam = value("box_height")
    closed = between(axis.turn(lid, 180), value("back") + value("wall") / 2, BED)
    rim, above = box.slice(seam - INSIDE), closed.slice(seam + INSIDE)
    assert above.area() > 2 * value("wall") * value("depth")
    assert (rim ^ above).area() == pytest.approx(above.area(), rel=1e-4)


def test_the_divider_hangs_on_its_webs_alone(bodies: tuple[Manifold, Manifold]) -> None:
    box, _ = bodies
    front = value("back") + value("depth")
    webs = between(box, front + INSIDE, front + value("gap") - INSIDE)
    divider = between(box, front + value("gap") + INSIDE, BED)
    assert len(webs.decompose()) == WEBS
    assert len(divider.decompose()) == 1
    assert webs.volume() < divider.volume() / 100


def test_the_webs_snap_below_the_surface(bodies: tuple[Manifold, Manifold]) -> None:
    """At its score lines, half-way down the recesses, each web stands free of what is around it."""
    box, _ = bodies
    front, score = value("back") + value("depth"), BreakAwayLink().recess / 2
    in_box = between(box, front - score, front - score + INSIDE)
    in_divider = between(box, front + value("gap") + score - INSIDE, front + value("gap") + score)
    assert len(in_box.decompose()) == WEBS + 1
    assert len(in_divider.decompose()) == WEBS + WEBS + 1


def test_the_snapped_divider_fits_into_the_closed_box(
    bodies: tuple[Manifold, Manifold], axis: Axis
) -> None:
    """Stood on edge between the ribs, it is loose in the box and under the lid."""
    front = value("back") + value("depth")
    box, lid = bodies
    divider = between(box, front + value("gap") + INSIDE, BED)
    low, high = np.reshape(divider.bounding_box(), (2, 3))
    standing = divider.translate(-(low + high) / 2).rotate((90, 0, 0))
    placed = standing.translate((0, value("depth") / 2 - front, height_of_axis()))
    for body in (between(box, -BED, front), axis.turn(lid, 180)):
        assert rest(body, placed).overlap == 0
        assert rest(body, placed).gap == pytest.approx(value("loose"), abs=2 * INSIDE)


@pytest.mark.parametrize("height", [0.1, 0.2, 0.3])
def test_it_prints_without_supports(height: float, bodies: tuple[Manifold, Manifold]) -> None:
    """All that bridges are the small recesses around the webs."""
    cut = layers(bodies, height)
    assert (cut.droop, cut.islands, cut.fused) == (0, 0, 0)
    assert 0 < cut.span <= BreakAwayLink().slot + ROUNDING
    assert min(cut.bed) > 0


@pytest.fixture
def script(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> str:
    """What the script prints; solid2 would keep its variables for the scenes of other tests."""
    monkeypatch.setattr(ScadVariable, "registered_variables", {})
    runpy.run_path(str(SCRIPT), run_name="__main__")
    return capsys.readouterr().out


def test_the_script_draws_the_same_from_one_file(
    script: str, printed: Trimesh, tmp_path: Path
) -> None:
    drawn = run(script, tmp_path).mesh
    assert drawn.volume == pytest.approx(printed.volume, rel=1e-3)
    assert drawn.bounds == pytest.approx(printed.bounds, abs=0.01)


def test_the_scripts_file_is_portable_and_keeps_its_names(script: str) -> None:
    assert not re.search(r"^\s*(use|include|import)\b.*[<\"]", script, re.M)
    assert str(ROOT) not in script
    assert re.findall(r"^module (\w+)\(", script, re.M) == ["break_away_link", "side_cones"]
    assert len(re.findall(r"\bclearance = clearance\b", script)) == 4
    names = ("lid_angle", "width", "depth", "box_height", "clearance")
    assert [value(name, script) for name in names] == [value(name) for name in names]
