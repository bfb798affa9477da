"""Large files are read by a second process: with the same layers, refusals, and an end."""

from __future__ import annotations

import subprocess
from pathlib import Path

import numpy as np
import pytest

from scadgen.tables.documents import JobError
from scadgen.toolpaths import ahead
from tests.toolpaths.made import LAYERS, Dialect, whole

Started = list[subprocess.Popen[bytes]]


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> Started:
    """The second processes that are begun; any file counts as large."""
    begun: Started = []
    start = ahead._started

    def noted(path: Path, filament: float | None) -> subprocess.Popen[bytes]:
        begun.append(start(path, filament))
        return begun[-1]

    monkeypatch.setattr(ahead, "_started", noted)
    monkeypatch.setattr(ahead, "_cores", lambda: 2)
    monkeypatch.setattr(ahead, "LARGE", 0)
    return begun


def test_its_layers_are_those_of_one_process(started: Started, tmp_path: Path) -> None:
    path = Dialect().write(tmp_path / "bars.gcode", whole())
    theirs, ours = list(ahead.laid_areas(path)), list(ahead.laid_here(path, None))
    assert len(started) == 1
    assert len(theirs) == len(ours) == LAYERS
    for (laid, layer), (other, others) in zip(theirs, ours, strict=True):
        assert np.array_equal(laid.start, other.start)
        assert np.array_equal(laid.source, other.source)
        assert [slab.top for slab in layer] == [slab.top for slab in others]
        for one, two in zip(layer, others, strict=True):
            assert "area" in vars(one)
            assert one.area.area() == pytest.approx(two.area.area(), abs=1e-6)
            assert (one.area - two.area).area() == pytest.approx(0, abs=1e-6)


def test_what_it_refuses_is_refused_in_the_same_words(started: Started, tmp_path: Path) -> None:
    path = tmp_path / "down.gcode"
    path.write_text(Dialect().text([*whole(), *whole()]), encoding="utf-8")
    with pytest.raises(JobError) as here:
        list(ahead.laid_here(path, None))
    with pytest.raises(JobError) as there:
        list(ahead.laid_areas(path))
    assert str(there.value) == str(here.value)
    assert started[0].poll() is not None


def test_it_ends_when_nobody_wants_more(started: Started, tmp_path: Path) -> None:
    layers = ahead.laid_areas(Dialect().write(tmp_path / "bars.gcode", whole()))
    next(layers)
    layers.close()
    assert started[0].poll() is not None


def test_where_none_can_be_begun_one_process_does_all(
    started: Started, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuses(path: Path, filament: float | None) -> subprocess.Popen[bytes]:
        raise OSError("no more processes")

    monkeypatch.setattr(ahead, "_started", refuses)
    path = Dialect().write(tmp_path / "bars.gcode", whole())
    assert len(list(ahead.laid_areas(path))) == LAYERS
    assert started == []


def test_small_files_and_one_core_need_no_second(started: Started, tmp_path: Path) -> None:
    path = Dialect().write(tmp_path / "bars.gcode", whole())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ahead, "LARGE", path.stat().st_size + 1)
        list(ahead.laid_areas(path))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ahead, "_cores", lambda: 1)
        list(ahead.laid_areas(path))
    assert started == []
