"""What a file says of its own making: settings in comments at its beginning and its end.

The names are those that PrusaSlicer 2.5, Slic3r 1.3 and CuraEngine 4.13 write; those of others from
memory. What a file does not say stays None.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from pathlib import Path

#: Bytes at either end of a file in which settings are looked for.
ENDS = 1 << 18
_SETTING = re.compile(r"^; ?([A-Za-z][\w ]*?) ?[=:] ?(.*?)\s*$", re.MULTILINE)
_INNER = re.compile(r"(\w+) = ([^\\\"]+)")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?|-?\.\d+")


@dataclass(frozen=True)
class Settings:
    """Settings by their names, as text, and those that matter as numbers.

    generator: the program that wrote the file, as it says; "" if it does not.
    """

    generator: str = ""
    said: dict[str, str] = field(default_factory=dict)

    def number(self, *names: str) -> float | None:
        """The first number of the first of the settings that is there."""
        for name in names:
            found = _NUMBER.search(self.said.get(name, ""))
            if found:
                return float(found[0])
        return None

    def flag(self, *names: str) -> bool | None:
        """Whether a setting is on."""
        for name in names:
            word = self.said.get(name, "").lower()
            if word in ("0", "false", "1", "true"):
                return word in ("1", "true")
        return None

    @property
    def filaments(self) -> tuple[float, ...]:
        """Diameters of the filaments, mm, by extruder."""
        text = self.said.get("filament_diameter", "") or self.said.get("material_diameter", "")
        return tuple(float(number) for number in _NUMBER.findall(text) if float(number) > 0)

    @property
    def rectangular(self) -> bool:
        """Whether it reckons a line's section as a rectangle, or else with round sides."""
        return "cura" in self.generator.lower()

    @property
    def own_e(self) -> bool:
        """Whether G90 and G91 leave the extruder alone in the firmware that it was written for."""
        flavour = self.said.get("gcode_flavor", "") + self.said.get("FLAVOR", "")
        return any(word in flavour.lower() for word in ("klipper", "reprapfirmware", "rrf"))

    @property
    def layer_height(self) -> float | None:
        """Of a layer, mm."""
        return self.number("layer_height", "Layer height")

    @property
    def layers(self) -> int | None:
        """How many layers the file says that it has."""
        count = self.number("LAYER_COUNT", "total layers count", "total layer number")
        return None if count is None else int(count)

    @property
    def nozzle(self) -> float | None:
        """Bore of the nozzle, mm."""
        return self.number("nozzle_diameter", "machine_nozzle_size")

    @property
    def walls(self) -> int | None:
        """Walls around each outline."""
        count = self.number("perimeters", "wall_loops", "wall_line_count")
        return None if count is None else int(count)

    @property
    def infill(self) -> float | None:
        """Share of the inside that is filled, 0 to 1."""
        percent = self.number("fill_density", "sparse_infill_density", "infill_sparse_density")
        return None if percent is None else percent / 100

    @property
    def closing_radius(self) -> float | None:
        """Radius by which the program closes gaps, mm: it closes those up to twice as wide."""
        return self.number("slice_closing_radius")

    @property
    def foot(self) -> float | None:
        """How far each side of the first layer is taken back, mm."""
        taken = self.number("elefant_foot_compensation", "elephant_foot_compensation")
        offset = self.number("xy_offset_layer_0")
        return -offset if taken is None and offset is not None else taken

    @property
    def grown(self) -> float | None:
        """How far the program moves every outline out, mm."""
        return self.number("xy_size_compensation", "xy_contour_compensation", "xy_offset")

    @property
    def opened(self) -> float | None:
        """How far it moves the outlines of holes, mm: above 0 they are wider."""
        return self.number("xy_hole_compensation", "hole_xy_offset")

    @property
    def thick_bridges(self) -> bool | None:
        """Whether bridges are threads as thick as the nozzle's bore."""
        return self.flag("thick_bridges", "thick_internal_bridges")


def settings_of(path: Path) -> Settings:
    """The settings that the comments of a file tell."""
    with path.open("rb") as file:
        head = file.read(ENDS)
        size = path.stat().st_size
        file.seek(max(len(head), size - ENDS))
        text = (head + b"\n" + file.read()).decode("utf-8", "replace")
    said = {name.strip(): value for name, value in _SETTING.findall(text)}
    folded = "".join(line[11:].rstrip("\n") for line in _cura(text))
    said |= dict(_INNER.findall(folded.replace("\\\\n", "\\")))
    maker = re.search(r"^;\s*generated (?:by|with) (.+?)\s*$", text, re.IGNORECASE | re.MULTILINE)
    return Settings(maker[1].split(" on ")[0] if maker else "", said)


def _cura(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.startswith(";SETTING_3 ")]


def area_of_filament(diameter: float) -> float:
    """Section of a filament, mm2."""
    return math.pi * diameter * diameter / 4
