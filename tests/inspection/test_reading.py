"""Files that are read, and files that are refused: each with its own words, nothing written."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.cli.main import main
from scadgen.inspection.bodies import bodies
from scadgen.meshfiles.reading import read
from scadgen.meshfiles.writing import stl, three_mf
from scadgen.tables.documents import JobError
from tests.inspection.models import ascii_stl, soup

BALL = Manifold.sphere(6, 24)
PLATE = Manifold.cube((20, 9, 4)).translate((8, 0, 0))
BOTH = soup(BALL, PLATE)
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"


def obj(*solids: Manifold) -> bytes:
    """Wavefront text: every body an object, faces counted from the end of the list."""
    lines = []
    for number, solid in enumerate(solids):
        mesh = solid.to_mesh64()
        corners = mesh.vert_properties[:, :3]
        lines.append(f"o body{number}")
        lines += [f"v {x:.9g} {y:.9g} {z:.9g}" for x, y, z in corners]
        lines += [f"f {a}/1/1 {b}//2 {c}" for a, b, c in mesh.tri_verts.astype(int) - len(corners)]
    return "\n".join(lines).encode()


def packed(model: str, name: str = "3D/3dmodel.model") -> bytes:
    """A 3MF with this model in it."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, model)
    return out.getvalue()


def model(build: str, unit: str = "inch", more: str = "") -> str:
    """A 3MF model that holds a unit tetrahedron as object 1."""
    corners = ((0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1))
    vertices = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in corners)
    triangles = "".join(
        f'<triangle v1="{a}" v2="{b}" v3="{c}"/>'
        for a, b, c in ((0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2))
    )
    return (
        f'<model unit="{unit}" xmlns="{CORE}"><resources><object id="1" type="model"><mesh>'
        f"<vertices>{vertices}</vertices><triangles>{triangles}</triangles></mesh></object>"
        f"{more}</resources><build>{build}</build></model>"
    )


FORMATS: dict[str, Callable[[], bytes]] = {
    "binary.stl": lambda: (
        stl(BALL)[:80]
        + (len(BOTH)).to_bytes(4, "little")
        + b"".join(bytes(12) + np.asarray(t, "<f4").tobytes() + bytes(2) for t in BOTH)
    ),
    "text.STL": lambda: ascii_stl(BOTH),
    "named as a text.stl": lambda: b"solid facet".ljust(80) + FORMATS["binary.stl"]()[80:],
    "lines of two characters.stl": lambda: ascii_stl(BOTH).replace(b"\n", b" \r\n\t"),
    "capitals.stl": lambda: ascii_stl(BOTH).upper().replace(b"SOLID MODEL", b"SOLID M\xd6DEL"),
    "two.stl": lambda: ascii_stl(soup(BALL)) + ascii_stl(soup(PLATE)),
    "two.obj": lambda: obj(BALL, PLATE),
    "two.3mf": lambda: three_mf("ball", "", {"a": BALL, "b": PLATE}),
}


