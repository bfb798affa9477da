"""The parts that a 3MF package builds, where they stand.

Sources: 3MF core specification 1.3 (objects, components, items, transforms, units, required
extensions) and 3MF production extension 1.2 (objects in further files of the package).
"""

from __future__ import annotations

import zipfile
from array import array
from collections.abc import Callable, Iterator, Mapping, MutableSequence
from dataclasses import dataclass, field
from typing import IO, TYPE_CHECKING, Any, cast
from xml.parsers import expat

from scadgen.meshfiles.limits import TRIANGLES, refuse_many
from scadgen.meshfiles.meant import refuse_other_parts
from scadgen.meshfiles.package import refuse_two_models
from scadgen.tables.documents import JobError
from scadgen.text.quoting import visible

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: The file of a package that says what is built.
ROOT = "3d/3dmodel.model"
#: Millimetres to the units of 3MF (Source: 3MF core specification, ST_Unit).
UNITS = {
    "micron": 0.001,
    "millimeter": 1.0,
    "centimeter": 10.0,
    "inch": 25.4,
    "foot": 304.8,
    "meter": 1000.0,
}
#: What an object is that is printed as the solid it is; others are supports and the like.
MODEL = "model"
#: Most parts that are put together, and how deep parts may be made of parts.
COPIES, LEVELS = 1000, 50
#: Where counting stops: parts of parts can ask for numbers that are long themselves.
_COUNTED = 10**15

_EXTENSIONS = "http://schemas.microsoft.com/3dmanufacturing/"
#: What a file may require: further files, and what changes no shape.
_READ = {
    _EXTENSIONS + name
    for name in ("production/2015/06", "material/2015/02", "trianglesets/2021/07")
}

Attributes = Mapping[str, str]


def placed(archive: zipfile.ZipFile) -> Iterator[Array]:
    """The triangles of each part that is built, as (count, 3, 3), in mm.

    Items that an editor has switched off are none. Raises JobError for a package that builds
    nothing or too much, or what is no solid of the print, that can be read in two ways, or that has
    an unknown unit or a required extension that changes shapes; ValueError for one that is damaged.
    """
    refuse_two_models(archive, ROOT)
    refuse_other_parts(archive)
    files = {name.strip("/").lower(): name for name in reversed(archive.namelist())}
    models = _Models(archive, files)
    root = models[ROOT]
    if root.unit.rstrip("s") not in UNITS:
        raise JobError(f"its unit is '{root.unit[:40]}'; it must be one of {', '.join(UNITS)}.")
    if not root.items:
        why = "all its items are switched off" if root.off else "it has no items"
        raise JobError(f"nothing is built in it: {why}.")
    built = sum(_weight(models, item)[0] for item in root.items)
    if built > COPIES:
        raise JobError(f"made of {built:,} parts; at most {COPIES:,} are put together.")
    for item in root.items:
        for soup in _soups(models, item, item.matrix()):
            yield soup * UNITS[root.unit.rstrip("s")]


@dataclass
class _Use:
    """An object that is put somewhere: its number, its file and its transform's text."""

    number: str
    file: str
    transform: str | None

    def matrix(self) -> Array:
        """As 4 x 4, to multiply rows (x, y, z, 1) with."""
        import numpy as np

        found = np.eye(4)
        if self.transform is not None:
            numbers = [float(word) for word in self.transform.split()]
            if len(numbers) != 12:
                raise ValueError(f"a transform of {len(numbers)} numbers; it must be 12")
            found[:, :3] = np.reshape(numbers, (4, 3))
        return found


@dataclass
class _Object:
    """A mesh, or objects put together; ``weight``: parts in it and its levels, once counted.

    kind: what it is for, as a model, or a support.
    """

    corners: MutableSequence[float] = field(default_factory=lambda: array("d"))
    faces: MutableSequence[int] = field(default_factory=lambda: array("q"))
    uses: list[_Use] = field(default_factory=list)
    weight: tuple[int, int] | None = None
    kind: str = MODEL

    def soup(self) -> Array:
        """Its own triangles."""
        import numpy as np

        corners = np.array(self.corners, float).reshape(-1, 3)
        faces = np.array(self.faces, np.int64).reshape(-1, 3)
        if faces.size and not (faces.min() >= 0 and faces.max() < len(corners)):
            raise ValueError("a triangle of corners that are not there")
        return cast("Array", corners[faces])


class _Models(dict[str, "_Model"]):
    """The model files of a package by their names, each read when it is first asked for."""

    def __init__(self, archive: zipfile.ZipFile, files: Mapping[str, str]) -> None:
        super().__init__()
        self.archive, self.files = archive, files

    def __missing__(self, name: str) -> _Model:
        if name not in self.files:
            raise ValueError(f"the file '{name}' is not in it")
        self[name] = found = _Model(name)
        with self.archive.open(self.files[name]) as file:
            found.read(file)
        return found

    def used(self, use: _Use) -> _Object:
        """The object that a use puts somewhere."""
        objects = self[use.file].objects
        if use.number not in objects:
            raise ValueError(f"object {use.number} is used, but not there")
        return objects[use.number]


