"""3MF packages: parts of parts in several files, and what is refused of hostile ones."""

from __future__ import annotations

import io
import random
import warnings
import zipfile

import numpy as np
import pytest

from scadgen.meshfiles import limits, meant, three_mf
from scadgen.meshfiles.three_mf import COPIES, LEVELS, placed
from scadgen.tables.documents import JobError
from tests.inspection.models import Array
from tests.inspection.test_reading import CORE, model, packed

EXTENSIONS = "http://schemas.microsoft.com/3dmanufacturing/"
FURTHER = "3D/Objects/lid.model"


def read(data: bytes) -> Array:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return np.concatenate(list(placed(archive)))


def package(**files: str) -> bytes:
    """A 3MF of a root model and further files in a folder of it."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, text in files.items():
            path = "3D/3dmodel.model" if name == "root" else f"3D/Objects/{name}.model"
            archive.writestr(path, text)
    return out.getvalue()


def assembled(number: int, *uses: str) -> str:
    """An object of others."""
    parts = "".join(f"<component {use}/>" for use in uses)
    return f'<object id="{number}"><components>{parts}</components></object>'


def item(number: int, more: str = "") -> str:
    return f'<item objectid="{number}" {more}/>'


def far(x: float) -> str:
    """Moved along x."""
    return f'transform="1 0 0 0 1 0 0 0 1 {x} 0 0"'


def lows(soup: Array) -> list[float]:
    """Where each tetrahedron begins along x, mm."""
    return sorted(soup.reshape(-1, 12, 3)[:, :, 0].min(axis=1).tolist())


def further(root_parts: str) -> str:
    """A root model whose parts may be in further files."""
    space = f'xmlns:p="{EXTENSIONS}production/2015/06" requiredextensions="p"'
    return model(item(7), "millimeter", root_parts).replace("<model", f"<model {space}")


def test_transforms_of_parts_of_parts_add_up() -> None:
    """The innermost acts first: a part that is moved, then doubled, is moved twice as far."""
    double = 'transform="2 0 0 0 2 0 0 0 2 0 0 0"'
    parts = assembled(2, f'objectid="1" {far(5)}') + assembled(3, f'objectid="2" {double}')
    soup = read(packed(model(item(3, far(100)), "millimeter", parts)))
    assert (soup[..., 0].min(), soup[..., 0].max()) == (110, 112)
    assert soup[..., 2].max() == 2


def test_packages_are_read_as_another_reader_reads_them() -> None:
    import trimesh

    rng = random.Random(3)
    for _ in range(30):
        parts = "".join(
            assembled(number, *(f'objectid="{rng.randrange(1, number)}" {moved(rng)}',) * 2)
            for number in range(2, 5)
        )
        data = packed(model(item(4, moved(rng)) + item(3, moved(rng)), "millimeter", parts))
        scene = trimesh.load_scene(io.BytesIO(data), file_type="3mf", process=False)
        other = np.asarray(scene.to_mesh().triangles)
        assert in_order(read(data)) == pytest.approx(in_order(other), abs=1e-9)


def moved(rng: random.Random) -> str:
    return f'transform="{" ".join(f"{rng.uniform(-3, 3):.3f}" for _ in range(12))}"'


def in_order(soup: Array) -> Array:
    """Corners in an order that does not depend on the reader."""
    corners = soup.reshape(-1, 3)
    return corners[np.lexsort(corners.round(6).T)]


def test_each_item_is_built_even_if_two_have_one_part_number() -> None:
    build = item(1, 'partnumber="a"') + item(1, f'partnumber="a" {far(5)}')
    assert lows(read(packed(model(build, "millimeter")))) == [0, 5]


def test_an_object_may_stand_after_its_use() -> None:
    parts = assembled(2, f'objectid="3" {far(5)}') + assembled(3, f'objectid="1" {far(2)}')
    assert lows(read(packed(model(item(2), "millimeter", parts)))) == [7]


def test_objects_of_further_files_are_told_apart() -> None:
    """Each file counts its objects itself, and what a further file builds is not built."""
    inside = model(item(1), "millimeter", assembled(2, f'objectid="1" {far(50)}'))
    path = f'p:path="/{FURTHER}"'
    root = further(assembled(7, f'{path} objectid="1"', f'{path} objectid="2" {far(3)}'))
    assert lows(read(package(root=root, lid=inside))) == [0, 53]
    whole = further("").replace(item(7), item(2, path))
    assert lows(read(package(root=whole, lid=inside))) == [50]


def test_only_the_format_itself_counts_not_what_extends_it() -> None:
    slices = f'<s:vertex xmlns:s="{EXTENSIONS}slice/2015/07" x="9" y="9"/>'
    text = model(item(1), "millimeter").replace("</vertices>", f"{slices}</vertices>")
    assert read(packed(text)).max() == 1


def test_what_names_no_unit_is_in_millimetres() -> None:
    assert read(packed(model(item(1)).replace('unit="inch"', ""))).max() == 1


def test_a_file_without_a_namespace_is_read() -> None:
    assert read(packed(model(item(1), "inch").replace(f'xmlns="{CORE}"', ""))).max() == 25.4


def chain(last: int, times: int = 1) -> str:
    """Objects of the one before, to the given number."""
    return "".join(
        assembled(number, *[f'objectid="{number - 1}"'] * times) for number in range(2, last + 1)
    )


def backwards(last: int, times: int) -> str:
    """Objects of the one that comes later."""
    parts = [assembled(k, *[f'objectid="{k + 1}"'] * times) for k in range(2, last)]
    return "".join([*parts, assembled(last, 'objectid="1"')])


CORNER = '<vertex x="0" y="0" z="0"/>'
REFUSED = {
    "made of itself": (packed(model(item(2), more=assembled(2, 'objectid="2"'))), "made of itself"),
    "made of each other": (
        packed(model(item(2), more=assembled(2, 'objectid="3"') + assembled(3, 'objectid="2"'))),
        "more than 50 levels, or made of itself",
    ),
    "too deep": (packed(model(item(LEVELS + 1), more=chain(LEVELS + 1))), "more than 50 levels"),
    "deeper from item to item": (
        packed(model("".join(map(item, range(9, 900, 9))), more=chain(900))),
        "more than 50 levels",
    ),
    "more than can be counted": (
        packed(model(item(40), more=chain(40, 10))),
        "made of 1,000,000,000,000,000 parts; at most 1,000 are put together.",
    ),
    "many, used before they are there": (
        packed(model(item(2), more=backwards(12, 10))),
        "made of 10,000,000,000 parts; at most",
    ),
    "one item too many": (
        packed(model(item(1) * (COPIES + 1))),
        "made of 1,001 parts; at most 1,000 are put together.",
    ),
    "an item of nothing": (packed(model(item(8))), "object 8 is used, but not there"),
    "a part of nothing": (
        packed(model(item(2), more=assembled(2, 'objectid="9"'))),
        "object 9 is used, but not there",
    ),
    "two of one number": (
        packed(model(item(1), more=assembled(1, 'objectid="1"'))),
        "object 1 is there twice",
    ),
    "no further file": (
        package(root=further(assembled(7, f'p:path="/{FURTHER}" objectid="1"'))),
        "the file '3d/objects/lid.model' is not in it",
    ),
    "a third file": (
        package(
            root=further(assembled(7, f'p:path="/{FURTHER}" objectid="7"')),
            lid=further(assembled(7, 'p:path="/3D/Objects/pin.model" objectid="1"')),
            pin=model(""),
        ),
        "only the first file may name others",
    ),
    "a corner without a place": (
        packed(model(item(1)).replace(CORNER, '<vertex x="0" y="0"/>')),
        "an element in it has no 'z'",
    ),
    "corners that are not there": (
        packed(model(item(1)).replace(CORNER, "")),
        "a triangle of corners that are not there",
    ),
    "corners before the first": (
        packed(model(item(1)).replace('v1="0"', 'v1="-1"')),
        "a triangle of corners that are not there",
    ),
    "a short transform": (
        packed(model(item(1, 'transform="1 0 0"'))),
        "a transform of 3 numbers; it must be 12",
    ),
    "a transform of words": (packed(model(item(1, 'transform="a"'))), "could not convert string"),
    "another root": (packed("<html/>"), "its root is <html>, not <model>"),
    "a document type": (
        packed("<!DOCTYPE model>" + model(item(1))),
        "it declares a document type, which 3MF has not",
    ),
    "a support": (
        packed(model(item(1)).replace('type="model"', 'type="support"')),
        "object 1 is of type 'support', and no model",
    ),
    "a part of a support": (
        packed(
            model(
                item(2),
                more=assembled(2, 'objectid="1"').replace("<object", '<object type="other"'),
            )
        ),
        "object 2 is of type 'other', and no model",
    ),
    "all switched off": (packed(model(item(1, 'printable="0"'))), "all its items are switched off"),
    "another shape than its mesh": (
        packed(
            model(item(1)).replace(
                "<model",
                f'<model xmlns:b="{EXTENSIONS}beamlattice/2017/02" requiredextensions="b"',
            )
        ),
        "it needs the extension 'http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02'",
    ),
}


def test_items_that_are_switched_off_are_not_built() -> None:
    away = item(1, far(9) + ' printable="0"')
    soup = read(packed(model(item(1, 'printable="1"') + away, "millimeter")))
    assert lows(soup) == [0]


@pytest.mark.parametrize("name", meant.NOTES)
def test_parts_that_are_cut_away_or_change_settings_are_refused(name: str) -> None:
    """They would be measured as solids."""

    def noted(kind: str) -> bytes:
        note = (
            f'<config><object id="1"><metadata key="volume_type" value="{kind}"/></object></config>'
        )
        out = io.BytesIO(packed(model(item(1))))
        with zipfile.ZipFile(out, "a") as archive:
            archive.writestr(f"Metadata/{name}", note)
        return out.getvalue()

    assert len(read(noted("ModelPart"))) == 4
    for kind in ("NegativeVolume", "ParameterModifier", "negative_part", "support_blocker"):
        with pytest.raises(JobError, match=f"a part of it is noted as '{kind}'"):
            read(noted(kind))


def leading(to: str) -> str:
    """Relationships of a package to its model."""
    kind = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
    space = "http://schemas.openxmlformats.org/package/2006/relationships"
    one = f'<Relationship Id="m" Type="{kind}" Target="{to}"/>'
    return f'<Relationships xmlns="{space}">{one}</Relationships>'


def with_more(name: str, text: str) -> bytes:
    """A package with a model where it usually is, and one more file."""
    out = io.BytesIO(packed(model(item(1))))
    with warnings.catch_warnings(), zipfile.ZipFile(out, "a") as archive:
        warnings.simplefilter("ignore")  # of names that are there twice
        archive.writestr(name, text)
    return out.getvalue()


@pytest.mark.parametrize("to", ["/3D/3dmodel.model", "3D/3dmodel.model", "/3d/3DModel.model"])
def test_the_model_is_where_the_package_leads(to: str) -> None:
    assert len(read(with_more("_rels/.rels", leading(to)))) == 4
    with pytest.raises(JobError, match=r"its model is '3D/lid\.model', and not 3D/3dmodel\.model"):
        read(with_more("_rels/.rels", leading(to.rpartition("/")[0] + "/../3D/lid.model")))


@pytest.mark.parametrize("name", ["3D/3dmodel.model", "3D/3DModel.model", "/3d/3dmodel.MODEL"])
def test_a_file_that_is_there_twice_is_refused(name: str) -> None:
    """One reader takes the first, another one the last."""
    with pytest.raises(JobError, match=r"'3d/3dmodel\.model' is in it twice"):
        read(with_more(name, model("")))


@pytest.mark.parametrize("name", REFUSED)
def test_bad_packages_are_refused(name: str) -> None:
    data, words = REFUSED[name]
    with pytest.raises(ValueError, match=r"^[^\n]*$") as caught:
        read(data)
    assert words in str(caught.value)


def test_no_more_triangles_are_read_than_are_measured(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not even of parts that are not built."""
    monkeypatch.setattr(limits, "TRIANGLES", 5)
    monkeypatch.setattr(three_mf, "TRIANGLES", 5)
    assert len(read(packed(model(item(1))))) == 4
    again = model("").partition("<resources>")[2].partition("</resources>")[0]
    data = packed(model(item(1), more=again.replace('id="1"', 'id="2"')))
    with pytest.raises(JobError, match="6 triangles: too much; at most 5"):
        read(data)


def test_a_part_from_far_down_is_read() -> None:
    assert len(read(packed(model(item(LEVELS), more=chain(LEVELS))))) == 4
