"""A bearing that is left open is chosen for its bodies, and told so that it can be kept."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from scadgen import SideCones, WaistedSpindle
from scadgen.cli.main import main
from scadgen.hinge.family import Hinge
from scadgen.product.bodies import Plate
from scadgen.product.building import mechanism
from scadgen.product.choosing import choices, choices_data
from scadgen.product.model import Product, ProductJoint
from scadgen.strength.materials import material
from scadgen.tables.documents import JobError
from tests.product.support import loaded, tray
from tests.product.test_reading import BODIES, HEAD

PETG = material("petg")
OPEN = """[joints.hinge]
fixed = "box"
moving = "lid"
closes = true
"""
PRINTERS = """[printers]
layer_heights = [0.2]
material = "petg"
"""


@pytest.fixture(scope="module")
def chosen(tmp_path_factory: pytest.TempPathFactory) -> Product:
    path = tmp_path_factory.mktemp("open") / "box.toml"
    return loaded(path, HEAD + BODIES + OPEN + PRINTERS)


def test_the_hinge_of_a_box_is_chosen_to_fit_its_walls_and_its_height(chosen: Product) -> None:
    (fitted,) = chosen.fitted.values()
    hinge = fitted.hinge
    assert hinge.serves == "hinge"
    assert getattr(hinge, "axis_height") == (14 + 8) / 2  # noqa: B009 - no field of every hinge
    assert getattr(hinge, "length") == 50 - 2 * 2  # noqa: B009
    (joint,) = mechanism(chosen).joints
    assert joint.asked == (0, 180)


def test_what_was_chosen_is_told_with_reasons_and_written_down_it_is_the_same(
    chosen: Product, tmp_path: Path
) -> None:
    told = list(choices(chosen))
    assert "its bearing is chosen to fit its bodies" in told[0]
    assert any("favourite: " in line for line in told)
    assert any(" no: " in line for line in told)
    written = choices_data(chosen)["hinge"]["written"]
    title, family, *more = written.splitlines()
    kept = f"{OPEN}{family}\n" + "\n".join(more) + "\n"
    assert title == "[joints.hinge]"
    again = loaded(tmp_path / "kept.toml", HEAD + BODIES + kept + PRINTERS)
    assert not list(choices(again))
    assert [f.hinge for f in again.fitted.values()] == [f.hinge for f in chosen.fitted.values()]


def test_the_command_tells_programs_what_was_chosen(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "box.toml"
    path.write_text(HEAD + BODIES + OPEN + PRINTERS, encoding="utf-8")
    assert main(["product", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["passed"]
    assert "family = " in told["chosen"]["hinge"]["written"]
    assert "favourite: " in told["chosen"]["hinge"]["how"]


def test_values_that_are_given_are_kept_and_the_others_found() -> None:
    given = {"cone": 9.0, "facets": 16}
    joint = ProductJoint(
        family=SideCones, fixed="box", moving="lid", closes=True, values=given, find=True
    )
    made = Product(
        name="small_box", bodies={"box": tray(14), "lid": tray(8)}, joints={"hinge": joint},
        layer_heights=(0.2,), plastic=PETG,
    )  # fmt: skip
    (decided,) = made.decided.values()
    values = decided.joint.values
    assert given.items() <= values.items()
    assert not any(line.startswith("  rod_loops") for line in decided.how)
    assert set(values) > set(given)
    assert not any(line.startswith("cone = ") for line in decided.written)


def test_what_stands_on_its_edge_gets_an_upright_pivot_as_high_as_it_is() -> None:
    plate = Plate(length=50, width=4, height=60)
    joint = ProductJoint(
        family=Hinge, fixed="front", moving="back", edge="right", moving_edge="left"
    )
    made = Product(
        name="cover", bodies={"front": plate, "back": plate}, joints={"spine": joint},
        layer_heights=(0.2,), plastic=PETG,
    )  # fmt: skip
    (fitted,) = made.fitted.values()
    assert getattr(fitted.hinge, "height") == 60  # noqa: B009 - no field of every hinge
    assert type(fitted.hinge).stance() == WaistedSpindle.stance()


def test_nothing_is_sized_without_a_plastic_and_what_does_not_serve_is_told(
    chosen: Product,
) -> None:
    with pytest.raises(JobError, match=r"printers\.material: missing; joints\.hinge is sized"):
        replace(chosen, plastic=None).fitted  # noqa: B018
    (joint,) = chosen.joints.values()
    low = {name: tray(3) for name in ("box", "lid")}
    with pytest.raises(JobError, match=r"joints\.hinge\.family: no family serves here\. "):
        replace(chosen, bodies=low, joints={"hinge": joint}).fitted  # noqa: B018
