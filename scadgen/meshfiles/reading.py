"""Triangles out of model files."""

from __future__ import annotations

import io
import math
import re
import warnings
import zipfile
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Most triangles that are measured.
TRIANGLES = 2_000_000
#: Most bytes of a file, or of what a 3MF unpacks to: more is more than so many triangles.
BYTES = 600_000_000
#: Most parts that a 3MF may put together.
COPIES = 1000
#: Sizes that a hinge can have, mm: its largest side.
SMALLEST, LARGEST = 1.0, 2000.0
#: Millimetres to the units of 3MF (Source: 3MF core specification, ST_Unit).
UNITS = {
    "micron": 0.001,
    "millimeter": 1.0,
    "centimeter": 10.0,
    "inch": 25.4,
    "foot": 304.8,
    "meter": 1000.0,
}
_VERTEX = re.compile(rb"^[ \t]*vertex[ \t]", re.MULTILINE | re.IGNORECASE)
#: Bytes of a binary STL's head, and of each of its triangles.
_BINARY_HEAD, _BINARY_TRIANGLE = 84, 50


def read(path: Path, scale: float = 1.0) -> Array:
    """The triangles of an STL, 3MF or OBJ file as (count, 3, 3), in mm times ``scale``.

    Raises JobError (without the path) for a file that cannot be read, has no triangles or too
    many, or a size that no hinge has.
    """
    import numpy as np

    if not (math.isfinite(scale) and scale > 0):
        raise JobError(f"scale = {scale:g}; it must be above 0. This works: 1.")
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        kinds = ", ".join([*_READERS, ".scad"])
        raise JobError(f"'{path.suffix}' is no kind of file that is read; it must be {kinds}.")
    data = _data(path)
    soup = _soup(reader, data, path.suffix.lower())
    soup = np.asarray(soup, float).reshape(-1, 3, 3)
    if not len(soup):
        raise JobError("no triangles in it.")
    _refuse_many(len(soup))
    if not np.isfinite(soup).all():
        raise JobError("some corners are no finite numbers: the file is damaged.")
    soup = soup * scale
    _refuse_size(float(np.ptp(soup.reshape(-1, 3), axis=0).max()))
    return soup


