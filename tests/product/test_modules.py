"""Modules of a model that are alike: OpenSCAD would draw another body than was proven."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from scadgen.meshfiles.writing import stl
from scadgen.product.bodies import Plate
from scadgen.product.building import mechanism
from scadgen.product.carried import made
from scadgen.product.outputs import product_file_names, product_files
from scadgen.product.proving import check_product
from scadgen.tables.documents import JobError
from tests import engine
from tests.product.support import book, loaded

PLATE = "translate([-30, -20, 0]) cube([60, 40, 4]);"
KNOB = f"{PLATE} translate([0, 0, 3]) cylinder(r = 10, h = 8);"
B = f"module b() {{ {KNOB} }}"
BODY = """[bodies.{name}]
form = "scad"
file = "{file}.scad"
module = "{module}"
"""
JOINT = """[joints.{name}]
family = "side_cones"
fixed = "{fixed}"
moving = "{moving}"
place = [0, 27, 90]
moving_place = [0, 27, -90]
[joints.{name}.size]
length = 40
knuckles = 2
leaf_length = 0
leaf_thickness = 2
facets = 16
"""
TRAY = """[bodies.{name}]
form = "tray"
length = 60
width = 40
height = 8
wall = 2
floor = 1.6
"""
PRINTERS = "[printers]\nlayer_heights = [0.2]\n"
HINGE = JOINT.format(name="hinge", fixed="low", moving="lid")


def _saved(folder: Path, **files: str) -> None:
    for name, text in files.items():
        (folder / f"{name}.scad").write_text(text, encoding="utf-8")


@pytest.mark.openscad
@pytest.mark.parametrize(
    ("files", "bodies"),
    [
        (
            {"one": f"module body() {{ {PLATE} }}", "two": f"module body() {{ {KNOB} }}"},
            {"low": ("one", "body"), "lid": ("two", "body")},
        ),
        (
            {
                "one": f"module low() {{ {PLATE} }}",
                "two": f"module low() cube(); module lid_drawn() {{ {KNOB} }}",
            },
            {"low": ("one", "low"), "lid": ("two", "lid_drawn")},
        ),
        (
            {"one": f"module side_cones() cube(); module a() {{ {PLATE} }} {B}"},
            {"low": ("one", "a"), "lid": ("one", "b")},
        ),
    ],
    ids=["one name in two files", "a part of another file", "the name of a family"],
)
def test_the_model_draws_the_modules_that_were_proven(
    files: dict[str, str], bodies: dict[str, tuple[str, str]], tmp_path: Path
) -> None:
    import trimesh

    _saved(tmp_path, **files)
    told = [BODY.format(name=n, file=f, module=m) for n, (f, m) in bodies.items()]
    product = loaded(tmp_path / "p.toml", "".join(('name = "p"\n', *told, HINGE, PRINTERS)))
    given = product_files(check_product(product), tmp_path)
    assert list(given) == product_file_names(product)
    for name, data in given.items():
        (tmp_path / name).write_bytes(data)
    there = engine.run(tmp_path / "p.scad", tmp_path).mesh
    ours = trimesh.load_mesh(tmp_path / "p.stl")
    assert there.volume == pytest.approx(ours.volume, rel=1e-4)
    assert there.bounds == pytest.approx(ours.bounds, abs=1e-3)


@pytest.mark.openscad
@pytest.mark.parametrize("module", ["tray", "lid_body", "side_cones"])
def test_a_module_that_is_called_as_one_of_the_model_s_own_is_refused(
    module: str, tmp_path: Path
) -> None:
    _saved(tmp_path, lid=f"module {module}() {{ {PLATE} }}")
    body = BODY.format(name="lid", file="lid", module=module)
    text = f'name = "p"\n{TRAY.format(name="low")}{body}{HINGE}'
    with pytest.raises(JobError, match=f'module = "{module}"; the model has a module') as caught:
        loaded(tmp_path / "p.toml", text)
    assert caught.value.key == "bodies.lid.module"


@pytest.mark.openscad
def test_a_body_s_file_that_would_be_a_family_s_is_refused(tmp_path: Path) -> None:
    _saved(tmp_path, one=f"module a() {{ {PLATE} }}", two=f"module b() {{ {PLATE} }}")
    bodies = BODY.format(name="low", file="one", module="a")
    bodies += BODY.format(name="cones", file="two", module="b")
    hinge = JOINT.format(name="hinge", fixed="low", moving="cones")
    with pytest.raises(JobError, match="side_cones; name one of them apart"):
        loaded(tmp_path / "p.toml", f'name = "side"\n{bodies}{hinge}')


@pytest.mark.parametrize(("name", "pieces"), [("one_piece", 1), ("piece_1", 1), ("piece_2", 2)])
def test_a_body_that_is_called_as_a_piece_is_in_the_givenbeside_it(name: str, pieces: int) -> None:
    """Files hold a solid for each title: of two that are alike one would be left out."""
    one = book()
    bodies = {f"{body}_{k}": form for k in range(pieces) for body, form in one.bodies.items()}
    joints = {
        f"spine_{k}": replace(one.joints["spine"], fixed=f"front_{k}", moving=f"cover_{k}")
        for k in range(pieces)
    }
    bodies = {
        body: replace(form, at=(100.0 * k, 0.0)) for k, (body, form) in enumerate(bodies.items())
    }
    part = Plate(length=9, width=9, height=4, at=(0.0, 200.0), loose=True)
    product = replace(one, bodies={**bodies, name: part}, joints=joints)
    held = made(mechanism(product)).values()
    assert len(held) == pieces + 1
    assert min(solid.volume() for solid in held) == pytest.approx(9 * 9 * 4)


def test_bodies_whose_givendiffer_in_case_only_are_refused(tmp_path: Path) -> None:
    (tmp_path / "lid.stl").write_bytes(stl(Plate(length=60, width=40, height=4).solid))
    body = '[bodies.{}]\nform = "model"\nfile = "lid.stl"\n'
    hinge = JOINT.format(name="hinge", fixed="Lid", moving="lid")
    with pytest.raises(JobError, match="its file is that of Lid"):
        loaded(tmp_path / "p.toml", f'name = "p"\n{body.format("Lid")}{body.format("lid")}{hinge}')


def test_names_that_would_give_two_modules_one_name_are_refused(tmp_path: Path) -> None:
    """Joint ``a`` on body ``b_on_c``, and joint ``a_on_b`` on body ``c``."""
    names = ("b_on_c", "d", "c")
    bodies = "".join(TRAY.format(name=name) for name in names)
    size = '[joints.{0}.size]\nfacets = 16\n[joints.{0}]\nfamily = "side_cones"\n'
    first = f'{size.format("a")}fixed = "b_on_c"\nmoving = "d"\n'
    second = f'{size.format("a_on_b")}fixed = "d"\nmoving = "c"\nedge = "left"\n'
    with pytest.raises(JobError, match="the model would have two modules a_on_b_on_c"):
        loaded(tmp_path / "p.toml", f'name = "p"\n{bodies}{first}{second}')
    other = second.replace("a_on_b", "z")
    assert loaded(tmp_path / "p.toml", f'name = "p"\n{bodies}{first}{other}').joints
