"""Solids as the bytes of STL and 3MF files."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from scadgen.text.quoting import xml, xml_attribute
from scadgen.version import VERSION

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.meshfiles.carried import Proof

DIGITS = 5  # of a millimetre; finer than any printer, coarser than STL's numbers up to 100 mm

#: A binary STL: bytes of its head, which says nothing, and of the count; then each triangle.
STL_HEAD, STL_COUNT = 80, 4
STL_FACET = [("normal", "<f4", (3,)), ("corners", "<f4", (3, 3)), ("rest", "V2", ())]
FLAT = 100 * 2.0**-52  # mm2; a triangle of no more has no area that doubles can tell


def stl(solid: Manifold) -> bytes:
    """Binary STL of ``solid``, in mm."""
    import numpy as np

    corners, triangles = _surface(solid)
    facets = np.zeros(len(triangles), STL_FACET)
    facets["corners"] = corners[triangles]
    facets["normal"] = unit_normals(corners[triangles].astype(float))
    return bytes(STL_HEAD) + len(facets).to_bytes(STL_COUNT, "little") + facets.tobytes()


def unit_normals(facets: Any) -> Any:
    """Unit normals; (0, 0, 0) for a triangle without an area, as STL has it."""
    import numpy as np

    across = np.cross(facets[:, 1] - facets[:, 0], facets[:, 2] - facets[:, 1])
    x, y, z = (across * across).T
    length = np.sqrt(x + y + z)
    flat = length <= FLAT
    across[flat], length[flat] = 0, 1
    return across * (1 / length)[:, None]


def three_mf(
    name: str, title: str, bodies: Mapping[str, Manifold], proof: Proof | None = None
) -> bytes:
    """3MF of the named bodies, in mm, held together as the one object ``name``.

    The bodies stay apart, each with its name. The same bodies give the same bytes. ``proof``: what
    was proven of them, which the file then carries.
    """
    plain = packed({**PACKAGE_PARTS, MODEL: "".join(_model(name, title, bodies))})
    if proof is None:
        return plain
    from scadgen.meshfiles.stamping import proof_parts, stamped

    parts, made = proof_parts(plain, proof)
    model = "".join(_model(name, title, bodies, stamped(proof, made)))
    return packed({**parts, MODEL: model})


def packed(parts: Mapping[str, str | bytes]) -> bytes:
    """The parts of a package, by path, as its bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for path, text in parts.items():
            entry = zipfile.ZipInfo(path)  # dated 1980, so that nothing depends on the clock
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3
            archive.writestr(entry, text)
    return out.getvalue()


_XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_3MF = "http://schemas.microsoft.com/3dmanufacturing"
MODEL, CONTENT_TYPES, RELATIONS = "3D/3dmodel.model", "[Content_Types].xml", "_rels/.rels"
#: By the ending of a name what every package holds; by a relationship's type, where it leads.
TYPES = {
    "rels": "application/vnd.openxmlformats-package.relationships+xml",
    "model": "application/vnd.ms-package.3dmanufacturing-3dmodel+xml",
}
LEADS = ((f"{_3MF}/2013/01/3dmodel", f"/{MODEL}"),)


def content_types(types: Mapping[str, str]) -> str:
    """The part that tells what the parts of a package are, by the endings of their names."""
    rows = (f'<Default Extension="{end}" ContentType="{kind}"/>' for end, kind in types.items())
    return f'{_XML}<Types xmlns="{_PACKAGE}/content-types">{"".join(rows)}</Types>'


def relations(leads: Iterable[tuple[str, str]]) -> str:
    """The part that tells where relationships lead: pairs of a type and the path of a part."""
    rows = (
        f'<Relationship Id="{f"r{n}" if n else "model"}" Type="{kind}" Target="{path}"/>'
        for n, (kind, path) in enumerate(leads)
    )
    return f'{_XML}<Relationships xmlns="{_PACKAGE}/relationships">{"".join(rows)}</Relationships>'


#: By path what every 3MF holds beside its model.
PACKAGE_PARTS = {CONTENT_TYPES: content_types(TYPES), RELATIONS: relations(LEADS)}


def opening(title: str, spaces: str = "", more: str = "") -> str:
    """How the model of a 3MF begins. spaces: further namespaces; more: further metadata."""
    return (
        f'{_XML}<model unit="millimeter" xml:lang="en" xmlns="{_3MF}/core/2015/02"{spaces}>\n'
        f'<metadata name="Title">{xml(title)}</metadata>\n'
        f'<metadata name="Application">scadgen {VERSION}</metadata>\n{more}'
    )


def _model(
    name: str, title: str, bodies: Mapping[str, Manifold], told: tuple[str, str] = ("", "")
) -> Iterator[str]:
    whole = len(bodies) + 1
    yield f"{opening(title, *told)}<resources>\n"
    for number, (body, solid) in enumerate(bodies.items(), 1):
        yield from _object(number, body, solid)
    yield f'<object id="{whole}" name={xml_attribute(name)} type="model"><components>\n'
    for number in range(1, whole):
        yield f'<component objectid="{number}"/>\n'
    yield "</components></object>\n</resources>\n"
    yield f'<build><item objectid="{whole}"/></build>\n</model>\n'


def _object(number: int, name: str, solid: Manifold) -> Iterator[str]:
    corners, triangles = _surface(solid)
    yield f'<object id="{number}" name={xml_attribute(name)} type="model"><mesh><vertices>\n'
    for x, y, z in corners.tolist():
        yield f'<vertex x="{x:.{DIGITS}f}" y="{y:.{DIGITS}f}" z="{z:.{DIGITS}f}"/>\n'
    yield "</vertices><triangles>\n"
    for a, b, c in triangles.tolist():
        yield f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n'
    yield "</triangles></mesh></object>\n"


def _surface(solid: Manifold) -> tuple[Any, Any]:
    """Corners (float32) and triangles of ``solid``, as a reader of the file puts them together.

    Two corners closer than the file's numbers can tell become one, and triangles that vanish with
    that are left out; else the reader would find the surface torn there.
    """
    import numpy as np

    fine = solid.as_original().simplify(10**-DIGITS).to_mesh64()
    rounded = fine.vert_properties[:, :3].round(DIGITS).astype(np.float32) + np.float32(0)
    corners, place = np.unique(rounded, axis=0, return_inverse=True)
    triangles = place.reshape(-1)[fine.tri_verts]
    triangles = triangles[(triangles != np.roll(triangles, 1, axis=1)).all(axis=1)]
    _, back, uses = np.unique(
        np.sort(triangles, axis=1), axis=0, return_inverse=True, return_counts=True
    )
    return corners, triangles[uses[back.reshape(-1)] == 1]
