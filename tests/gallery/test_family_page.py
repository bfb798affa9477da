"""A family's page says what its own file says."""

from __future__ import annotations

import re

import pytest

from scadgen.findings.finding import Finding
from scadgen.gallery.cards import Card
from scadgen.gallery.family_page import family_html, family_page, family_pages
from scadgen.gallery.told import TOLD
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Hinge, bounds, definition
from scadgen.hinge.free import free
from scadgen.text.typeset import typeset
from scadgen.trees.to_scad import number
from tests.gallery.pages import BAD, GOOD, Page, made_up
from tests.support import ROOT, each_family


def of_family(cls: type[Hinge], *findings: Finding) -> Card:
    """A made-up card of a family, which leaves untold what that does."""
    untold = tuple(label for label, told in TOLD.items() if not told(cls))
    return made_up(cls.family, *findings, untold=untold)


@each_family
def test_every_parameter_and_every_rule_is_told(cls: type[Hinge]) -> None:
    text = family_page(of_family(cls, GOOD, BAD)).decode()
    rows = {row[1]: row[2] for row in re.finditer(r"^\| `(\w+)` \| (\S+) \|", text, re.MULTILINE)}
    assert rows == {name: number(limits.default) for name, limits in bounds(cls).items()}
    assert all(limits.meaning in text for limits in bounds(cls).values())
    for rule in definition(cls).rules:
        assert re.search(rf"- `{rule.param}` {rule.sense} `.+`, {re.escape(rule.why)}\n", text)
    for one in definition(cls).exported:
        assert f"\n- `{one.name}`: {one.meaning}\n" in text
    assert f"**failed**: {BAD.name}: {typeset(BAD.words)}" in text
    assert f"passed: {GOOD.name}" in text


@each_family
def test_both_ends_of_what_is_free_are_told(cls: type[Hinge]) -> None:
    text = family_page(of_family(cls)).decode()
    usual = given_values(cls())
    for name in bounds(cls):
        found = free(cls, usual, name)
        assert found is not None
        assert found.values
        assert re.search(rf"^\| `{name}` \| \S+ \| [^|]+ \| {found} \| ", text, re.MULTILINE)


@each_family
def test_its_links_lead_to_files(cls: type[Hinge]) -> None:
    text = family_page(of_family(cls)).decode()
    paths = re.findall(r"\]\(([^)]+)\)", text)
    assert len(paths) > 8
    assert [path for path in paths if not (ROOT / "gallery/families" / path).is_file()] == []


def test_only_families_have_a_page() -> None:
    assert family_pages([made_up("tea_latch")]) == {}
    with pytest.raises(KeyError):
        family_page(made_up("tea_latch"))


@each_family
def test_its_page_for_a_browser_tells_the_same_and_previews_its_link(cls: type[Hinge]) -> None:
    page = Page(family_html(of_family(cls, GOOD, BAD)).decode())
    for limits in bounds(cls).values():
        assert limits.meaning in page.words
    for rule in definition(cls).rules:
        assert f"{rule.param} {rule.sense} " in page.words
        assert rule.why in page.words
    assert f"Failed: {BAD.name}. {typeset(BAD.words)}" in page.words
    shown = {tag.get("property", tag.get("name", "")): tag for tag in page.every("meta")}
    assert shown["og:title"]["content"].startswith(of_family(cls).heading)
    assert shown["og:description"]["content"] == of_family(cls).title
    linked = [*page.paths(), shown["og:image"]["content"]]
    here = ROOT / "gallery" / "families"
    assert [path for path in linked if not (here / path.partition("#")[0]).is_file()] == []
    assert f"../index.html#form={cls.family}" in linked
    assert page.every("script") == []
