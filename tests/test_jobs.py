"""Jobs: read, refused with a reason that helps, and written with every value."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.hinge.rules import HingeError
from scadgen.jobs.job import Job, JobError, job_keys, load_job, new_job
from scadgen.jobs.keys import DUTY
from scadgen.printing.lines import LINE_WIDTH
from scadgen.product.reading import load_product
from scadgen.proof.heights import LAYER, LAYER_HEIGHTS, LINE, highest_step
from scadgen.sizing.wish import load_wish
from tests.support import ROOT, each_family, moved

SPINDLE = 'family = "waisted_spindle"\n'


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    return tmp_path / "job.toml"


def loaded(path: Path, text: str) -> Job:
    path.write_text(text, encoding="utf-8")
    return load_job(path)


def refused(path: Path, text: str | bytes) -> JobError:
    """The error for a job; it names the file and stays on one line."""
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(JobError) as caught:
        load_job(path)
    assert str(caught.value) == f"{path}: {caught.value.words}"
    assert len(str(caught.value).splitlines()) == 1
    return caught.value


@each_family
def test_a_new_job_is_the_default_hinge(cls: type[Hinge], job_file: Path) -> None:
    job = loaded(job_file, new_job(cls.family))
    assert job.hinge == cls()
    assert job == Job(cls.family, f"my_{cls.family}", "", "", cls(), LAYER_HEIGHTS)


@each_family
def test_a_new_job_says_all_about_every_value(cls: type[Hinge]) -> None:
    text = new_job(cls.family)
    for name, key in job_keys(cls).items():
        limits = bounds(cls)[name]
        assert f"# {limits.meaning}; {limits.words}\n{key.rpartition('.')[2]} = " in text
    assert max(map(len, text.splitlines())) <= 100


@each_family
def test_every_field_but_the_drawn_angle_and_the_thickest_layer_has_a_key(cls: type[Hinge]) -> None:
    assert set(bounds(cls)) - set(job_keys(cls)) == {"angle", "layer"}
    assert len(set(job_keys(cls).values())) == len(job_keys(cls))


@each_family
def test_every_key_sets_its_field(cls: type[Hinge], job_file: Path) -> None:
    other = moved(cls)
    values = {key: getattr(other, name) for name, key in job_keys(cls).items()}
    lines = "".join(f"{key} = {value}\n" for key, value in values.items())
    job = loaded(job_file, f'family = "{cls.family}"\n{lines}')
    assert {key: getattr(job.hinge, name) for name, key in job_keys(cls).items()} == values
    assert job.hinge != cls()


def test_a_job_holds_what_its_file_says(job_file: Path) -> None:
    text = SPINDLE + 'name = "lid"\ntitle = "Lid"\nnote = "No \\"load\\""\nclearance = 0.4\n'
    job = loaded(job_file, text + "[printers]\nlayer_heights = [0.16, 1e-1]\n[duty]\nangle = 90")
    assert (job.name, job.title, job.note) == ("lid", "Lid", 'No "load"')
    assert (job.hinge.clearance, job.hinge.swing, job.hinge.angle) == (0.4, 90, 0)
    assert (job.layer_heights, job.hinge.layer) == ((0.16, 0.1), 0.16)


def test_a_byte_order_mark_does_no_harm(job_file: Path) -> None:
    job_file.write_bytes(b"\xef\xbb\xbf" + SPINDLE.encode())
    assert load_job(job_file).family == "waisted_spindle"


def test_the_gallery_jobs_load() -> None:
    files = sorted((ROOT / "gallery").glob("*.toml"))
    products = [path for path in files if "product" in path.stem]
    jobs = [path for path in files if path not in products]
    assert jobs
    assert products
    assert all("invented" in load_product(path).title for path in products)
    wishes = [path for path in jobs if "wish" in path.stem]
    assert all("invented" in load_job(path).title for path in jobs if path not in wishes)
    assert wishes
    assert all("Invented" in load_wish(path).given["note"] for path in wishes)


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        ("", "family", f"family: missing; it must be one of {', '.join(all_families())}."),
        ('family = "waisted_spindel"', "family", "did you mean waisted_spindle?"),
        ("family = 3", "family", "family = 3; it must be one of "),
        ("family = {}", "family", "family = {}; it must be one of "),
        (SPINDLE + "name = 3", "name", "name = 3; it must be text in quotes."),
        (SPINDLE + 'name = "tea box/lid"', "name", "This works: tea_box_lid."),
        (SPINDLE + 'name = "../lid"', "name", "This works: lid."),
        (SPINDLE + 'name = "3"', "name", "This works: my_waisted_spindle."),
        (SPINDLE + 'name = "Waisted_Spindle"', "name", "and not waisted_spindle. This works: my_"),
        (SPINDLE + "title = true", "title", "title = true; it must be text in quotes."),
        (SPINDLE + "note = [1]", "note", "note = [1]; it must be text in quotes."),
        (SPINDLE + "clearence = 0.3", "clearence", "no such key; did you mean clearance?"),
        (SPINDLE + "height = 40", "height", "no such key; did you mean size.height?"),
        (SPINDLE + "[size]\nheigth = 40", "size.heigth", "did you mean size.height?"),
        (SPINDLE + "[size]\nclearance = 0.3", "size.clearance", "did you mean clearance?"),
        (SPINDLE + "[size]\nswing = 90", "size.swing", "did you mean duty.angle?"),
        (SPINDLE + "[size]\nangle = 90", "size.angle", "did you mean duty.angle?"),
        (SPINDLE + "[duty]\nswing = 90", "duty.swing", "did you mean duty.angle?"),
        (SPINDLE + "[sizes]\nheight = 40", "sizes", "no such key"),
        (SPINDLE + "[sizes]", "sizes", "no such key"),
        (SPINDLE + "zzz = 1", "zzz", "no such key; there are family, name, title, note, "),
        (SPINDLE + '"size.height" = 40', '"size.height"', "no such key"),
        (SPINDLE + '"a\\nb" = 40', '"a\\nb"', "no such key"),
        (SPINDLE + "size = 3", "size", "size: it must be a table, headed by [size]."),
        (SPINDLE + "[[size]]", "size", "size: it must be a table, headed by [size]."),
        (
            SPINDLE + "[size]\nheight = true",
            "size.height",
            "= true; it must be a number, 10 to 200",
        ),
        (SPINDLE + '[size]\nheight = "4"', "size.height", '= "4"; it must be a number, 10 to 200'),
        (SPINDLE + "[size.height]", "size.height", "= {}; it must be a number, 10 to 200 "),
        (SPINDLE + "[size]\nheight = 1979-05-27", "size.height", '"1979-05-27"; it must be a num'),
        (
            SPINDLE + "[size]\nheight = nan",
            "size.height",
            "= nan mm; it must be 10 to 200 mm, or 0.",
        ),
        (
            SPINDLE + "[size]\nheight = inf",
            "size.height",
            "= inf mm; it must be 10 to 200 mm, or 0.",
        ),
        (SPINDLE + f"[size]\nheight = 1{'0' * 400}", "size.height", "too large; whole numbers"),
        (SPINDLE + "[size]\nheight = 500", "size.height", "This works: size.height = 200."),
        (SPINDLE + "[size]\nrings = 1.5", "size.rings", "1.5; it must be 1 to 6 in steps of 1."),
        (SPINDLE + "[size]\nheight = 20", "size.height", "This works: size.height = "),
        (SPINDLE + "clearance = 5", "clearance", "clearance = 5 mm; it must be 0.15 to 0.8 mm."),
        (SPINDLE + "[duty]\nangle = 175", "duty.angle", "This works: duty.angle = "),
        (SPINDLE + "[duty]\nangle = 300", "duty.angle", "= 300 deg; it must be 10 to 190 deg."),
        (
            SPINDLE + "[printers]\nline_width = 9",
            "printers.line_width",
            "printers.line_width = 1.2",
        ),
        (SPINDLE + "[printers]\nlayer_heights = 0.2", "printers.layer_heights", "be a list"),
        (SPINDLE + "[printers]\nlayer_heights = []", "printers.layer_heights", "be a list"),
        (
            SPINDLE + "[printers]\nlayer_heights = [0.2, 3]",
            "printers.layer_heights",
            "works: 0.32.",
        ),
        (SPINDLE + "[printers]\nlayer_heights = [nan]", "printers.layer_heights", "works: 0."),
        (
            SPINDLE + "[printers]\nlayer_heights = [true]",
            "printers.layer_heights",
            "= true; it must be a",
        ),
        (
            SPINDLE + '[printers]\nlayer_heights = ["a"]',
            "printers.layer_heights",
            '= "a"; it must be a',
        ),
        ("family =", None, "not TOML: Invalid value (at line 1, column 9)."),
        (SPINDLE + "height 40", None, "(at line 2, column 8)"),
        (SPINDLE + SPINDLE, None, "(at line 2, column 27)"),
        (b"# \n\n\xff", None, "line 3: not UTF-8"),
        ("family = " + "[" * 100_000, None, "nested too deeply"),
        (SPINDLE + f"clearance = {'9' * 5000}", None, "not TOML: "),
        (b"family = 'a\0b'", None, "not TOML: "),
    ],
)
def test_bad_jobs_say_what_is_wrong(
    text: str | bytes, key: str | None, words: str, job_file: Path
) -> None:
    error = refused(job_file, text)
    assert error.key == key
    assert words in error.words
    if key is not None:
        assert error.words.startswith(key)


def test_a_refused_hinge_is_told_in_the_keys_of_the_job(job_file: Path) -> None:
    with pytest.raises(HingeError) as caught:
        all_families()["waisted_spindle"](clearance=0.8)
    hinge = caught.value
    error = refused(job_file, SPINDLE + "clearance = 0.8")
    assert error.key == f"size.{hinge.param}"
    assert hinge.rule in error.words
    assert hinge.works
    assert all(f"size.{name} = " in error.words for name in hinge.works)


@pytest.mark.parametrize(
    "text",
    [
        SPINDLE + "clearance = 5",
        SPINDLE + "[size]\nheight = 20",
        SPINDLE + "size.rings = 6\nprinters.layer_heights = [0.8]",
    ],
)
def test_what_the_error_says_works_does_work(text: str, job_file: Path) -> None:
    words = refused(job_file, text).words
    remedy = words.partition("This works: ")[2].rstrip(".").replace(", ", "\n")
    assert loaded(job_file, SPINDLE + remedy).hinge != all_families()["waisted_spindle"]()


@pytest.mark.parametrize("height", [0, 9, -1e300, 1e300])
def test_the_layer_height_offered_works(height: float, job_file: Path) -> None:
    start = 'family = "slit_lattice"\nprinters.layer_heights = '
    words = refused(job_file, f"{start}[{height}]").words
    works = float(words.partition("This works: ")[2].rstrip("."))
    assert works in (LAYER.low, highest_step(LINE_WIDTH))
    assert loaded(job_file, f"{start}[{works}]").layer_heights == (works,)


@pytest.mark.parametrize("width", [LINE.low, LINE_WIDTH, LINE.high])
def test_the_layer_height_offered_for_a_text_is_one_that_the_lines_print(
    width: float, job_file: Path
) -> None:
    heights = f'printers.line_width = {width}\nprinters.layer_heights = ["thin"]'
    words = refused(job_file, f"{SPINDLE}{heights}").words
    assert 0 < float(words.partition("This works: ")[2].rstrip(".")) <= highest_step(width)


@each_family
def test_the_duty_offered_is_the_usual_one_of_the_family(cls: type[Hinge], job_file: Path) -> None:
    for key, name in DUTY.items():
        words = refused(job_file, f'family = "{cls.family}"\n{key} = "much"').words
        works = float(words.partition("This works: ")[2].rstrip("."))
        assert works == getattr(cls.usual_duty(), name)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(JobError, match=r"cannot be read: (No such file|Is a directory)"):
            load_job(path)


def test_no_new_job_for_an_unknown_family() -> None:
    with pytest.raises(JobError, match=r"did you mean rod_loops\? It must be one of") as caught:
        new_job("rodloops")
    assert caught.value.path is None


KEYS = ["name", "note", "printers.layer_heights", *job_keys(all_families()["rod_loops"]).values()]
VALUES = (
    st.floats().map(repr)
    | st.integers().map(repr)
    | st.text(max_size=5).map(repr)
    | st.lists(st.floats(0, 1), max_size=3).map(repr)
    | st.sampled_from(["true", "1e999", "[[]]", "{a = 1}", "07:32:00", "0x10", "1_0"])
)
LINES = st.builds("{} = {}\n".format, st.sampled_from(KEYS), VALUES)
JOBS = st.lists(LINES, max_size=3).map(lambda lines: 'family = "rod_loops"\n' + "".join(lines))


@given(st.binary() | JOBS.map(str.encode))
def test_any_bytes_are_a_job_or_a_job_error(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_bytes(data)
    result = job_or_error(path)
    if isinstance(result, JobError):
        assert len(str(result).splitlines()) == 1
    else:
        assert tomllib.loads(data.decode("utf-8-sig"))["family"] == result.family


def job_or_error(path: Path) -> Job | JobError:
    try:
        return load_job(path)
    except JobError as error:
        return error
