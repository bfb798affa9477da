"""Products that tests share."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, ClassVar

from manifold3d import Manifold

from scadgen import SideCones, SlitLattice, WaistedSpindle
from scadgen.findings.finding import Finding
from scadgen.product.bodies import Form, Plate, Tray
from scadgen.product.model import Product, ProductJoint
from scadgen.product.proving import Proven
from scadgen.product.reading import load_product
from tests.support import ROOT

TEA = ROOT / "gallery" / "tea_sampler_box_product.toml"
QUICK = {"facets": 16, "cone": 8, "tip": 2, "wall": 2, "length": 30}


@dataclass(frozen=True, kw_only=True)
class Given(Form):
    """A body of any shape."""

    word: ClassVar[str] = "given"

    given: Manifold

    @property
    def solid(self) -> Manifold:
        return self.given


def tray(height: float, **sides: Any) -> Tray:
    """A small tray of that height, mm."""
    return Tray(**{"length": 50, "width": 30, "wall": 2, "floor": 1.6, "height": height} | sides)


def box(
    low: float = 14, lid: float = 8, others: dict[str, Any] | None = None, **values: Any
) -> Product:
    """A box with a lid that closes; values go to its hinge."""
    hinge = ProductJoint(
        family=SideCones, fixed="box", moving="lid", closes=True, values=QUICK | values
    )
    bodies = {"box": tray(low), "lid": tray(lid), **(others or {})}
    return Product(name="small_box", bodies=bodies, joints={"hinge": hinge}, layer_heights=(0.2,))


def chain(count: int) -> Product:
    """So many plates in a row, each turning in the one before."""
    names = [f"link_{k + 1}" for k in range(count)]
    joints = {
        f"pin_{k + 1}": ProductJoint(
            family=SideCones,
            fixed=names[k],
            moving=names[k + 1],
            moving_edge="front",
            values={"facets": 16, "swing": 90},
        )
        for k in range(count - 1)
    }
    bodies = {name: Plate(length=40, width=16, height=4) for name in names}
    return Product(name="chain", bodies=bodies, joints=joints, layer_heights=(0.2,))


def book() -> Product:
    """Two plates that a lattice joins."""
    plate = Plate(length=64, width=25, height=2.4)
    joint = ProductJoint(
        family=SlitLattice, fixed="front", moving="cover", values={"swing": 90, "facets": 16}
    )
    bodies = {"front": plate, "cover": plate}
    return Product(name="book", bodies=bodies, joints={"spine": joint}, layer_heights=(0.2,))


def cover() -> Product:
    """Two plates on edge, which fold face to face."""
    plate = Plate(length=40, width=3, height=50)
    joint = ProductJoint(
        family=WaistedSpindle,
        fixed="front",
        moving="back",
        edge="right",
        moving_edge="left",
        values={"setback": 5.5, "shaft": 9, "wall": 3, "swing": 180, "facets": 16},
    )
    bodies = {"front": plate, "back": plate}
    return Product(name="cover", bodies=bodies, joints={"spine": joint}, layer_heights=(0.2,))


def wallet(printed_at: float = 0, opens_to: float = 0, **joint: Any) -> Product:
    """Two plates on edge of different thickness, which close face on face."""
    half = {"printed_at": printed_at, "opens_to": opens_to}
    bodies = {
        "front": Plate(length=40, width=6, height=50),
        "back": Plate(length=40, width=8, height=50),
    }
    told: dict[str, Any] = {"edge": "right", "moving_edge": "left", **joint}
    spine = ProductJoint(
        family=WaistedSpindle,
        fixed="front",
        moving="back",
        closes=True,
        values={"shaft": 9, "leaf_thickness": 2.8, "facets": 16, "clearance": 0.35, **half},
        **told,
    )
    return Product(name="wallet", bodies=bodies, joints={"spine": spine}, layer_heights=(0.2,))


def tea(**changes: Any) -> Product:
    """The product of the gallery."""
    return replace(load_product(TEA), **changes)


def plain() -> Product:
    """The same without its catch, whose hook meets its keeper on the way, as it is meant to."""
    return tea(name="plain_box", catches={})


def named(proven: Proven, name: str) -> Finding:
    """The finding of that name."""
    (found,) = (found for found in proven.verdict.findings if found.name == name)
    return found


def loaded(path: Path, text: str) -> Product:
    """The product of a text, saved at a path."""
    path.write_text(text, encoding="utf-8")
    return load_product(path)
