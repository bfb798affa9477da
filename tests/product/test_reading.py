"""Products out of TOML: the same as in Python, and refused with the key and what would work."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from scadgen.meshfiles.writing import stl
from scadgen.product.bodies import Box, Plate
from scadgen.product.building import standing
from scadgen.product.drawing import draw
from scadgen.product.reading import load_product
from scadgen.tables.documents import JobError
from tests.product.support import TEA, box, chain, loaded

BODY = """[bodies.{name}]
form = "tray"
length = 50
width = 30
height = {height}
wall = 2
floor = 1.6
"""
BODIES = BODY.format(name="box", height=14) + BODY.format(name="lid", height=8)
JOINT = """[joints.hinge]
family = "side_cones"
fixed = "box"
moving = "lid"
closes = true
[joints.hinge.size]
facets = 16
cone = 8
tip = 2
wall = 2
length = 30
"""
HEAD = 'name = "small_box"\n'
PRINTERS = "[printers]\nlayer_heights = [0.2]\n"
CAUGHT = f"""{HEAD}{BODIES}{JOINT}[catches.snap]
family = "snap_catch"
on = "hinge"
[catches.snap.size]
"""
TEXT = HEAD + BODIES + JOINT + PRINTERS


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "box.toml"


def test_a_file_is_the_same_product_as_in_python(path: Path) -> None:
    read, made = loaded(path, TEXT), box()
    assert read.bodies == made.bodies
    assert read.layer_heights == made.layer_heights
    assert [f.hinge for f in read.fitted.values()] == [f.hinge for f in made.fitted.values()]


def test_the_gallery_s_product_says_what_its_file_says() -> None:
    told = tomllib.loads(TEA.read_text(encoding="utf-8"))
    product = load_product(TEA)
    assert (product.name, product.title, product.note) == (
        told["name"],
        told["title"],
        told["note"],
    )
    assert product.bed == tuple(told["printers"]["bed"])
    for name, form in product.bodies.items():
        assert isinstance(form, Box)
        for side in form.sides():
            assert getattr(form, side) == told["bodies"][name][side]


CHAIN = """name = "chain"
[bodies.link]
form = "plate"
length = 40
width = 16
height = 4
copies = 3
[joints.pin]
family = "side_cones"
fixed = "link"
moving = "link"
moving_edge = "front"
[joints.pin.size]
facets = 16
[joints.pin.duty]
angle = 90
[printers]
layer_heights = [0.2]
"""


def test_copies_are_the_chain_that_would_be_written_out(path: Path) -> None:
    read, made = loaded(path, CHAIN), chain(3)
    assert list(read.bodies) == list(made.bodies)
    assert standing(read) == standing(made)
    assert [f.hinge for f in read.fitted.values()] == [f.hinge for f in made.fitted.values()]
    for joint, other in zip(read.joints.values(), made.joints.values(), strict=True):
        assert joint.pair == other.pair


def test_copies_share_their_sides_and_their_clearance_in_the_model(path: Path) -> None:
    text = draw(loaded(path, CHAIN), path.parent)
    assert text.count("link_length = ") == 1
    assert text.count("pin_clearance = ") == 1
    assert text.count("plate(link_length, link_width, link_height);") == 3


def test_a_joint_s_own_duty_goes_before_that_of_the_product(path: Path) -> None:
    asked = "[duty]\nload = 4\nlever = 30\n[joints.hinge.duty]\nload = 9\n"
    product = loaded(path, TEXT + 'material = "petg"\n' + asked)
    duty = product.joints["hinge"].duty
    assert duty is not None
    assert (duty.load, duty.lever) == (9, 30)
    assert product.plastic is not None


@pytest.mark.parametrize(
    ("text", "key", "said"),
    [
        (BODIES, "name", "name: missing"),
        (TEXT.replace("small_box", "side_cones"), "name", "This works: my_side_cones."),
        (TEXT.replace("small_box", "small box"), "name", "This works: small_box."),
        (HEAD, "bodies", "bodies: missing; it must be a table, headed by [bodies]."),
        (TEXT.replace("wall = 2\nfloor", "wall = 0\nfloor", 1), "bodies.box.wall", "0.4 to 100"),
        (TEXT.replace("wall = 2\nfloor", "wall = 15\nfloor", 1), "bodies.box.wall", "below 15 mm"),
        (TEXT.replace("floor", "flor", 1), "bodies.box.flor", "did you mean bodies.box.floor?"),
        (TEXT.replace('"tray"', '"trey"', 1), "bodies.box.form", "did you mean tray?"),
        (TEXT.replace("height = 14\n", ""), "bodies.box.height", "missing; it must be a number"),
        (TEXT.replace('"side_cones"', '"side_cone"'), "joints.hinge.family", "mean side_cones?"),
        (TEXT.replace("cone = 8", "cone = 0"), "joints.hinge.size.cone", "This works: cone = 5."),
        (TEXT.replace("cone = 8", "core = 8"), "joints.hinge.size.core", "did you mean"),
        (TEXT.replace('"lid"\nc', '"led"\nc'), "joints.hinge.moving", "no body is called so"),
        (TEXT.replace("closes = true", "closes = 1"), "joints.hinge.closes", "true or false"),
        (CAUGHT.replace('"snap_catch"', '"rod_loops"'), "catches.snap.family", "snap_catch"),
        (CAUGHT.replace('"hinge"', '"hinges"'), "catches.snap.on", "did you mean hinge?"),
        (f"{CAUGHT}lead = 0\n", "catches.snap.size.lead", "This works: "),
        (CHAIN.replace("copies = 3", "copies = 0"), "bodies.link.copies", "1 to 30"),
        (
            CHAIN.replace("copies = 3", "copies = 1"),
            "joints.pin.moving",
            "it must be another body than fixed",
        ),
        (CHAIN.replace('moving = "link"', 'moving = "lin"'), "bodies.link.copies", "chain them"),
        (
            f'{CHAIN}[bodies.link_2]\nform = "plate"\nlength = 9\nwidth = 9\nheight = 4\n',
            "bodies.link_2",
            "a copy of link has that name, too",
        ),
        (TEXT + "bed = [180]\n", "printers.bed", "This works: [180, 180]."),
        (TEXT + "[duty]\nload = 4\n", "printers.material", "missing"),
        (TEXT + "[joints.hinge.duty]\nload = -1\n", "joints.hinge.duty.load", "0 to 2000 N"),
        (
            TEXT.replace("height = 14", "height = 3"),
            "joints.hinge.size.axis_height",
            "5.5 mm, as box and lid have it; it must be at least 6 mm",
        ),
    ],
)
def test_what_is_refused_names_its_key(path: Path, text: str, key: str, said: str) -> None:
    with pytest.raises(JobError) as caught:
        loaded(path, text)
    assert caught.value.key == key
    assert said in str(caught.value)
    assert str(caught.value).startswith(f"{path}: ")


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ({"form": "model", "file": "lid.stl"}, "cannot be read"),
        ({"form": "scad", "file": "lid.scad", "module": "lid"}, "file = lid.scad; no such file."),
        ({"form": "scad", "file": "lid.scad", "module": "lid();"}, "the name of a module"),
    ],
)
def test_a_body_of_a_file_that_is_not_there_is_refused(
    path: Path, form: dict[str, Any], said: str
) -> None:
    lines = "".join(f'{key} = "{value}"\n' for key, value in form.items())
    own = f"{HEAD}{BODY.format(name='box', height=14)}[bodies.lid]\n{lines}{JOINT}"
    joint = "place = [0, 20, 90]\n[joints.hinge.size]"
    with pytest.raises(JobError) as caught:
        loaded(path, own.replace("[joints.hinge.size]", joint))
    assert said in str(caught.value)


@pytest.mark.parametrize(("low", "good"), [(0.0, True), (-0.5, False)])
def test_a_mesh_below_the_bed_is_refused(path: Path, low: float, good: bool) -> None:
    solid = Plate(length=40, width=30, height=8).solid.translate((0, 0, low))
    (path.parent / "lid.stl").write_bytes(stl(solid))
    lines = f'{HEAD}{BODY.format(name="box", height=14)}[bodies.lid]\nform = "model"\n'
    joint = "place = [0, 25, 90]\nmoving_place = [0, 25, -90]\n[joints.hinge.size]"
    own = f'{lines}file = "lid.stl"\n{JOINT}'.replace("[joints.hinge.size]", joint)
    if good:
        assert set(loaded(path, own).fitted) == {"hinge"}
    else:
        with pytest.raises(JobError, match=r"lid.stl; it reaches down to z = -0.5 mm"):
            loaded(path, own)


@pytest.mark.openscad
@pytest.mark.parametrize(("seed", "good"), [("", False), (", 42", True)])
def test_a_body_that_is_another_one_each_time_is_refused(path: Path, seed: str, good: bool) -> None:
    """Whoever opens the model draws it anew: that would not be what was proven."""
    text = f"module lid() {{ cube([40, 40, 6 + rands(0, 1, 1{seed})[0]]); }}\n"
    (path.parent / "lid.scad").write_text(text)
    own = f"""{HEAD}{BODY.format(name="box", height=14)}[bodies.lid]
form = "scad"\nfile = "lid.scad"\nmodule = "lid"\n{JOINT}"""
    own = own.replace("[joints.hinge.size]", "place = [0, 20, 90]\n[joints.hinge.size]")
    if good:
        assert set(loaded(path, own).fitted) == {"hinge"}
    else:
        with pytest.raises(JobError, match=r"lid\(\) draws another body each time: rands\(\)"):
            loaded(path, own)


@pytest.mark.openscad
def test_a_body_that_openscad_warns_of_is_refused(path: Path) -> None:
    """It draws the rest, and would be called proven without what it leaves out."""
    (path.parent / "lid.scad").write_text("module lid() { cube([40, 40, 6]); latch(); }\n")
    own = f"""{HEAD}{BODY.format(name="box", height=14)}[bodies.lid]
form = "scad"\nfile = "lid.scad"\nmodule = "lid"\n{JOINT}"""
    joint = "place = [0, 20, 90]\n[joints.hinge.size]"
    with pytest.raises(JobError, match=r"OpenSCAD warns of lid\(\): .*unknown module 'latch'"):
        loaded(path, own.replace("[joints.hinge.size]", joint))
