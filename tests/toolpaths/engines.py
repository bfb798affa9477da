"""Real slicing engines: a solid to G-code, at a layer height, with lines from a nozzle.

Three programs of different descent: PrusaSlicer (two ways of laying walls), Slic3r, from which it
comes, and CuraEngine. What they are told is told the same to all: two walls, little infill, no
skirts, nothing taken back; all else is as they have it.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.meshfiles.writing import stl

if TYPE_CHECKING:
    from manifold3d import Manifold

#: The programs, by the names of their commands.
PROGRAMS = ("prusa-slicer", "slic3r", "CuraEngine")
#: Width of lines from a bore, mm.
LINES = {0.4: 0.45, 0.6: 0.65, 0.8: 0.85}
WALLS, INFILL = 2, 0.15
FILAMENT = 1.75
_CURA = Path(__file__).with_name("cura_settings.txt")
#: CuraEngine's settings for the width of some line; the factor of the first layer is none.
_CURA_LINES = (
    *("infill", "skin", "roofing", "skirt_brim", "prime_tower"),
    *("raft_base", "raft_interface", "raft_surface"),
    *("support", "support_bottom", "support_roof"),
)


@dataclass(frozen=True)
class Slicing:
    """How a solid is sliced. layer, nozzle: mm. walls: lines around an outline.

    more: options of the program's own.
    """

    engine: str
    layer: float
    nozzle: float = 0.4
    more: Mapping[str, Any] = field(default_factory=dict)
    walls: int = WALLS

    @property
    def line(self) -> float:
        """Width of its lines, mm."""
        return LINES[self.nozzle]

    def slice(self, solid: Manifold, folder: Path) -> Path:
        """The G-code of a solid that stands on the bed, written into a folder."""
        model, code = folder / "model.stl", folder / "model.gcode"
        model.write_bytes(stl(solid))
        code.unlink(missing_ok=True)
        ENGINES[self.engine](self, model, code)
        assert code.is_file(), f"{self}: it wrote nothing"
        return code


def found() -> bool:
    """Whether all of the programs are there."""
    return all(map(shutil.which, PROGRAMS))


def run(command: list[str], folder: Path) -> None:
    done = subprocess.run(
        command, cwd=folder, capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, (command, (done.stdout + done.stderr)[-2000:])


def _options(how: Slicing, **more: Any) -> list[str]:
    """Options that PrusaSlicer and Slic3r share."""
    told = {
        "layer_height": how.layer,
        "first_layer_height": how.layer,
        "nozzle_diameter": how.nozzle,
        "filament_diameter": FILAMENT,
        "perimeters": how.walls,
        "fill_density": f"{100 * INFILL:g}%",
        "skirts": 0,
        "gcode_comments": None,
        "extrusion_width": how.line,
        "first_layer_extrusion_width": how.line,
    }
    words: list[str] = []
    for name, value in (told | more | dict(how.more)).items():
        words.append(f"--{name.replace('_', '-')}")
        words += [] if value is None else [str(value)]
    return words


def _prusa(how: Slicing, model: Path, code: Path, walls: str) -> None:
    options = _options(how, perimeter_generator=walls, elefant_foot_compensation=0)
    run(["prusa-slicer", "-g", str(model), "-o", str(code), *options], code.parent)


def _slic3r(how: Slicing, model: Path, code: Path) -> None:
    options = _options(how, support_material_threshold=0)
    run(["slic3r", str(model), "-o", str(code), *options], code.parent)


def _cura(how: Slicing, model: Path, code: Path) -> None:
    pairs = (line.partition("=") for line in _CURA.read_text(encoding="utf-8").splitlines())
    told: dict[str, Any] = {name: value for name, _, value in pairs}
    told |= {f"{name}_line_width": how.line for name in _CURA_LINES}
    told |= {"wall_line_width_0": how.line, "wall_line_width_x": how.line}
    told |= {"layer_height": how.layer, "layer_height_0": how.layer, "wall_line_count": how.walls}
    told |= {"infill_sparse_thickness": how.layer, "machine_nozzle_size": how.nozzle}
    told |= {"infill_line_distance": 2 * how.line / INFILL} | dict(how.more)
    settings = {
        name: {"label": name, "description": name, "type": "str", "default_value": value}
        for name, value in told.items()
    }
    group = {"label": "all", "description": "all", "type": "category", "children": settings}
    trains = {"machine_extruder_trains": {"0": "extruder"}}
    _definition(code.with_name("printer.def.json"), trains, {"all": group})
    _definition(code.with_name("extruder.def.json"), {}, {})
    command = ["CuraEngine", "slice", "-j", "printer.def.json", "-o", str(code), "-l", str(model)]
    run(command, code.parent)
    # The program that runs the engine writes the filament's diameter; the engine does not.
    with code.open("a", encoding="utf-8") as file:
        file.write(f";material_diameter = {FILAMENT}\n")


def _definition(path: Path, metadata: Mapping[str, Any], settings: Mapping[str, Any]) -> None:
    whole = {"version": 2, "name": path.stem, "metadata": metadata, "overrides": {}}
    path.write_text(json.dumps(whole | {"settings": settings}), encoding="utf-8")


ENGINES: dict[str, Callable[[Slicing, Path, Path], None]] = {
    "PrusaSlicer classic": lambda how, model, code: _prusa(how, model, code, "classic"),
    "PrusaSlicer arachne": lambda how, model, code: _prusa(how, model, code, "arachne"),
    "Slic3r": _slic3r,
    "CuraEngine": _cura,
}
