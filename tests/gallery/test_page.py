"""The page and the README show what the cards say, and nothing from elsewhere."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from scadgen.findings.finding import Place
from scadgen.gallery import cards as gallery_cards
from scadgen.gallery.cards import FIGURES, LINKS, Card, Figure, card
from scadgen.gallery.page import GUIDES, page_files
from scadgen.gallery.products import ProductCard
from scadgen.hinge.family import Hinge, all_families
from scadgen.pictures.palette import DARK, LIGHT
from scadgen.text.typeset import typeset
from tests.gallery.pages import BAD, GOOD, Page, made_up
from tests.support import ROOT, each_family


def page(*cards: Card) -> Page:
    return Page(page_files(cards)["index.html"].decode())


def readme(*cards: Card) -> str:
    return page_files(cards)["README.md"].decode()


def test_a_card_comes_back_from_its_file() -> None:
    placed = replace(BAD, place=Place((1.0, 2.0, 3.0), 40.0))
    said = made_up("tea_latch", GOOD, BAD, placed, hangs="the lid")
    for one in (said, replace(said, untold=("Strength",))):
        assert Card.from_json(one.to_json()) == one


def test_a_curve_of_which_nothing_is_told_is_not_linked() -> None:
    said = replace(made_up(materials=()), untold=("Strength",))
    assert set(LINKS) - set(said.links) == {"Strength"}
    for text in (page(said).words, readme(said)):
        assert re.search(r"if sized for it, in[ |]+not told", text)
    assert not any("_strength" in path for path in page(said).paths())
    told = made_up(materials=())
    assert re.search(r"if sized for it, in[ |]+none", readme(told))


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"name": "rod_loops"}', '{"proof": 1}'])
def test_what_is_no_card_is_refused(text: str) -> None:
    with pytest.raises((ValueError, TypeError, KeyError)):
        Card.from_json(text)


def test_page_and_readme_say_all_that_a_card_says() -> None:
    said = made_up("tea_latch", GOOD, BAD, hangs="the lid's lower side")
    words = page(said).words
    text = readme(said)
    told = (said.heading, said.title, said.good, said.weak, said.posture, said.hangs)
    figures = ("Clearance", "0.3 mm", "Turn", "0 to 90°")
    verdict = "Not proven: 1 of 2 measures failed (swing)."
    for wanted in (*told, *figures, verdict):
        assert wanted in words
        assert wanted in text
    for finding in (GOOD, BAD):
        assert f"{'Passed' if finding.passed else 'Failed'}: {finding.name}." in words
        assert typeset(finding.words) in words
    assert "Proven: all 1 measures passed." in page(made_up()).words


def test_nothing_is_said_to_hang_where_nothing_does() -> None:
    assert "In the air" not in page(made_up()).words
    assert "In the air" not in readme(made_up())


def test_one_more_figure_is_one_more_entry(monkeypatch: pytest.MonkeyPatch) -> None:
    def weight(hinge: Hinge) -> list[Figure]:
        return [Figure("Weight", "12", "g")]

    monkeypatch.setattr(gallery_cards, "FIGURES", (*FIGURES, weight))
    from scadgen import SheetFlexure

    shown = card(SheetFlexure())
    assert shown.figures[-1] == Figure("Weight", "12", "g")
    assert "Weight 12 g" in page(shown).words
    assert "| Weight | 12 g |" in readme(shown)


@each_family
def test_the_card_of_each_family(cls: type[Hinge]) -> None:
    """Few facets keep its proof quick."""
    hinge = cls(facets=24)
    shown = card(hinge)
    assert (shown.good, shown.weak, shown.hangs) == (cls.good, cls.weak, cls.hangs)
    figures = {figure.label: figure for figure in shown.figures}
    assert len(figures) == len(shown.figures)
    assert figures["Clearance"].value == f"{hinge.clearance:g}"
    asked = f"{hinge.lowest():g} to {hinge.swing:g}".replace("-", "\N{MINUS SIGN}")
    assert figures["Turn it is made for"] == Figure("Turn it is made for", asked, "°")
    if "Turns freely, measured" in figures:
        found = figures["Turns freely, measured"].value.replace("\N{MINUS SIGN}", "-")
        low, high = map(int, found.split(" to "))
        assert low <= hinge.lowest()
        assert high >= hinge.swing
    assert shown.heading == cls.heading()
    icons = {tag["id"] for tag in page(shown).every("symbol")}
    assert f"icon-{shown.stance}" in icons


def test_filters_offer_what_the_cards_have() -> None:
    flat = made_up("flat_latch", BAD, kind="flexure", stance="flat", materials=("tpu_95a",))
    shown = page(made_up(), flat)
    values = [tag["value"] for tag in shown.every("option")]
    values = values[values.index("standing") - 1 :]  # behind those of the stage
    wanted = ["", "standing", "flat", "", "pivot", "flexure", "", "proven", "not-proven"]
    assert values == [*wanted, "", "petg", "pla", "tpu_95a"]
    names = [tag["name"] for tag in shown.every("select") if "name" in tag]
    articles = {tag["id"]: tag for tag in shown.every("article")}
    of_flat = [articles["flat_latch"][f"data-{name}"] for name in names]
    assert of_flat == ["flat", "flexure", "not-proven", "tpu_95a"]


def test_the_page_loads_nothing_from_elsewhere() -> None:
    files = page_files([made_up()])
    for path in Page(files["index.html"].decode()).paths():
        assert not re.match(r"[a-z]+:|//", path)
    assert "url(" not in files["page.css"].decode()
    assert "@import" not in files["page.css"].decode()
    for call in ("fetch(", "XMLHttpRequest", "import("):
        assert call not in files["page.js"].decode()


def test_links_lead_to_the_files_of_the_family() -> None:
    paths = set(page(made_up("rod_loops")).paths())
    assert {path.format("rod_loops") for path in LINKS.values()} <= paths
    assert {p for p in paths if p.startswith("pictures/")} == {
        f"pictures/rod_loops_{view}{small}.png"
        for view in ("printed", "opened", "cut")
        for small in ("", "_small", "_dark")
    }
    assert all(
        f"]({path.format('rod_loops')})" in readme(made_up("rod_loops")) for path in LINKS.values()
    )


def test_every_picture_says_what_it_shows() -> None:
    said = [tag["alt"] for tag in page(made_up()).every("img")]
    assert said[0] == ""  # in the strip, where its link says the same
    assert said[1:] == [f"Tea latch, {what}" for what in ("as it prints", "opened", "cut in half")]


def test_words_are_no_markup() -> None:
    shown = page(replace(made_up(), title='<b>"Bold"</b> & <script>'))
    assert '<b>"Bold"</b> & <script>' in shown.words
    assert len(shown.every("script")) == 1


def test_the_style_has_the_palette_for_light_and_dark() -> None:
    style = page_files([])["page.css"].decode()
    light, dark = style.split("@media (prefers-color-scheme: dark)")
    for palette, text in ((LIGHT, light), (DARK, dark)):
        assert all(f"--{name}: {colour};" in text for name, colour in palette.items())


@pytest.mark.parametrize(
    ("script", "held"),
    [("viewer", "three"), ("kernel", "manifold-3d"), ("kernel", "fflate"), ("page", "fflate")],
)
def test_scripts_keep_the_licences_of_what_they_hold(script: str, held: str) -> None:
    opening = page_files([])[f"{script}.js"].decode()[:20_000].partition("*/")[0]
    licence = opening.partition(f"Holds parts of {held}:\n")[2].partition("Holds parts of")[0]
    assert re.search(r"Apache License|Permission is hereby granted, free of charge", licence)


def test_nothing_that_a_page_shows_can_run_or_call_out() -> None:
    """Only its own scripts run, and nothing is fetched, posted or framed."""
    (policy,) = [
        tag["content"]
        for tag in page(made_up()).every("meta")
        if tag.get("http-equiv") == "Content-Security-Policy"
    ]
    rules = dict(rule.split(" ", 1) for rule in policy.split("; "))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    assert rules["script-src"] == "'self' blob: 'wasm-unsafe-eval'"
    assert not {"connect-src", "frame-src", "object-src"} & set(rules)


def test_forms_stand_by_trust_and_what_fails_its_proof_stands_last() -> None:
    names = ("nested_cones", "side_cones", "rod_loops", "sheet_flexure")
    cards = [made_up(name, BAD if name == "sheet_flexure" else GOOD) for name in names]
    links = [tag["data-name"] for tag in page(*cards).every("a") if "#form" in tag["href"]]
    trusted = sorted(names[:3], key=lambda name: -all_families()[name].trust)
    assert links[:4] == [*trusted, "sheet_flexure"]
    assert "not proven" in page(*cards).words
    assert set(GUIDES) <= {path.stem for path in (ROOT / "gallery" / "guide").iterdir()}


def test_products_are_told_with_their_verdict_and_are_no_cards_to_filter() -> None:
    said = "passed, not proven: <b>its</b> turns"
    box = ProductCard("box", "box_product.toml", "A box", "Invented.", ("rod_loops",), False, said)
    shown = Page(page_files([made_up("rod_loops")], [box])["index.html"].decode())
    assert f"A box Invented. Proof: {said}." in shown.words
    assert {box.file, "families/rod_loops.html"} <= set(shown.paths())
    assert {one["path"] for one in box.pictures} <= set(shown.paths())
    assert [tag["id"] for tag in shown.every("article") if tag["class"] == "card"] == ["rod_loops"]
    assert "Products made with them" not in page(made_up()).words