@pytest.mark.parametrize("name", FORMATS)
def test_every_format_gives_the_bodies(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_bytes(FORMATS[name]())
    found, notes = bodies(read(path))
    assert [body.volume for body in found] == pytest.approx([BALL.volume(), 720], rel=1e-5)
    assert found[1].box == pytest.approx((8, 0, 0, 28, 9, 4))
    assert notes == []


def test_faces_of_many_corners_are_cut_into_triangles(tmp_path: Path) -> None:
    path = tmp_path / "box.obj"
    corners = [(x, y, z) for x in (0, 3) for y in (0, 4) for z in (0, 5)]
    faces = ("1 2 4 3", "5 7 8 6", "1 5 6 2", "3 4 8 7", "1 3 7 5", "2 6 8 4")
    lines = [*("v {} {} {}".format(*corner) for corner in corners), *(f"f {f}" for f in faces)]
    path.write_text("\n".join(lines))
    found, notes = bodies(read(path))
    assert ([body.volume for body in found], notes) == ([60], [])


def test_3mf_keeps_units_and_places(tmp_path: Path) -> None:
    """Inches of 25.4 mm; two items of one part, one of them mirrored."""
    path = tmp_path / "two.3mf"
    path.write_bytes(
        packed(
            model(
                '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/>'
                '<item objectid="1" transform="-2 0 0 0 1 0 0 0 1 0 0 0"/>'
            )
        )
    )
    found, notes = bodies(read(path))
    assert [body.volume for body in found] == pytest.approx([25.4**3 / 3, 25.4**3 / 6])
    assert found[0].box == pytest.approx((-50.8, 0, 0, 0, 25.4, 25.4))
    assert found[1].box == pytest.approx((127, 0, 0, 152.4, 25.4, 25.4))
    assert notes == []


@pytest.mark.parametrize(("scale", "made"), [(1000.0, 0.001), (25.4, 1 / 25.4), (0.001, 1000.0)])
def test_scale_brings_back_millimetres(scale: float, made: float, tmp_path: Path) -> None:
    path = tmp_path / "ball.stl"
    path.write_bytes(ascii_stl(soup(BALL) * made))
    assert np.ptp(read(path, scale)[:, :, 2]) == pytest.approx(12)


NOISE = np.random.default_rng(8).bytes(5000)
PARTS = "".join(
    f'<object id="{k}" type="model"><components>'
    + f'<component objectid="{k - 1}"/>' * 10
    + "</components></object>"
    for k in range(2, 12)
)
ENTITIES = "".join(
    f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefghi", "bcdefghij", strict=True)
)

BAD: dict[str, tuple[str, bytes, str]] = {
    "empty": ("a.stl", b"", "the file is empty."),
    "blank": ("a.obj", b" \n \n", "the file is empty."),
    "unknown kind": ("a.step", b"ISO", "'.step' is no kind of file that is read; it must be .stl,"),
    "noise as STL": ("a.stl", NOISE, "not an STL file, or one cut short: 5000 bytes"),
    "noise as 3MF": ("a.3mf", NOISE, "cannot be read as 3MF: File is not a zip file"),
    "noise as OBJ": ("a.obj", NOISE, "not an OBJ file: it is no text."),
    "prose as STL": ("a.stl", b"solid advice", "not an STL file: too short to be one."),
    "OBJ with a curved surface": (
        "a.obj",
        obj(BALL) + b"\ncstype bspline\ndeg 3 3\nsurf 0 1 0 1 1 2 3 4\nend\n",
        "'surf 0 1 0 1 1 2 3 4': only faces are read.",
    ),
    "OBJ that calls another": (
        "a.obj",
        obj(BALL) + b"\ncall other.obj\n",
        "'call other.obj': only faces are read.",
    ),
    "prose as OBJ": ("a.obj", b"once upon a time", "no triangles in it."),
    "cut short": ("a.stl", stl(BALL)[:-70], "not an STL file, or one cut short: "),
    "text cut short": ("a.stl", ascii_stl(BOTH)[:9000], "ends before 'endsolid': it is cut short."),
    "second text cut short": (
        "a.stl",
        ascii_stl(BOTH[:8]) + ascii_stl(BOTH[8:])[:3000],
        "ends before 'endsolid': it is cut short.",
    ),
    "text without numbers": (
        "a.stl",
        ascii_stl(BOTH).replace(b"vertex ", b"vertex zero "),
        "cannot be read as STL: ",
    ),
    "text without its last end": (
        "a.stl",
        ascii_stl(BOTH[:8]) + b"solid second\n",
        "ends before 'endsolid': it is cut short.",
    ),
    "text of four corners to a facet": (
        "a.stl",
        ascii_stl(BOTH).replace(b"endloop", b"vertex 1 2 3\nendloop"),
        "cannot be read as STL: a facet that has not three corners.",
    ),
    "text of two numbers to a corner": (
        "a.stl",
        re.sub(rb"(vertex \S+ \S+) \S+", rb"\1", ascii_stl(BOTH)),
        "cannot be read as STL: corners that are not three numbers.",
    ),
    "text of a corner without numbers": (
        "a.stl",
        re.sub(rb"vertex .*", b"vertex ", ascii_stl(BOTH), count=1),
        "cannot be read as STL: corners that are not three numbers.",
    ),
    "prose of facets": (
        "a.stl",
        b"solidly made of facets",
        "ends before 'endsolid': it is cut short.",
    ),
    "no triangles": ("a.stl", bytes(84), "no triangles in it."),
    "no numbers": ("a.stl", stl(BALL)[:96] + b"\xff" * 12 + stl(BALL)[108:], "no finite numbers"),
    "too many": (
        "a.stl",
        bytes(80) + (2_000_001).to_bytes(4, "little") + bytes(2_000_001 * 50),
        "2,000,001 triangles: too much; at most 2,000,000 triangles are measured.",
    ),
    "metres": (
        "a.stl",
        ascii_stl(BOTH / 1000),
        "its largest side is 0.034 mm; a hinge has 1 mm at least. It looks like metres or inches: "
        "use a scale of 1000 or 25.4.",
    ),
    "micrometres": (
        "a.stl",
        ascii_stl(BOTH * 1000),
        "its largest side is 3.4e+04 mm; a hinge has 2000 mm at most.",
    ),
    "open": ("a.stl", ascii_stl(BOTH[1:]), "body 1 of 2 (around (0.00, 0.00, 0.00)) is not watert"),
    "no model in it": ("a.3mf", packed("", "readme.txt"), "no 3D/3dmodel.model in it."),
    "model cut short": ("a.3mf", packed(model("")[:300]), "cannot be read as 3MF: "),
    "nothing to build": ("a.3mf", packed(model("")), "nothing is built in it: it has no items."),
    "faces of nothing": (
        "a.obj",
        b"v 0 0 0\nv 9 0 0\nf 1 2 3\n",
        "'f 1 2 3': a face of corners that are not there.",
    ),
    "unknown unit": (
        "a.3mf",
        packed(model('<item objectid="1"/>', "cubit")),
        "its unit is 'cubit'; it must be one of micron, millimeter",
    ),
    "parts of parts of parts": (
        "a.3mf",
        packed(model('<item objectid="11"/>', more=PARTS)),
        "made of 10,000,000,000 parts; at most 1,000 are put together.",
    ),
    "entities of entities": (
        "a.3mf",
        packed(f'<!DOCTYPE m [<!ENTITY a "aaaaaaaaaa">{ENTITIES}]>' + model("&j;")),
        "cannot be read as 3MF: ",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_files_are_refused(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, data, words = BAD[name]
    path = tmp_path / file
    path.write_bytes(data)
    assert main(["inspect", str(path), "--picture", str(tmp_path / "spot.png")]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"scadgen: {path}: ")
    assert words in said.err
    assert said.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == [path]


def test_missing_files_and_folders_are_refused(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="cannot be read: No such file or directory"):
        read(tmp_path / "none.stl")
    (tmp_path / "folder.stl").mkdir()
    with pytest.raises(JobError, match="cannot be read: Is a directory"):
        read(tmp_path / "folder.stl")


def test_what_unpacks_to_too_much_is_not_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from scadgen.meshfiles import reading

    path = tmp_path / "a.3mf"
    path.write_bytes(packed(" " * 3_000_000))
    assert path.stat().st_size < 10_000
    monkeypatch.setattr(reading, "BYTES", 1_000_000)
    with pytest.raises(JobError, match="3 MB when unpacked: too much"):
        read(path)


@pytest.mark.parametrize("scale", [0.0, -1.0, float("nan"), float("inf")])
def test_a_scale_must_be_above_0(scale: float, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="it must be above 0"):
        read(tmp_path / "a.stl", scale)
