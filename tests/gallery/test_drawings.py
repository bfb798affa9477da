"""Section drawings: well formed, complete, legible, and their numbers those of the hinge."""

from __future__ import annotations

import dataclasses
import functools
import itertools
import math
import re
from xml.etree import ElementTree

import pytest
from manifold3d import CrossSection

from scadgen import BreakAwayLink, SheetFlexure, SlitLattice
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.pictures.dimensions import _swing
from scadgen.pictures.drawings import drawing
from scadgen.pictures.layout import View
from scadgen.pictures.measures import axis_on, found, gap, measures
from scadgen.pictures.notes import comparisons
from scadgen.pictures.palette import LIGHT
from scadgen.pictures.paper import MOVED, Box, Paper, overlap, text_box
from scadgen.pictures.sections import runs, sections
from scadgen.pictures.sheet_dimensions import between_borders
from scadgen.pictures.sides import Sides
from scadgen.text.dates import DATE, document_date
from tests.support import each_family, some_hinges

SVG = "{http://www.w3.org/2000/svg}"


@functools.cache
def svg(hinge: Hinge) -> str:
    """Its drawing, made once for all tests that only look at it."""
    return drawing(hinge)


def drawn(hinge: Hinge) -> ElementTree.Element:
    return ElementTree.fromstring(svg(hinge))


def texts(root: ElementTree.Element) -> dict[str, Box]:
    """All texts with the room they take up, worked out from the file alone."""
    found = {}
    for k, element in enumerate(root.iter(f"{SVG}text")):
        at = float(element.attrib["x"]), float(element.attrib["y"])
        size, anchor = float(element.attrib["font-size"]), element.attrib["text-anchor"]
        words = element.text or ""
        upright = "rotate(-90" in element.attrib.get("transform", "")
        found[f"{k}: {words}"] = text_box(at, words, size, anchor, upright)
    return found


def assert_legible(hinge: Hinge) -> ElementTree.Element:
    root = drawn(hinge)
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    boxes = texts(root)
    for words, (left, top, right, bottom) in boxes.items():
        assert left >= 0, words
        assert top >= 0, words
        assert right <= width, words
        assert bottom <= height, words
    for (one, box), (other, second) in itertools.combinations(boxes.items(), 2):
        assert not overlap(box, second), (one, other)
    for element in root.iter(f"{SVG}polyline"):
        points = [tuple(map(float, p.split(","))) for p in element.attrib["points"].split()]
        assert all(0 <= x <= width and 0 <= y <= height for x, y in points)
    return root


@each_family
def test_a_drawing_is_legible_and_hatched_by_body(cls: type[Hinge]) -> None:
    root = assert_legible(cls())
    fills = [element.attrib.get("fill") for element in root.iter(f"{SVG}path")]
    for name in Sides(cls().mechanism()).printed:
        assert fills.count(f"url(#{name})") >= 3, "both sections and the legend"
    turns = [p.attrib["patternTransform"] for p in root.iter(f"{SVG}pattern")]
    assert len(set(turns)) == 2
    words = [element.text for element in root.iter(f"{SVG}text")]
    for letter in "ABC":
        assert letter in words
    assert {"A\u2013A", "B\u2013B"} <= set(words)


@each_family
def test_drawings_of_other_sizes_are_legible(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 6, facets=32):
        assert_legible(hinge)


@functools.cache
def measured(hinge: Hinge) -> dict[str, float]:
    return measures(hinge, found(hinge, *sections(Sides(hinge.drawn_flat()))))


@each_family
def test_what_is_measured_is_what_was_asked(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 6, facets=32):
        read = measured(hinge)
        assert set(read) == set(hinge.measured())
        sides = Sides(hinge.drawn_flat())
        assert len(read) >= (1 if sides.look else 4)
        for name, size in read.items():
            assert size == pytest.approx(getattr(hinge, name), abs=0.02), name


@each_family
def test_the_notes_compare_what_is_set_with_what_is_measured(cls: type[Hinge]) -> None:
    hinge = cls()
    words = said(hinge)
    read = measured(hinge)
    lines = comparisons(hinge, read)
    assert all(line in words for line in lines)
    if isinstance(hinge, Pivot):
        assert f"clearance set to {hinge.clearance:g}, measured {hinge.clearance:g} mm" in lines
        assert f"swing set to {hinge.swing:g}, measured {hinge.swing:g}°" in lines
    for name, limits in bounds(cls).items():
        if limits.unit == "mm" and limits.group not in ("Part", "Quality"):
            told = f"{name.replace('_', ' ')} {getattr(hinge, name):g}"
            assert name in read or not getattr(hinge, name) or told in words, name


def said(hinge: Hinge, **asked: str) -> str:
    """All words of a drawing in a row, as they stand."""
    root = ElementTree.fromstring(drawing(hinge, **asked)) if asked else drawn(hinge)
    return " ".join(element.text or "" for element in root.iter(f"{SVG}text"))


@each_family
def test_a_drawing_has_a_title_block(cls: type[Hinge]) -> None:
    words = said(cls(), title="Lid <of> a box", material="PETG")
    for told in ("Lid <of> a box", "Material: PETG", f"Date {DATE}", "Scale ", "tolerances: none"):
        assert told in words
    assert cls.heading() in said(cls())


