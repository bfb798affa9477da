"""Text from people stays data in every language that it is put into."""

from __future__ import annotations

import html
import tomllib
import xml.etree.ElementTree as ET

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from scadgen.text.quoting import (
    SHOWN,
    markdown,
    plain,
    scad_string,
    shortened,
    toml,
    toml_key,
    toml_string,
    visible,
    xml,
    xml_attribute,
)

WILD = st.text(st.characters()) | st.text(st.sampled_from("\\`*_[]()<>|~&#!-+=1.) \n\t\"'*/ab"))
HOSTILE = '\ufeff*/ "x" \u202e<script>\ud800&amp;\x00\r\n]]>'


def printable(text: str) -> str:
    return "".join(c if c.isprintable() else " " for c in text)


@given(WILD)
@example(HOSTILE)
def test_plain_text_is_one_line_that_says_the_same(text: str) -> None:
    assert plain(text) == " ".join(printable(text).split())
    assert plain(text).isprintable()


@given(WILD)
@example(HOSTILE)
def test_xml_reads_back(text: str) -> None:
    read = ET.fromstring(f"<a b={xml_attribute(text)}>{xml(text)}</a>")
    assert [*read] == []
    assert (read.text or "", read.get("b")) == (printable(text), printable(text))


@given(WILD)
@example(HOSTILE)
@example("1. a")
@example("--- | a")
def test_markdown_reads_back(text: str) -> None:
    """Held against a reader of CommonMark; as a paragraph, in a heading and in a table's cell."""
    escaped, wanted = markdown(text), html.escape(plain(text)).replace("&#x27;", "'")
    reader = MarkdownIt("commonmark").enable("table")
    assert reader.render(escaped) == (f"<p>{wanted}</p>\n" if wanted else "")
    assert reader.render(f"## a {escaped}") == f"<h2>a {wanted}</h2>\n".replace(" </h2>", "</h2>")
    cells = reader.render(f"| | |\n|---|---|\n| {escaped} | b |")
    assert f"<td>{wanted}</td>\n<td>b</td>\n</tr>" in cells


@pytest.mark.parametrize(
    ("value", "words"),
    [("a\nb", '"a\\nb"'), (3, "3"), (True, "true"), ([1.5], "[1.5]"), ("\u202e", '"\\u202e"')],
)
def test_values_are_shown_about_as_they_stand(value: object, words: str) -> None:
    assert toml(value) == words


def test_keys_are_quoted_unless_plain() -> None:
    assert [toml_key(key) for key in ("a-b_1", "a.b", 'a"\n')] == ["a-b_1", '"a.b"', '"a\\"\\n"']


@given(WILD)
@example(HOSTILE)
def test_a_string_of_toml_reads_back(text: str) -> None:
    assert tomllib.loads(f"a = {toml_string(text)}") == {"a": printable(text)}


def test_no_message_repeats_a_long_text() -> None:
    assert shortened("a" * SHOWN) == "a" * SHOWN
    assert toml("a" * 999) == '"' + "a" * (SHOWN - 1) + "... (1001 characters)"
    assert toml_key("a" * 999).endswith("a... (999 characters)")


@given(WILD)
def test_a_terminal_is_not_steered(text: str) -> None:
    assert all(c.isprintable() or c == "\t" for c in visible(text))
    assert (visible(text) == text) == text.replace("\t", "").isprintable()


def test_a_string_of_openscad_keeps_breaks_as_escapes() -> None:
    assert scad_string('a"\n\\\x00') == '"a\\"\\n\\\\ "'
