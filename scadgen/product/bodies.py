"""The bodies of a product: simple boxes, a maker's OpenSCAD module, a mesh from elsewhere."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from scadgen.printing.cuts import TOLERANCE
from scadgen.tables.documents import JobError
from scadgen.tables.limits import Limits
from scadgen.text.numbers import exact
from scadgen.text.quoting import shortened, visible
from scadgen.trees.to_scad import number

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.openscad.bounds import Bounds

#: The ways in which the sides of a box look, degrees from x.
EDGES = {"back": 90.0, "front": -90.0, "left": 180.0, "right": 0.0}
#: What a box may measure, by the name of the side.
SIDES = {
    "length": Limits("mm", 0.8, 1000, 60, "Length, along x"),
    "width": Limits("mm", 0.8, 1000, 40, "Width, along y"),
    "height": Limits("mm", 0.4, 500, 20, "Height, on the bed"),
    "wall": Limits("mm", 0.4, 100, 2, "Thickness of the walls"),
    "floor": Limits("mm", 0.2, 100, 2, "Thickness of the floor"),
}


@dataclass(frozen=True)
class Worked:
    """A number and how the model says it in OpenSCAD, in terms of what a maker may change."""

    value: float
    text: str

    @classmethod
    def of(cls, value: float) -> Worked:
        """A plain number."""
        return cls(value, number(round(value, 6)))


@dataclass(frozen=True, kw_only=True)
class Form(ABC):
    """A body as it prints, standing on the bed, before any joint is merged into it.

    at: where it stands if no joint says so, mm; turn: about the upright, degrees. loose: whether it
    is meant that no joint holds it. like: the name of the body that it is a copy of.
    """

    word: ClassVar[str]

    at: tuple[float, float] = (0.0, 0.0)
    turn: float = 0.0
    loose: bool = False
    like: str = ""

    @property
    @abstractmethod
    def solid(self) -> Manifold:
        """Its solid, mm, in its own coordinates. Raises JobError where there is none."""

    def top(self, name: str) -> Worked:
        """Its height; ``name`` is that of the body."""
        return Worked.of(self.solid.bounding_box()[5])

    def side(self, name: str, edge: str) -> tuple[Worked, Worked] | None:
        """From its middle to the outside of a side, and how long that side is, mm.

        None for a body whose sides nobody knows: then a joint tells its place.
        """
        return None

    def mesh_file(self) -> tuple[str, bytes] | None:
        """The mesh that was read for it: the ending of its name and its bytes; None without one."""
        return None

    @property
    def walls(self) -> float | None:
        """Thickness of what carries a hinge at a side, mm; None where nobody knows."""
        return None

    def upright(self, name: str, edge: str) -> float | None:
        """Thickness of what carries a standing hinge at a side, mm; None where nobody knows."""
        return None

    @property
    def corners(self) -> float:
        """What a hinge leaves free at either end of a side, mm."""
        return 0.0

    def refused_edge(self, edge: str) -> str:
        """Why no hinge sits at a side of it; empty where one does."""
        return ""


@dataclass(frozen=True, kw_only=True)
class Box(Form):
    """What trays and plates share: straight sides about its middle. Lengths in mm.

    Raises JobError for a side out of its range.
    """

    length: float
    width: float
    height: float

    def __post_init__(self) -> None:
        for side in self.sides():
            limits, value = SIDES[side], getattr(self, side)
            if not limits.accepts(value):
                raise JobError(limits.refusal(side, value), side)

    @classmethod
    def sides(cls) -> tuple[str, ...]:
        """The names of its measures."""
        return tuple(one.name for one in fields(cls) if one.name in SIDES)

    def top(self, name: str) -> Worked:
        return Worked(self.height, f"{self.like or name}_height")

    def side(self, name: str, edge: str) -> tuple[Worked, Worked]:
        across, along = ("width", "length") if edge in ("back", "front") else ("length", "width")
        named = self.like or name
        out = Worked(getattr(self, across) / 2, f"{named}_{across} / 2")
        return out, Worked(getattr(self, along), f"{named}_{along}")

    def block(self, less: float = 0.0, floor: float = 0.0) -> Manifold:
        """The box around it, narrower by ``less`` on each side and from ``floor`` up (mm)."""
        from manifold3d import Manifold

        x, y = self.length - 2 * less, self.width - 2 * less
        return Manifold.cube((x, y, self.height)).translate((-x / 2, -y / 2, floor))


@dataclass(frozen=True, kw_only=True)
class Plate(Box):
    """A solid plate."""

    word: ClassVar[str] = "plate"

    @property
    def solid(self) -> Manifold:
        return self.block()

    @property
    def walls(self) -> float:
        return self.height

    def upright(self, name: str, edge: str) -> float:
        return self.side(name, edge)[1].value


@dataclass(frozen=True, kw_only=True)
class Tray(Box):
    """An open-topped box of even walls on a floor."""

    word: ClassVar[str] = "tray"

    wall: float
    floor: float

    def __post_init__(self) -> None:
        super().__post_init__()
        inner = min(self.length, self.width) / 2
        if self.wall >= inner:
            words = f"it must be below {exact(inner)} mm, or nothing is left inside"
            works = f"This works: {exact(round(inner / 2, 1))}."
            raise JobError(f"wall = {exact(self.wall)} mm; {words}. {works}", "wall")
        if self.floor >= self.height:
            words = f"it must be below the height of {exact(self.height)} mm"
            works = f"This works: {exact(round(self.height / 2, 1))}."
            raise JobError(f"floor = {exact(self.floor)} mm; {words}. {works}", "floor")

    @property
    def solid(self) -> Manifold:
        return self.block() - self.block(self.wall, self.floor)

    @property
    def walls(self) -> float:
        return self.wall

    def upright(self, name: str, edge: str) -> float:
        return self.wall

    @property
    def corners(self) -> float:
        return self.wall


@dataclass(frozen=True, kw_only=True)
class Case(Box):
    """A box on its edge, open towards y: its floor stands upright, at the front.

    Nothing holds up what is over its hollow as it prints: so its ceiling climbs from the floor to
    the open side by 45 degrees, where it is as thick as the walls.
    """

    word: ClassVar[str] = "case"

    wall: float
    floor: float

    def __post_init__(self) -> None:
        super().__post_init__()
        deep = self.width - self.floor
        for side, most, than in (
            ("floor", self.width, "the width"),
            ("wall", self.length / 2, "half the length"),
            ("wall", (self.height - deep) / 2, "half of what its ceiling leaves of the height"),
        ):
            value = getattr(self, side)
            if value >= most:
                words = f"it must be below {than}, {exact(round(most, 6))} mm"
                works = f"This works: {exact(round(most / 2, 1))}."
                if most <= 2 * SIDES[side].low:
                    works = f"This works: height = {exact(round(deep + 4 * value, 1))}."
                raise JobError(f"{side} = {exact(value)} mm; {words}. {works}", side)

    @property
    def solid(self) -> Manifold:
        from manifold3d import CrossSection, Manifold

        back, low = self.width / 2, self.wall
        front, high = self.floor - back, self.height - self.wall
        section = [
            (front, low),
            (2 * back, low),
            (2 * back, high + back),
            (front, high - back + front),
        ]
        hollow = Manifold.extrude(CrossSection([section]), self.length - 2 * self.wall)
        way = [[0, 0, 1, self.wall - self.length / 2], [1, 0, 0, 0], [0, 1, 0, 0]]
        return self.block() - hollow.transform(way)

    @property
    def walls(self) -> float:
        return self.wall

    def upright(self, name: str, edge: str) -> float:
        return min(self.wall, self.width)

    def refused_edge(self, edge: str) -> str:
        return "" if edge in ("left", "right") else "a case is open at its back; it turns at a side"


@dataclass(frozen=True, kw_only=True)
class Scad(Form):
    """A module of an OpenSCAD file, which the program renders for the proof.

    bounds: what the program may take, and read besides what stands below the file's own folder.
    """

    word: ClassVar[str] = "scad"

    file: Path
    module: str
    bounds: Bounds | None = field(default=None, compare=False)

    @cached_property
    def _rendered(self) -> tuple[Manifold, bytes]:
        from tempfile import TemporaryDirectory

        from scadgen.openscad.bounds import Bounds
        from scadgen.openscad.chance import by_chance
        from scadgen.openscad.engine import rendered

        bounds = self.bounds or Bounds()

        if not self.file.is_file():
            raise JobError(f"file = {shortened(self.file.name)}; no such file.", "file")
        with TemporaryDirectory(prefix="scadgen-") as folder:
            call = Path(folder) / "body.scad"
            place = self.file.resolve()
            call.write_text(f"use <{place.as_posix()}>\n{self.module}();\n", encoding="utf-8")
            allowed = replace(bounds, folders=(*bounds.folders, place.parent))
            with rendered(call, {}, allowed) as drawing:
                self._refuse_warned(drawing.warnings)
                drawn = drawing.stl.read_bytes()
                if any(by_chance(drawing.read)):
                    with rendered(call, {}, allowed) as again:
                        self._refuse_other(drawn, again.stl.read_bytes())
                return single(drawing.stl, 1.0), drawn

    def _refuse_other(self, drawn: bytes, again: bytes) -> None:
        """A body that is another one each time is not the one that was proven."""
        if drawn != again:
            name = shortened(self.file.name)
            words = f"{self.module}() draws another body each time: rands() has no seed"
            raise JobError(f"file = {name}; {words}. Give it one: rands(0, 1, 5, 42).", "file")

    def _refuse_warned(self, warnings: Sequence[str]) -> None:
        """What OpenSCAD warns of it may have left out: nobody would look at that."""
        if warnings:
            name, said = shortened(self.file.name), visible(warnings[0])[:200].rstrip(".")
            words = f"OpenSCAD warns of {self.module}(): {said}"
            raise JobError(
                f"file = {name}; {words}. Mend that, so that nothing is missing.", "file"
            )

    @property
    def solid(self) -> Manifold:
        return self._rendered[0]

    def mesh_file(self) -> tuple[str, bytes]:
        return ".stl", self._rendered[1]


@dataclass(frozen=True, kw_only=True)
class Model(Form):
    """A mesh from elsewhere: STL, 3MF or OBJ. scale: millimetres to a unit of the file."""

    word: ClassVar[str] = "model"

    file: Path
    scale: float = 1.0

    @cached_property
    def _read(self) -> Manifold:
        return single(self.file, self.scale)

    @property
    def solid(self) -> Manifold:
        return self._read

    def mesh_file(self) -> tuple[str, bytes]:
        return self.file.suffix.lower(), self.file.read_bytes()


#: Every form by the word that a file says.
FORMS: dict[str, type[Form]] = {form.word: form for form in (Tray, Plate, Case, Scad, Model)}


def single(path: Path, scale: float) -> Manifold:
    """The one body in a mesh file, mm. Raises JobError for none, for several, or for one that
    reaches below the bed."""
    from scadgen.inspection.bodies import bodies
    from scadgen.meshfiles.reading import read

    found, _ = bodies(read(path, scale))
    if len(found) != 1:
        raise JobError(
            f"file = {shortened(path.name)}; {len(found)} bodies in it; it must be one.", "file"
        )
    lowest = found[0].solid.bounding_box()[2]
    if lowest < -TOLERANCE:
        words = f"it reaches down to z = {lowest:.4g} mm, below the bed at 0"
        raise JobError(f"file = {shortened(path.name)}; {words}; move it up.", "file")
    return found[0].solid