def test_its_date_is_the_builds_or_the_versions(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    assert document_date() == "1970-01-02"
    for nothing in ("", "soon", "9" * 40):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", nothing)
        assert document_date() == DATE
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    assert document_date() == DATE


@pytest.mark.parametrize("name", ["side_cones", "rod_loops", "captive_cone", "waisted_spindle"])
def test_the_arc_of_a_turn_begins_and_ends_on_the_leaf(name: str) -> None:
    """Both its arrows touch an outline: that of the leaf as it prints, and as it has swung."""
    cls = all_families()[name]
    paper = Paper(297, 210)
    _, across = sections(Sides(cls().mechanism()))
    axis = across.sides.axis
    assert axis is not None
    bounds_ = (across.outline + across.swung).bounds()
    view = View(across, 2.0, (150, 100), bounds_)
    _swing(paper, view, axis_on(across, axis))
    arc = next(e for e in paper.elements if e.startswith("<polyline") and e.count(",") == 49)
    points = [tuple(map(float, p.split(","))) for p in arc.split('"')[1].split()]
    outlines = (across.outlines["moving"], across.swung)
    for (x, y), outline in zip((points[0], points[-1]), outlines, strict=True):
        place = CrossSection.circle(0.02, 8).translate(((x - 150) / 2, (100 - y) / 2))
        assert 0 < (outline ^ place).area() < place.area(), (x, y)


def test_letters_on_lines_leave_the_lines_whole() -> None:
    """A stroke of paper around the letters, no box of paper over what lies below them."""
    root = drawn(all_families()["captive_cone"]())
    on_lines = [e for e in root.iter(f"{SVG}text") if e.attrib.get("paint-order") == "stroke"]
    assert {"A", "B", "C"} <= {e.text for e in on_lines}
    assert all(float(e.attrib["stroke-width"]) < 1.5 for e in on_lines)
    surface = LIGHT["surface"]
    assert [e for e in root.iter(f"{SVG}path") if e.attrib.get("fill") == surface] == []


def test_the_legend_shows_the_line_that_it_names() -> None:
    root = drawn(all_families()["side_cones"]())
    (words,) = [e for e in root.iter(f"{SVG}text") if e.text == "swung to the end"]
    y = float(words.attrib["y"])
    lines = [e.attrib for e in root.iter(f"{SVG}polyline")]
    dashed = [a["points"] for a in lines if a.get("stroke-dasharray") == MOVED]
    assert any(f",{y - 1:g}" in points for points in dashed)


@each_family
def test_numbers_of_a_drawing_follow_the_hinge(cls: type[Hinge]) -> None:
    hinge = cls()
    if "swing" not in hinge.measured():
        assert Sides(hinge.mechanism()).look, "its drawing shows no motion"
        return
    other = dataclasses.replace(hinge, swing=hinge.swing - 5)
    degrees = re.compile(r"([\d.]+)\u00b0$")
    for one in (hinge, other):
        angles = [degrees.match(e.text or "") for e in drawn(one).iter(f"{SVG}text")]
        assert f"{one.swing:g}" in {m.group(1) for m in angles if m}


@each_family
def test_the_detail_shows_the_gap_at_its_tightest(cls: type[Hinge]) -> None:
    hinge = cls()
    if not isinstance(hinge, Pivot):
        return
    words = [element.text or "" for element in drawn(hinge).iter(f"{SVG}text")]
    (label,) = [found for found in words if found.startswith("gap ")]
    assert float(label.split()[1]) == pytest.approx(hinge.clearance, abs=0.02)


@each_family
def test_a_drawing_is_the_same_again(cls: type[Hinge]) -> None:
    assert drawing(cls()) == svg(cls())


def test_words_from_outside_are_escaped() -> None:
    paper = Paper(40, 30)
    paper.text((5, 5), "a < b & c > d")
    root = ElementTree.fromstring(paper.svg("<&>"))
    assert [element.text for element in root.iter(f"{SVG}text")] == ["a < b & c > d"]
    assert root.findtext(f"{SVG}title") == "<&>"


def test_runs_and_gap_measure_known_outlines() -> None:
    ring = CrossSection.circle(5, 4) - CrossSection.square((2, 2), True)
    found = runs(ring, 0, 0.0)
    assert [pytest.approx(run) for run in found] == [(-5, -1), (1, 5)]
    square = CrossSection.square((2, 2))
    assert gap(square, square.translate((2.5, 0))) == pytest.approx(0.5)
    assert gap(square, square.translate((5, 6))) == pytest.approx(math.hypot(3, 4))


def test_a_sheet_tells_its_span_its_slits_and_its_bridges() -> None:
    flexure, lattice, link = SheetFlexure(), SlitLattice(), BreakAwayLink()
    span = flexure.web_length + 2 * flexure.fillet  # from where a border begins to thin
    assert between_borders(sections(Sides(flexure.mechanism()))[0].outline) == pytest.approx(
        (-span / 2, span / 2), abs=0.01
    )
    assert f" {span:g} " in said(flexure)
    assert f" {lattice.slit_length:g} " in said(lattice)
    assert f" {link.web_width:g} " in said(link)
