"""The picture of the closest spot: it shows both bodies and a mark, where there is such a spot."""

from __future__ import annotations

import dataclasses
import functools
import io
from pathlib import Path

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.cli.main import main
from scadgen.findings.finding import Place
from scadgen.inspection import Asked, Inspection, inspect
from scadgen.inspection import picture as module
from scadgen.inspection.picture import CAPTION, PANEL, _spot, picture, picture_path
from scadgen.pictures.palette import LIGHT, rgb
from scadgen.tables.documents import JobError
from tests.guides.lighter import dim
from tests.inspection.models import MOVED, TURNED, Array, ascii_stl, soup

SMALL = (PANEL[0] // 2, PANEL[1] // 2)
PIN = Manifold.cylinder(6, 2, 2, 32)
EYE = (Manifold.cylinder(6, 5, 5, 32) - Manifold.cylinder(20, 2.4, 2.4, 32, True)).translate(
    (0.15, 0, 0)
)


def found(turn: Array | None = None) -> Inspection:
    matrix = np.eye(3, 4) if turn is None else np.column_stack([turn, MOVED])
    origin, direction = matrix @ (0, 0, 0, 1), matrix[:, :3] @ (0, 0, 1)
    solids = [PIN.transform(matrix), EYE.transform(matrix)]
    return inspect(solids, Asked(layers=(0.3,), axis=(*origin, *direction)))


def small(found: Inspection) -> bytes:
    """The picture with small panels."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "PANEL", SMALL)
        return picture(found)


def pixels_of(found: Inspection) -> Array:
    """Pixels of the picture with small panels, 0 to 255."""
    from PIL import Image

    return np.asarray(Image.open(io.BytesIO(small(found))).convert("RGB"), float)


@functools.cache
def drawn(askew: bool) -> Array:
    return pixels_of(found(TURNED if askew else None))


def share(pixels: Array, name: str) -> float:
    """Share of the pixels that have nearly the colour."""
    wanted = np.array(rgb(LIGHT[name])) * 255
    return float((abs(pixels - wanted).max(-1) < 12).mean())


@pytest.mark.parametrize("askew", [False, True])
def test_both_panels_show_both_bodies_cut_and_the_mark(askew: bool) -> None:
    assert drawn(askew).shape == (SMALL[1] + CAPTION, 2 * SMALL[0], 3)
    pixels = drawn(askew)[: SMALL[1]]
    for panel in (pixels[:, : SMALL[0]], pixels[:, SMALL[0] :]):
        assert share(panel, "fixed_cut") > 0.03
        assert share(panel, "moving_cut") > 0.03
        assert share(panel, "accent") > 0.0003
        assert share(panel, "background") > 0.2


def test_the_arrows_stand_where_both_bodies_face_each_other() -> None:
    close_up = drawn(False)[: SMALL[1], SMALL[0] :]
    places = {
        name: np.argwhere(abs(close_up - np.array(rgb(LIGHT[name])) * 255).max(-1) < 12)
        for name in ("accent", "fixed_cut", "moving_cut")
    }
    row, column = places["accent"].mean(0)
    sides = [
        body[abs(body[:, 0] - row) < 5][:, 1].mean() - column
        for body in (places["fixed_cut"], places["moving_cut"])
    ]
    assert min(sides) < 0 < max(sides)


def test_the_command_writes_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, target = tmp_path / "pin.stl", tmp_path / "made" / "spot.png"
    model.write_bytes(ascii_stl(soup(PIN, EYE)))
    with dim():  # it has its size and its place all the same
        assert main(["inspect", str(model), "--layers", "0.3", "--picture", str(target)]) == 1
    assert f"wrote {target}" in capsys.readouterr().out
    from PIL import Image

    with Image.open(target) as image:
        assert (image.format, image.size) == ("PNG", (2 * PANEL[0], PANEL[1] + CAPTION))


def test_without_a_joint_there_is_no_picture() -> None:
    with pytest.raises(JobError, match="no body turns in another"):
        picture(inspect([PIN], Asked(layers=(0.3,))))


def test_where_bodies_meet_is_drawn_with_what_they_share() -> None:
    both = [PIN, Manifold.cube((9, 9, 3))]
    found = inspect(both, Asked(layers=(0.3,), axis=(0, 0, 0, 0, 0, 1)))
    (joint,) = found.joints
    assert joint.fault is not None
    assert joint.fault.angle == 0
    close_up = pixels_of(found)[: SMALL[1], SMALL[0] :]
    assert share(close_up, "accent") > 0.05


def test_a_picture_needs_its_ending_and_its_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    assert picture_path(Path("a/spot.PNG")) == Path("a/spot.PNG")
    with pytest.raises(JobError, match=r"spot.jpg; its name must end in \.png"):
        picture_path(Path("spot.jpg"))
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(JobError, match="install the extra 'pictures'"):
        picture_path(Path("spot.png"))


@pytest.mark.parametrize("clearance", [0.1, 1.0])
def test_bodies_that_are_only_too_near_are_not_said_to_meet(
    clearance: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A gap of 0.25 mm, on a bearing off its middle: too little or enough, they stand apart."""
    said: list[tuple[str, str]] = []

    def composed(_: list[bytes], captions: tuple[str, str]) -> bytes:
        said.append(captions)
        return b""

    monkeypatch.setattr("scadgen.inspection.picture._composed", composed)
    asked = Asked(layers=(0.3,), axis=(0, 0, 0, 0, 0, 1), clearance=clearance)
    seen = inspect([PIN, EYE], asked)
    narrow = clearance > 0.3
    gaps = [finding for finding in seen.verdict.findings if finding.name.startswith("gap")]
    assert all(finding.passed is not narrow for finding in gaps)
    small(seen)
    ((left, right),) = said
    assert "meet" not in left + right
    assert right.startswith("closest: 0.2")


def test_a_fault_elsewhere_than_the_closest_spot_tells_the_gap_there() -> None:
    seen = found()
    (joint,) = seen.joints
    solids = {body.number: body.solid for body in seen.bodies}
    fault = dataclasses.replace(joint, fault=Place((9.0, 9.0, 9.0), 33.0))
    spot = _spot(fault, *(solids[number] for number in joint.pair))
    assert spot.angle == 33
    assert spot.gap > 0.2