class _Model:
    """One model file: its unit, its objects, and the items that it builds.

    Only elements in the namespace of its root count; extensions have some of the same names.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self.unit = "millimeter"
        self.objects: dict[str, _Object] = {}
        self.items: list[_Use] = []
        self.off = 0
        self._now = _Object()
        self._triangles = 0
        self._spaces: dict[str | None, str] = {}
        self._elements: dict[str, Callable[[Attributes], None]] = {}

    def read(self, file: IO[bytes]) -> None:
        """Take in its text; ValueError if it is no such file."""
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartNamespaceDeclHandler = self._space
        parser.StartElementHandler = self._start
        try:
            parser.ParseFile(file)
        except KeyError as missing:
            raise ValueError(f"an element in it has no '{missing.args[0]}'") from None

    def _doctype(self, *_: object) -> None:
        """Without one there are no entities, which can make much out of little."""
        raise ValueError("it declares a document type, which 3MF has not")

    def _space(self, prefix: str | None, name: str) -> None:
        self._spaces.setdefault(prefix, name)

    def _start(self, name: str, attributes: Attributes) -> None:
        if not self._elements:
            self._root(name, attributes)
        elif name in self._elements:
            self._elements[name](attributes)

    def _root(self, name: str, attributes: Attributes) -> None:
        space, _, tag = name.rpartition(" ")
        if tag != "model":
            raise ValueError(f"its root is <{tag[:40]}>, not <model>")
        self.unit = attributes.get("unit", self.unit)
        for prefix in attributes.get("requiredextensions", "").split():
            needed = self._spaces.get(prefix, prefix)
            if needed not in _READ:
                raise JobError(f"it needs the extension '{needed[:80]}' of 3MF, which is not read.")
        elements = {
            "object": self._object,
            "vertex": self._vertex,
            "triangle": self._triangle,
            "component": self._component,
            "item": self._item,
        }
        self._elements = {f"{space} {tag}".lstrip(): act for tag, act in elements.items()}

    def _object(self, attributes: Attributes) -> None:
        number = attributes["id"]
        if number in self.objects:
            raise ValueError(f"object {number} is there twice")
        self.objects[number] = self._now = _Object(kind=attributes.get("type", MODEL))

    def _vertex(self, at: Attributes) -> None:
        self._now.corners.extend((float(at["x"]), float(at["y"]), float(at["z"])))

    def _triangle(self, of: Attributes) -> None:
        self._triangles += 1
        if self._triangles > TRIANGLES:
            refuse_many(self._triangles)
        self._now.faces.extend((int(of["v1"]), int(of["v2"]), int(of["v3"])))

    def _component(self, attributes: Attributes) -> None:
        self._now.uses.append(self._use(attributes))

    def _item(self, attributes: Attributes) -> None:
        if attributes.get("printable", "1") in ("0", "false"):
            self.off += 1
        else:
            self.items.append(self._use(attributes))

    def _use(self, attributes: Attributes) -> _Use:
        paths = (value for name, value in attributes.items() if name.endswith(" path"))
        file = next(paths, self.name).strip("/").lower()
        if file != self.name != ROOT:
            raise ValueError("a part from a third file: only the first file may name others")
        return _Use(attributes["objectid"], file, attributes.get("transform"))


def _weight(models: _Models, use: _Use, above: int = 0) -> tuple[int, int]:
    """How many parts a use puts together, and in how many levels: each object is counted once."""
    one = models.used(use)
    if one.weight is None and above < LEVELS:
        below = [_weight(models, part, above + 1) for part in one.uses]
        count = sum(parts for parts, _ in below) or 1
        one.weight = min(count, _COUNTED), 1 + max((levels for _, levels in below), default=0)
    if one.weight is None or one.weight[1] > LEVELS:
        raise JobError(f"parts of parts of parts: more than {LEVELS} levels, or made of itself.")
    return one.weight


def _soups(models: _Models, use: _Use, matrix: Array) -> Iterator[Array]:
    import numpy as np

    one = models.used(use)
    if one.kind != MODEL:
        kind = visible(one.kind)[:40]
        which = f"object {visible(use.number)[:40]}"
        raise JobError(f"{which} is of type '{kind}', and no model: no solid that prints.")
    if one.faces:
        soup = one.soup() @ matrix[:3, :3] + matrix[3, :3]
        yield soup[:, ::-1] if np.linalg.det(matrix[:3, :3]) < 0 else soup
    for part in one.uses:
        yield from _soups(models, part, part.matrix() @ matrix)
