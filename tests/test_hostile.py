"""Jobs made to do harm: refused at once, or nothing but data in what is written."""

from __future__ import annotations

import functools
import re
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from scadgen.findings.finding import Verdict
from scadgen.handover import outputs
from scadgen.handover.outputs import job_file_names, job_files
from scadgen.hinge import meshing
from scadgen.hinge.family import all_families
from scadgen.jobs.job import Job, JobError, load_job
from scadgen.keeping.edits import write_keeping
from scadgen.keeping.files import WriteError
from scadgen.keeping.fingerprint import is_as_written
from scadgen.tables.documents import LARGEST
from scadgen.tables.kinds import LONGEST
from tests.support import assert_short_line
from tests.test_files import contents

ROD = 'family = "rod_loops"\n'
JOB = Job("rod_loops", "lid", "", "", all_families()["rod_loops"](facets=16), (0.3,))
VERDICT = Verdict("rod_loops", ())
READS = re.compile(r"\b(include|use|import|surface)\b")
PIECES = ["*/", "/*", "//", '"', "\\", "\n", "\r\n", "\u2028", "\x00", "\ufeff", "\ud800", "\u202e"]
PIECES += ["use <a.scad>\n", "include </etc/passwd>", 'import("a.stl");', 'surface("a");']
PIECES += ["cube(9);", "<script>", "]]>", "&amp;", "../", "a", " "]
WILD = st.text(st.characters()) | st.lists(st.sampled_from(PIECES)).map("".join)


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The same solids are meshed once."""
    with monkeypatch.context() as patch:
        patch.setattr(outputs, "mesh", meshed)
        yield


@functools.cache
def meshed(hinge: object, part: str = "both") -> object:
    return meshing.mesh(hinge, part)  # type: ignore[arg-type]


@functools.cache
def tame_files() -> dict[str, bytes]:
    return job_files(JOB, VERDICT)


@functools.cache
def titled_files() -> dict[str, bytes]:
    return job_files(replace(JOB, title="A title", note="A note"), VERDICT)


def code(source: str) -> str:
    """OpenSCAD source without its comments and without what its strings say."""
    tokens = r'"(?:[^"\\]|\\.)*"|//[^\n]*|/\*.*?\*/'
    return re.sub(tokens, lambda t: '""' if t[0][0] == '"' else "", source, flags=re.DOTALL)


@settings(max_examples=30)
@given(WILD, WILD, WILD)
@example("*/ include </etc/passwd>\n", '"\nuse <a.scad>\n', "x\nimport(a)")
@example("", "", "\ud800")
def test_texts_are_only_data(title: str, note: str, name: str) -> None:
    tame = tame_files()
    wild = job_files(replace(JOB, title=title, note=note, name=name), VERDICT)
    module, call, stl, packed, report, markdown, html = wild.values()
    assert [module, stl] == [tame["rod_loops.scad"], tame["lid.stl"]]
    assert code(call.decode()).split() == code(tame["lid.scad"].decode()).split()
    assert READS.findall(code(module.decode())) == []
    assert code(call.decode()).count("use <rod_loops.scad>\n") == 1
    assert len(READS.findall(code(call.decode()))) == 1
    for text in (module, call, report):
        assert is_as_written(text.decode())
        assert text.decode().replace("\n", "").isprintable()
    assert_3mf_says(packed, title, name)
    assert markdown_elements(markdown) <= markdown_elements(titled_files()["lid_sheet.md"])
    assert html_elements(html) <= html_elements(titled_files()["lid_sheet.html"])


def markdown_elements(page: bytes) -> set[tuple[str, str]]:
    """What a page is made of besides its words, by an independent reader of Markdown."""
    blocks = MarkdownIt("commonmark").enable("table").parse(page.decode())
    inside = (child for block in blocks for child in block.children or ())
    return {(token.type, token.tag) for token in (*blocks, *inside)}


def html_elements(page: bytes) -> set[tuple[str, tuple[tuple[str, str | None], ...]]]:
    """The tags of a page with their attributes; of numbers only that: long names move lines."""
    found: set[tuple[str, tuple[tuple[str, str | None], ...]]] = set()

    def note(tag: str, attrs: list[tuple[str, str | None]]) -> None:
        plain = ((key, re.sub(r"^-?[\d.]+$", "0", value or "")) for key, value in attrs)
        found.add((tag, tuple(plain)))

    reader = HTMLParser()
    reader.handle_starttag = note  # type: ignore[method-assign]
    reader.feed(page.decode())
    return found


def assert_3mf_says(packed: bytes, title: str, name: str) -> None:
    with zipfile.ZipFile(BytesIO(packed)) as archive:
        model = ET.fromstring(archive.read("3D/3dmodel.model"))
    with zipfile.ZipFile(BytesIO(tame_files()["lid.3mf"])) as archive:
        tame = archive.read("3D/3dmodel.model")
    assert [node.tag for node in model.iter()] == [node.tag for node in ET.fromstring(tame).iter()]
    said = [node.text for node in model.iter() if node.get("name") == "Title"]
    assert said == [one_line(title) or one_line(name) or None]
    names = [node.get("name") for node in model.iter() if node.tag.endswith("}object")]
    assert names[-1] == "".join(c if c.isprintable() else " " for c in name)


def one_line(text: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


@pytest.mark.parametrize("name", ["../lid", "/tmp/lid", "a/../../lid", "con", "a\\b", "a\0"])
def test_a_name_is_never_a_path(name: str, tmp_path: Path) -> None:
    """A job from a file cannot have such a name; one made in Python may."""
    job = replace(JOB, name=name)
    files = job_files(job, VERDICT)
    assert list(files) == job_file_names(job)
    with pytest.raises(WriteError, match="Nothing was changed; choose another name"):
        write_keeping(tmp_path / "parts", files)
    with pytest.raises(WriteError, match="'' is no file name"):
        write_keeping(tmp_path / "parts", {"": b""})
    assert contents(tmp_path) == {}


def refused(path: Path, text: str | bytes) -> str:
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(JobError) as caught:
        load_job(path)
    words = str(caught.value)
    assert_short_line(words, path)
    return words


DOTS = "a." * 200_000


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (b"#" * 10_000_000, "larger than 1 MB; a job is a page of text."),
        (ROD + "#" * LARGEST, "larger than 1 MB"),
        ("a = " + "[" * 900_000, "nested too deeply"),
        ("a = " + "{b=" * 300_000, "nested too deeply"),
        (ROD + DOTS + "a = 1", "line 2: a key of 40 parts or more; a job has none over two."),
        (f"{ROD}[{DOTS}a]", "line 2: a key of 40 parts or more"),
        (f"{ROD}a = {{{DOTS}a = 1}}", "line 2: a key of 40 parts or more"),
        (ROD + '"a" . ' * 150_000 + "a = 1", "line 2: a key of 40 parts or more"),
        (ROD + "'a'.b." * 100_000 + "a = 1", "line 2: a key of 40 parts or more"),
        (ROD + "a" * 900_000 + " = 1", "aaa... (900000 characters): no such key"),
        (f'family = "{"a" * 900_000}"', "aaa... (900002 characters); it must be one of "),
        (ROD + f'name = "{"a" * 900_000}"', "name: 900000 characters; it must be at most"),
        (ROD + f'title = "{"a" * 900_000}"', f"characters; it must be at most {LONGEST}."),
        (ROD + f'note = "{"a" * 900_000}"', "note: 900000 characters; it must be at most"),
        (ROD + f"clearance = 0x{'f' * 900_000}", "clearance: too large; whole numbers"),
        (ROD + f"family2 = [0x{'f' * 9000}]", "family2: too large; whole numbers"),
        (ROD + f"printers.layer_heights = [0x{'f' * 9000}]", "too large; whole numbers"),
        (ROD + f"clearance = {'9' * 900_000}.0", "clearance = inf mm; it must be"),
        (ROD + f"clearance = 1{'0' * 900_000}", "not TOML: "),
        (ROD + "clearance = -inf", "clearance = -inf mm; it must be"),
        (ROD + "".join(f"k{i} = 1\n" for i in range(90_000)), "k0: no such key"),
        (ROD + "clearance = 0.3\nclearance = 0.4", "(at line 3, column 16)"),
        (ROD + "[size]\n[size]", "(at line 3, column 6)"),
        (ROD + f"a = [{'1,' * 300_000}]", "a: no such key"),
        (ROD + 'title = "\\ud800"', "not TOML: "),
        (ROD + 'title = "a\0b"', "not TOML: "),
        (ROD + 'name = "con"', "and not con. This works: my_rod_loops."),
        (ROD + 'name = "LPT1"', "and not LPT1. This works: my_rod_loops."),
        (ROD + 'name = "Side_Cones"', "and not side_cones. This works: my_rod_loops."),
        (ROD + f'name = "{"a" * 65}"', "it must be at most 64 letters, digits and '_'"),
    ],
    ids=range(30),
)
def test_hostile_jobs_are_refused(text: str | bytes, words: str, tmp_path: Path) -> None:
    """All in about a second or less; without the limits, some would take minutes."""
    assert words in refused(tmp_path / "job.toml", text)


def test_a_file_without_end_is_refused() -> None:
    with pytest.raises(JobError, match="/dev/zero: larger than 1 MB"):
        load_job("/dev/zero")


@pytest.mark.parametrize("dots", ["one. two. three. " * 12, "...", "www.a.b.c.example", "1.5 mm"])
def test_dots_in_a_note_are_no_key(dots: str, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(f'{ROD}title = "{dots}"\nnote = """\n{dots}\n"""\n')
    assert load_job(tmp_path / "job.toml").title == dots
