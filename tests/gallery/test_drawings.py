"""Section drawings: well formed, complete, legible, and their numbers those of the hinge."""

from __future__ import annotations

import dataclasses
import itertools
import math
import re
from xml.etree import ElementTree

import pytest

from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.pictures.drawings import drawing
from scadgen.pictures.measures import found, gap, measures
from scadgen.pictures.notes import comparisons
from scadgen.pictures.paper import Box, Paper, overlap, text_box
from scadgen.pictures.sections import runs, sections
from scadgen.pictures.sides import Sides
from tests.support import each_family, some_hinges

SVG = "{http://www.w3.org/2000/svg}"


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
    root = ElementTree.fromstring(drawing(hinge))
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


def measured(hinge: Hinge) -> dict[str, float]:
    return measures(hinge, found(hinge, *sections(Sides(hinge.mechanism()))))


@each_family
def test_what_is_measured_is_what_was_asked(cls: type[Hinge]) -> None:
    for hinge in some_hinges(cls, 6, facets=32):
        read = measured(hinge)
        assert set(read) == set(hinge.measured())
        sides = Sides(hinge.mechanism())
        assert len(read) >= (1 if sides.look else 4)
        for name, size in read.items():
            assert size == pytest.approx(getattr(hinge, name), abs=0.02), name


@each_family
def test_the_notes_compare_what_is_set_with_what_is_measured(cls: type[Hinge]) -> None:
    hinge = cls()
    words = {element.text for element in ElementTree.fromstring(drawing(hinge)).iter(f"{SVG}text")}
    lines = comparisons(hinge, measured(hinge))
    assert set(lines) <= words
    if isinstance(hinge, Pivot):
        clearance = f"clearance set to {hinge.clearance:g} mm, measured {hinge.clearance:.3f} mm"
        assert clearance in lines


@each_family
def test_numbers_of_a_drawing_follow_the_hinge(cls: type[Hinge]) -> None:
    hinge = cls()
    if "swing" not in hinge.measured():
        assert Sides(hinge.mechanism()).look, "its drawing shows no motion"
        return
    other = dataclasses.replace(hinge, swing=hinge.swing - 5)
    degrees = re.compile(r"([\d.]+)\u00b0$")
    for drawn in (hinge, other):
        root = ElementTree.fromstring(drawing(drawn))
        angles = [degrees.match(e.text or "") for e in root.iter(f"{SVG}text")]
        assert f"{drawn.swing:g}" in {m.group(1) for m in angles if m}


@each_family
def test_the_detail_shows_the_gap_at_its_tightest(cls: type[Hinge]) -> None:
    hinge = cls()
    if not isinstance(hinge, Pivot):
        return
    root = ElementTree.fromstring(drawing(hinge))
    words = [element.text or "" for element in root.iter(f"{SVG}text")]
    (label,) = [found for found in words if found.startswith("gap ")]
    assert float(label.split()[1]) == pytest.approx(hinge.clearance, abs=0.02)


def test_a_drawing_is_the_same_again() -> None:
    for cls in all_families().values():
        assert drawing(cls()) == drawing(cls())


def test_words_from_outside_are_escaped() -> None:
    paper = Paper(40, 30)
    paper.text((5, 5), "a < b & c > d")
    root = ElementTree.fromstring(paper.svg("<&>"))
    assert [element.text for element in root.iter(f"{SVG}text")] == ["a < b & c > d"]
    assert root.findtext(f"{SVG}title") == "<&>"


def test_runs_and_gap_measure_known_outlines() -> None:
    from manifold3d import CrossSection

    ring = CrossSection.circle(5, 4) - CrossSection.square((2, 2), True)
    found = runs(ring, 0, 0.0)
    assert [pytest.approx(run) for run in found] == [(-5, -1), (1, 5)]
    square = CrossSection.square((2, 2))
    assert gap(square, square.translate((2.5, 0))) == pytest.approx(0.5)
    assert gap(square, square.translate((5, 6))) == pytest.approx(math.hypot(3, 4))
