"""OpenSCAD on a module beside OpenSCAD on the same hinge, written as solids only."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from tests.benchmarks.naive import source
from tests.benchmarks.race import Effort, Ratio, race, timed
from tests.engine import opened

#: A naive rendering above so many seconds is done once.
LONG = 15.0


def rendering(effort: Effort) -> Iterator[Ratio]:
    """Nothing where there is no OpenSCAD: the page says so."""
    engine = shutil.which("openscad")
    if engine is None:
        return
    with tempfile.TemporaryDirectory() as folder:
        for name, cls in effort.families.items():
            hinge = cls(facets=effort.facets)
            files = {"module": opened(hinge), "naive": source(hinge)}
            runs = {}
            for kind, text in files.items():
                path = Path(folder) / f"{name}_{kind}.scad"
                path.write_text(text, encoding="utf-8")
                runs[kind] = partial(rendered, engine, path, effort.patience)
            ended: list[bool] = []
            took = timed(partial(_noted, runs["naive"], ended))
            repeats = effort.slow if took < LONG else 1
            times = race(runs["module"], runs["naive"], repeats, warm=False)
            what = f"OpenSCAD renders {name}, {effort.facets} facets"
            yield Ratio(what, "the same as solids only", *times, cut=not all(ended))


def _noted(work: Callable[[], bool], results: list[bool]) -> None:
    results.append(work())


def rendered(engine: str, path: Path, patience: float) -> bool:
    """Render a file; False where it took longer than ``patience`` seconds and was ended."""
    command = [engine, "-q", "-o", str(path.with_suffix(".stl")), str(path)]
    try:
        subprocess.run(command, check=True, timeout=patience, stderr=subprocess.DEVNULL)
    except subprocess.TimeoutExpired:
        return False
    return True