def _data(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if size > BYTES:
            raise JobError(_too_much(f"{size / 1e6:.0f} MB"))
        data = path.read_bytes()
    except OSError as error:
        raise JobError(f"cannot be read: {error.strerror or error}.") from None
    if not data.strip():
        raise JobError("the file is empty.")
    return data


def _soup(reader: Callable[[bytes], Array], data: bytes, kind: str) -> Array:
    """What a reader gives; whatever it stumbles over in a damaged file is the file's fault."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            return reader(data)
    except JobError:
        raise
    except Exception as error:
        why = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise JobError(f"cannot be read as {kind[1:].upper()}: {why[:120]}.") from error


def _too_much(much: str) -> str:
    return (
        f"{much}: too much; at most {TRIANGLES:,} triangles are measured. "
        "Export it with fewer facets."
    )


def _refuse_many(count: int) -> None:
    if count > TRIANGLES:
        raise JobError(_too_much(f"{count:,} triangles"))


def _refuse_size(side: float) -> None:
    if side < SMALLEST:
        raise JobError(
            f"its largest side is {side:.4g} mm; a hinge has {SMALLEST:g} mm at least. It looks "
            "like metres or inches: use a scale of 1000 or 25.4."
        )
    if side > LARGEST:
        raise JobError(
            f"its largest side is {side:.4g} mm; a hinge has {LARGEST:g} mm at most. If it is in "
            "micrometres: use a scale of 0.001."
        )


def is_text_stl(data: bytes) -> bool:
    """Whether an STL file is of the kind that is written as text."""
    return data.lstrip()[:5].lower() == b"solid" and b"facet" in data[:2000].lower()


def _stl(data: bytes) -> Array:
    import numpy as np
    from trimesh.exchange.stl import load_stl

    text = is_text_stl(data)
    if not text:
        if len(data) < _BINARY_HEAD:
            raise JobError("not an STL file: too short to be one.")
        count = int.from_bytes(data[_BINARY_HEAD - 4 : _BINARY_HEAD], "little")
        wanted = _BINARY_HEAD + count * _BINARY_TRIANGLE
        if len(data) != wanted:
            raise JobError(
                f"not an STL file, or one cut short: {len(data)} bytes, where its head announces "
                f"{count:,} triangles in {wanted:,}."
            )
        _refuse_many(count)
    read = load_stl(io.BytesIO(data))
    parts = read["geometry"].values() if "geometry" in read else [read]
    soups = [np.asarray(part["vertices"])[np.asarray(part["faces"])] for part in parts]
    soup = np.concatenate([np.zeros((0, 3, 3)), *soups])
    if text and len(_VERTEX.findall(data)) != 3 * len(soup):
        raise JobError("an STL text that ends before 'endsolid': it is cut short.")
    return soup


def _scene(data: bytes) -> tuple[Array, str]:
    """All triangles of a 3MF where they stand, and its unit."""
    import numpy as np
    import trimesh

    scene = trimesh.load_scene(io.BytesIO(data), file_type="3mf", process=False)
    soups = [np.zeros((0, 3, 3))]
    for node in scene.graph.nodes_geometry:
        matrix, name = scene.graph[node]
        part = scene.geometry[name]
        if not hasattr(part, "faces"):
            continue
        soup = np.asarray(part.vertices)[np.asarray(part.faces)] @ matrix[:3, :3].T + matrix[:3, 3]
        soups.append(soup[:, ::-1] if np.linalg.det(matrix[:3, :3]) < 0 else soup)
        _refuse_many(sum(map(len, soups)))
    return np.concatenate(soups), scene.units or "millimeter"


def _obj(data: bytes) -> Array:
    import numpy as np

    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise JobError("not an OBJ file: it is no text.") from None
    corners: list[list[float]] = []
    faces: list[tuple[int, int, int]] = []
    for line in text.replace("\\\n", " ").splitlines():
        key, _, rest = line.strip().partition(" ")
        if key == "v":
            corners.append([float(word) for word in rest.split()[:3]])
        elif key == "f":
            places = [int(word.partition("/")[0]) for word in rest.split()]
            if not all(0 < abs(place) <= len(corners) for place in places):
                raise JobError(f"'{line.strip()[:60]}': a face of corners that are not there.")
            # A number below 0 counts from the newest corner back.
            first, *others = (p - 1 if p > 0 else len(corners) + p for p in places)
            faces += [(first, *pair) for pair in pairwise(others)]
            if len(faces) > TRIANGLES:
                _refuse_many(len(faces))
    soup: Array = np.array(corners).reshape(-1, 3)[np.array(faces, int).reshape(-1, 3)]
    return soup


def _three_mf(data: bytes) -> Array:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        size = sum(entry.file_size for entry in archive.infolist())
        if size > BYTES:
            raise JobError(_too_much(f"{size / 1e6:.0f} MB when unpacked"))
        if not any(name.lower() == "3d/3dmodel.model" for name in archive.namelist()):
            raise JobError("not a 3MF file: no 3D/3dmodel.model in it.")
        _refuse_copies(archive)
    soup, unit = _scene(data)
    if unit.rstrip("s") not in UNITS:
        raise JobError(f"its unit is '{unit}'; it must be one of {', '.join(UNITS)}.")
    return soup * UNITS[unit.rstrip("s")]


def _refuse_copies(archive: zipfile.ZipFile) -> None:
    """Parts may be made of parts: a small file can ask for more copies than any memory holds."""
    from lxml import etree

    copies: dict[str, int] = {}
    built = 0
    for name in archive.namelist():
        if not name.lower().endswith(".model"):
            continue
        with archive.open(name) as model:
            tags = ("{*}object", "{*}item")
            for _, part in etree.iterparse(model, tag=tags, resolve_entities=False):
                if part.tag.endswith("item"):
                    built += copies.get(part.get("objectid"), 1)
                    continue
                used = [one.get("objectid") for one in part.iter("{*}component")]
                copies[part.get("id")] = sum(copies.get(one, 1) for one in used) or 1
                part.clear()
    if built == 0:
        raise JobError("nothing is built in it: it has no items.")
    if built > COPIES:
        raise JobError(f"made of {built:,} parts; at most {COPIES:,} are put together.")


_READERS: dict[str, Callable[[bytes], Array]] = {".stl": _stl, ".3mf": _three_mf, ".obj": _obj}
