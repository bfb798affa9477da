"""Real slicing engines: what their toolpaths weld, the proof must have refused."""

from __future__ import annotations

import functools
import math
import tempfile
from pathlib import Path

import pytest
from manifold3d import Manifold

from scadgen import RodLoops, SideCones
from scadgen.hinge.family import Hinge
from scadgen.hinge.meshing import mesh, printed_bodies
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.meshfiles.carried import Proof
from scadgen.meshfiles.writing import three_mf
from scadgen.printing.layers import layers
from scadgen.printing.remnants import remnants
from scadgen.toolpaths import Asked, Followed, follow, verdict_on
from scadgen.toolpaths.reading import laid_layers
from tests.printing.test_remnants import ACROSS, HEIGHT, LINE, arm
from tests.shapes import ridges
from tests.toolpaths.against import judged, theirs
from tests.toolpaths.engines import ENGINES, FILAMENT, INFILL, WALLS, Slicing, run
from tests.toolpaths.made import table

pytestmark = pytest.mark.slicers

#: One slice by each engine; python -m tests.toolpaths.slices has them all, of whole hinges.
FEW = {
    one.engine: one
    for one in (
        Slicing("PrusaSlicer classic", 0.3),
        Slicing("PrusaSlicer arachne", 0.2),
        Slicing("Slic3r", 0.2),
        Slicing("CuraEngine", 0.3),
    )
}
#: A short hinge with few corners, which is sliced and followed in a third of the time.
SHORT = {"facets": 16, "length": 24, "leaf_length": 6}


def short(how: Slicing) -> Hinge:
    hinge: Hinge = SideCones(layer=how.layer, line_width=how.line, **SHORT)
    return hinge


@functools.cache
def by_engine(engine: str) -> Followed:
    """What an engine's toolpaths make of the short hinge, for all tests that ask for it."""
    return theirs(short(FEW[engine]), FEW[engine])


def sliced(hinge: Hinge, how: Slicing) -> Followed:
    with tempfile.TemporaryDirectory() as folder:
        code = how.slice(mesh(hinge), Path(folder))
        return follow(code, Asked(hinge.mechanism(), bridge=hinge.longest_bridge() or 10))


@pytest.mark.parametrize("engine", ENGINES)
def test_what_toolpaths_weld_the_proof_refuses(engine: str) -> None:
    one = judged(short(FEW[engine]), "", FEW[engine], by_engine(engine))
    assert one.proven
    assert not one.miss, one.row
    assert one.bodies == (2, 2)
    assert one.faults == ()


@pytest.mark.parametrize("engine", ENGINES)
def test_what_an_engine_was_told_is_read_back(engine: str) -> None:
    how, found = FEW[engine], by_engine(engine)
    assert found.shown.layer_heights == [how.layer]
    assert found.shown.wall_width == pytest.approx(how.line, abs=0.011)
    assert found.shown.first == pytest.approx(how.layer)
    if engine != "CuraEngine":  # the engine alone writes no settings
        assert found.settings.walls == WALLS
        assert found.settings.infill == INFILL
        assert found.settings.nozzle == how.nozzle


@pytest.mark.parametrize("engine", ["PrusaSlicer classic", "Slic3r"])
@pytest.mark.parametrize("gap", [0.2, 0.6])
def test_a_thick_bridge_lands_as_the_layers_say(engine: str, gap: float, tmp_path: Path) -> None:
    """A table over a plate, the air below it less or more than the thread is thick."""
    whole, how = table(gap), Slicing(engine, 0.2)
    pieces = [piece.solid for piece in whole.pieces]
    found = follow(how.slice(pieces[0] + pieces[1], tmp_path), Asked(whole))
    told = layers(pieces, how.layer, line=how.line)
    assert bool(found.welds) == bool(told.landed) == (gap < how.nozzle)
    assert layers(pieces, how.layer).fused == 0  # without threads nothing is said


