"""Settings counted in published printer profiles: ``python -m tests.proof.fleet.profiles FOLDER``.

FOLDER holds the bundles of profiles that come with PrusaSlicer, one file for each vendor (on Debian
``/usr/share/PrusaSlicer/profiles``). Counted are presets of print settings that a user may choose:
those with no asterisk in their name that print no vases, each with all that it inherits. All but
the bores is counted of presets for the usual bore. Vendors have no names here but numbers, in the
order of their files. It prints the tables in TOML that ``scadgen/proof/fleet/profiles.toml`` holds.
"""

from __future__ import annotations

import argparse
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

FOLDER = Path("/usr/share/PrusaSlicer/profiles")
#: What PrusaSlicer takes where no preset says anything (PrusaSlicer 2.5.0 --help-fff).
DEFAULTS = {
    "elefant_foot_compensation": "0",
    "slice_closing_radius": "0.049",
    "perimeter_generator": "arachne",
    "perimeters": "3",
    "fill_density": "20%",
    "layer_height": "0.3",
    "thick_bridges": "1",
    "spiral_vase": "0",
    "external_perimeter_extrusion_width": "0",
}
#: The setting behind each table of the fleet, and how it is counted.
TABLES = {
    "layer": "layer_height",
    "walls": "perimeters",
    "infill": "fill_density",
    "closing": "slice_closing_radius",
    "compensation": "elefant_foot_compensation",
    "line": "external_perimeter_extrusion_width",
    "generator": "perimeter_generator",
    "thick_bridges": "thick_bridges",
}
#: Bores of nozzles, mm; a preset that names none is for the usual one.
USUAL_BORE = 0.4
_HEAD = re.compile(r"^\[print:(.+)\]$")
_ANY_HEAD = re.compile(r"^\[.+\]$")
_BORE = re.compile(r"nozzle_diameter\[0\]\s*==\s*([\d.]+)|\b0\.(\d+)\s*(?:mm)?\s*nozzle", re.I)

Preset = dict[str, str]


def presets(path: Path) -> dict[str, Preset]:
    """The print presets of a vendor's bundle, by name, as they stand."""
    found: dict[str, Preset] = {}
    now: Preset | None = None
    for line in path.read_text(encoding="utf-8").splitlines():
        head = _HEAD.match(line.strip())
        if head:
            now = found.setdefault(head[1].strip(), {})
        elif _ANY_HEAD.match(line.strip()):
            now = None
        elif now is not None and "=" in line and not line.startswith(("#", ";")):
            key, _, value = line.partition("=")
            now[key.strip()] = value.strip()
    return found


def resolved(name: str, every: Mapping[str, Preset]) -> Preset:
    """A preset with all that it inherits; of several that it names the later ones go first."""
    own = every[name]
    found: Preset = {}
    for parent in own.get("inherits", "").split(";"):
        if parent.strip() in every:
            found |= resolved(parent.strip(), every)
    return found | own


def usable(path: Path) -> Iterator[tuple[str, Preset]]:
    """The presets of a bundle that a user may choose."""
    every = presets(path)
    for name in every:
        preset = DEFAULTS | resolved(name, every)
        if "*" not in name and preset["spiral_vase"] == "0":
            yield name, preset


def bore(name: str, preset: Preset) -> float:
    """The bore of the nozzle that a preset is for, mm: as its condition or its name says."""
    found = _BORE.search(preset.get("compatible_printers_condition", "")) or _BORE.search(name)
    if found is None:
        return USUAL_BORE
    return float(found[1] or f"0.{found[2]}")


def counts(folder: Path) -> dict[str, dict[str, Counter[str]]]:
    """For each table, by vendor, how many presets have which value."""
    found: dict[str, dict[str, Counter[str]]] = {name: {} for name in ("bore", *TABLES)}
    bundles = [list(usable(path)) for path in sorted(folder.glob("*.ini"))]
    for number, bundle in enumerate(filter(None, bundles), 1):
        vendor = f"vendor-{number:02}"
        for name, preset in bundle:
            diameter = bore(name, preset)
            _count(found["bore"], vendor, f"{diameter:g}")
            if diameter == USUAL_BORE:
                for table, key in TABLES.items():
                    _count(found[table], vendor, _plain(preset[key]))
    return found


def _count(table: dict[str, Counter[str]], vendor: str, value: str) -> None:
    table.setdefault(vendor, Counter())[value] += 1


def _plain(value: str) -> str:
    """A number without its unit and needless zeros, or a word."""
    bare = value.rstrip("%")
    try:
        return f"{float(bare):g}"
    except ValueError:
        return value


def toml(found: Mapping[str, Mapping[str, Counter[str]]]) -> Iterator[str]:
    """The counts as TOML: a table for each setting, a line for each vendor."""
    for table, vendors in found.items():
        yield f"\n[{table}]"
        for vendor, counted in sorted(vendors.items()):
            cells = ", ".join(f'"{value}" = {n}' for value, n in sorted(counted.items()))
            yield f"{vendor} = {{ {cells} }}"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.proof.fleet.profiles")
    parser.add_argument("folder", nargs="?", type=Path, default=FOLDER)
    print("\n".join(toml(counts(parser.parse_args().folder))))


if __name__ == "__main__":
    main()
