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

from scadgen.meshfiles.limits import TRIANGLES, refuse_many, too_much
from scadgen.meshfiles.writing import STL_COUNT, STL_FACET, STL_HEAD
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Most bytes of a file, or of what a 3MF unpacks to: more is more than so many triangles.
BYTES = 600_000_000
#: Sizes that a hinge can have, mm: its largest side.
SMALLEST, LARGEST = 1.0, 2000.0
#: Lines of a text STL that tell whether it is whole.
_SOLID, _END, _FACET, _VERTEX = (
    re.compile(rb"^[ \t]*" + line, re.MULTILINE | re.IGNORECASE)
    for line in (rb"solid\b", rb"endsolid\b", rb"facet\b", rb"vertex[ \t]([^\r\n]*)")
)


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
    refuse_many(len(soup))
    if not np.isfinite(soup).all():
        raise JobError("some corners are no finite numbers: the file is damaged.")
    soup = soup * scale
    _refuse_size(float(np.ptp(soup.reshape(-1, 3), axis=0).max()))
    return soup


def _data(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if size > BYTES:
            raise JobError(too_much(f"{size / 1e6:.0f} MB"))
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
    text = data.lstrip()[:5].lower() == b"solid" and b"facet" in data[:2000].lower()
    return text and len(data) != _announced(data)[1]


def _announced(data: bytes) -> tuple[int, int]:
    """How many triangles the head of a binary STL announces, and how many bytes these take."""
    import numpy as np

    count = int.from_bytes(data[STL_HEAD : STL_HEAD + STL_COUNT], "little")
    return count, STL_HEAD + STL_COUNT + count * np.dtype(STL_FACET).itemsize


def _stl(data: bytes) -> Array:
    import numpy as np

    head, facet = STL_HEAD + STL_COUNT, np.dtype(STL_FACET)
    count, wanted = _announced(data)
    if is_text_stl(data):
        return _text_stl(data)
    if len(data) < head:
        raise JobError("not an STL file: too short to be one.")
    if len(data) != wanted:
        raise JobError(
            f"not an STL file, or one cut short: {len(data)} bytes, where its head announces "
            f"{count:,} triangles in {wanted:,}."
        )
    refuse_many(count)
    corners: Array = np.frombuffer(data, facet, offset=head)["corners"]
    return corners


def _text_stl(data: bytes) -> Array:
    import numpy as np

    rows = _VERTEX.findall(data)
    ends = [found.end() for found in _END.finditer(data)]
    if not ends or len(ends) != len(_SOLID.findall(data)) or _FACET.search(data, ends[-1]):
        raise JobError("an STL text that ends before 'endsolid': it is cut short.")
    if len(rows) != 3 * len(_FACET.findall(data)):
        raise ValueError("a facet that has not three corners")
    if not rows:
        return np.zeros((0, 3, 3))
    refuse_many(len(rows) // 3)
    corners: Array = np.loadtxt(rows, comments=None, ndmin=2, encoding="latin-1")
    if corners.shape != (len(rows), 3):
        raise ValueError("corners that are not three numbers")
    return corners


#: What else an OBJ file may have that is a surface or brings one: curved ones, other files.
_NOT_FACES = ("surf", "call", "csh", "bzp", "bsp", "cdp", "res")


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
        elif key in _NOT_FACES:
            raise JobError(f"'{line.strip()[:60]}': only faces are read. Export it as triangles.")
        elif key == "f":
            places = [int(word.partition("/")[0]) for word in rest.split()]
            if not all(0 < abs(place) <= len(corners) for place in places):
                raise JobError(f"'{line.strip()[:60]}': a face of corners that are not there.")
            # A number below 0 counts from the newest corner back.
            first, *others = (p - 1 if p > 0 else len(corners) + p for p in places)
            faces += [(first, *pair) for pair in pairwise(others)]
            if len(faces) > TRIANGLES:
                refuse_many(len(faces))
    soup: Array = np.array(corners).reshape(-1, 3)[np.array(faces, int).reshape(-1, 3)]
    return soup


def _three_mf(data: bytes) -> Array:
    import numpy as np

    from scadgen.meshfiles.three_mf import ROOT, placed

    soups = [np.zeros((0, 3, 3))]
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        size = sum(entry.file_size for entry in archive.infolist())
        if size > BYTES:
            raise JobError(too_much(f"{size / 1e6:.0f} MB when unpacked"))
        if not any(name.lower() == ROOT for name in archive.namelist()):
            raise JobError("not a 3MF file: no 3D/3dmodel.model in it.")
        for soup in placed(archive):
            soups.append(soup)
            refuse_many(sum(map(len, soups)))
    return np.concatenate(soups)


_READERS: dict[str, Callable[[bytes], Array]] = {".stl": _stl, ".3mf": _three_mf, ".obj": _obj}