def test_thin_bridges_land_nowhere(tmp_path: Path) -> None:
    whole = table(0.2)
    how = Slicing("PrusaSlicer classic", 0.2, more={"no-thick-bridges": None})
    pieces = [piece.solid for piece in whole.pieces]
    assert follow(how.slice(pieces[0] + pieces[1], tmp_path), Asked(whole)).welds == []


def test_a_rod_in_loops_comes_free_of_thick_bridges() -> None:
    found = sliced(RodLoops(facets=24, leaf_length=6), Slicing("Slic3r", 0.2))
    assert found.welds == []
    assert len(found.lumps) == 2
    assert min(near.spread for near in found.near) > 0.05


@pytest.mark.parametrize(("radius", "welds"), [(0.049, False), (0.49, True)])
def test_a_wide_closing_of_gaps_welds(radius: float, *, welds: bool) -> None:
    """A gap of 0.4 mm that is proven, sliced with two gap closing radii that profiles carry."""
    how = Slicing("PrusaSlicer classic", 0.3, more={"slice_closing_radius": radius})
    found = sliced(SideCones(**SHORT), how)
    assert bool(found.welds) == welds
    assert len(found.lumps) == (1 if welds else 2)
    assert found.settings.closing_radius == radius
    apart = next(one for one in verdict_on(found, "a").findings if one.name == "links apart")
    assert apart.passed == (not welds)


@pytest.mark.parametrize(
    "command", [("prusa-slicer", "-g", "--dont-arrange"), ("slic3r",)], ids=lambda it: it[0]
)
def test_a_3mf_that_carries_its_proof_is_sliced_as_it_is(
    command: tuple[str, ...], tmp_path: Path
) -> None:
    hinge = SideCones(**SHORT)
    proof = Proof({"proven": True, "metadata": {"Verdict": "proven"}}, {"lid.txt": "A report."})
    model, code = tmp_path / "lid.3mf", tmp_path / "lid.gcode"
    model.write_bytes(three_mf("lid", "A lid", printed_bodies(hinge), proof))
    run([*command, str(model), "-o", str(code), "--layer-height", "0.3", "--skirts", "0"], tmp_path)
    found = follow(code, Asked(hinge.mechanism(), filament=FILAMENT))
    assert found.welds == []
    assert found.lumps_of == [{0}, {1}]
    assert not any(one.lost for one in found.misfits)


def test_a_line_along_a_tip_welds_what_the_layers_refuse(tmp_path: Path) -> None:
    how = Slicing("PrusaSlicer classic", 0.3, 0.6)
    solids = ridges(0.5, 0.5, how.layer)
    bodies = (Body("one", "one", lambda: solids[0]), Body("two", "two", lambda: solids[1]))
    whole = Mechanism("ridges", bodies, loose=("one", "two"))
    found = follow(how.slice(solids[0] + solids[1], tmp_path), Asked(whole))
    assert [weld.landed for weld in found.welds] == [False]
    assert layers(solids, how.layer, line=how.line).tipped > 0


@pytest.mark.parametrize("engine", ["PrusaSlicer classic", "Slic3r"])
def test_a_line_lies_across_the_blunt_end_of_an_arm(engine: str, tmp_path: Path) -> None:
    """Where the layer proof reckons with one, as long and hardly wider."""
    (ours,) = remnants(arm(ACROSS), LINE)
    code = Slicing(engine, HEIGHT, 0.8).slice(Manifold.extrude(arm(ACROSS), 3 * HEIGHT), tmp_path)
    laid = list(laid_layers(code))[1]
    (which,) = (laid.width < 0.9 * LINE).nonzero()  # all others are as wide as asked
    (line,) = which
    length = math.dist(*ours.ends)
    assert laid.lengths[line] == pytest.approx(length, abs=0.15)
    assert ours.width == pytest.approx(laid.width[line], abs=0.1)
