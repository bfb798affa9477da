"""Random mesh files, most of them hurt hinges, and what inspecting one comes to."""

from __future__ import annotations

import functools
import random
import traceback
from pathlib import Path

import numpy as np

from scadgen.hinge.family import all_families
from scadgen.hinge.meshing import mesh
from scadgen.inspection import Asked, inspect
from scadgen.meshfiles.writing import stl, three_mf
from scadgen.tables.documents import JobError
from tests.fuzz.draw import FEW_FACETS, hurt, random_of
from tests.fuzz.outcome import CRASH, NOT_PROVEN, PROVEN, REFUSED, UNCLEAR, Outcome, is_clear

#: What the table calls them.
ROW = "mesh files"

_HEAD, _TRIANGLE = 84, 50
_CORNERS = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("rest", "<u2")])


def mesh_file(seed: int, number: int) -> tuple[str, bytes]:
    """The ending of a file's name, and its bytes: noise, or a hinge that was hurt somehow."""
    rng = random_of(seed, number)
    way = rng.choice([_noise, _bytes_changed, _packed, _triangles_gone, _moved, _resized, _soup])
    kind, data = way(rng)
    return kind, data


def inspected(kind: str, data: bytes, folder: Path) -> Outcome:
    """Inspect such a file: refused in one line, or proven, or not."""
    path = folder / f"part{kind}"
    path.write_bytes(data)
    try:
        passed = inspect(path, Asked(layers=(0.3,))).passed
    except JobError as error:
        clear = is_clear(error)
        ends = (REFUSED,) if clear else (REFUSED, UNCLEAR)
        return Outcome(ends, ROW, "" if clear else str(error), data)
    except Exception:
        return Outcome((CRASH,), ROW, traceback.format_exc(), data)
    return Outcome((PROVEN if passed else NOT_PROVEN,), ROW)


@functools.cache
def _stl_of(family: str, part: str = "both") -> bytes:
    return stl(mesh(all_families()[family](facets=FEW_FACETS), part))


def _whole(rng: random.Random) -> bytes:
    return _stl_of(rng.choice([*all_families()]))


def _noise(rng: random.Random) -> tuple[str, bytes]:
    head = rng.choice([b"", b"solid x\nfacet normal 0 0 1\n", b"PK\x03\x04", b"v 1 2 3\nf 1 2 3\n"])
    return rng.choice([".stl", ".3mf", ".obj"]), head + rng.randbytes(rng.randrange(400))


def _bytes_changed(rng: random.Random) -> tuple[str, bytes]:
    return ".stl", hurt(rng, _whole(rng))


def _packed(rng: random.Random) -> tuple[str, bytes]:
    hinge = all_families()[rng.choice([*all_families()])](facets=FEW_FACETS)
    data = three_mf("lid", "A lid", {part: mesh(hinge, part) for part in ("fixed", "moving")})
    return ".3mf", hurt(rng, data) if rng.random() < 0.8 else data


def _triangles_gone(rng: random.Random) -> tuple[str, bytes]:
    found = _triangles(_whole(rng))
    share = rng.choice([0.001, 0.05, 0.6, 1])
    return ".stl", _stl(np.array([one for one in found if rng.random() >= share], found.dtype))


def _moved(rng: random.Random) -> tuple[str, bytes]:
    """Some triangles shifted: holes, crossings, and numbers that are none."""
    found = _triangles(_whole(rng))
    for _ in range(rng.randrange(1, 6)):
        at = rng.randrange(len(found))
        found["corners"][at] += rng.choice([0.01, 3, 1e4, 1e30, np.nan])
    return ".stl", _stl(found)


def _resized(rng: random.Random) -> tuple[str, bytes]:
    """Another unit, another place, or one half alone."""
    hinge = rng.choice([*all_families()])
    found = _triangles(_stl_of(hinge, rng.choice(["both", "fixed"])))
    found["corners"] *= rng.choice([1, 0.001, 1 / 25.4, 0.5, -1, 1000])
    found["corners"] += rng.choice([0, -7.5, 1000])
    return ".stl", _stl(found)


def _soup(rng: random.Random) -> tuple[str, bytes]:
    """Triangles anywhere."""
    found = np.zeros(rng.randrange(1, 40), _CORNERS)
    near = rng.choice([3, 20])
    drawn = [rng.uniform(0, near) for _ in range(9 * len(found))]
    digits = rng.choice([0, 15])  # on whole millimetres many corners and edges meet
    found["corners"] = np.reshape(np.round(drawn, digits), (-1, 3, 3))
    return ".stl", _stl(found)


def _triangles(data: bytes) -> np.ndarray:
    return np.frombuffer(data, _CORNERS, offset=_HEAD).copy()


def _stl(triangles: np.ndarray) -> bytes:
    return bytes(_HEAD - 4) + len(triangles).to_bytes(4, "little") + triangles.tobytes()
