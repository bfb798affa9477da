"""The command: what it prints, what it writes and how it ends."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from scadgen.cli.main import main
from scadgen.findings.finding import Finding, Verdict
from scadgen.hinge.family import Hinge, all_families
from scadgen.jobs.job import load_job, new_job
from scadgen.proof import verdict as proof
from scadgen.text.typeset import typeset
from scadgen.version import VERSION
from tests.support import ROOT, each_family

JOB = str(ROOT / "gallery" / "tea_sampler_box.toml")
WRITTEN = [
    "waisted_spindle.scad",
    *(f"tea_sampler_lid.{suffix}" for suffix in ("scad", "stl", "3mf", "txt")),
    *(f"tea_sampler_lid_sheet.{suffix}" for suffix in ("md", "html")),
]
GOOD = Finding("gap at rest", True, "0.352 mm at rest; the clearance is 0.35 mm.")
BAD = Finding("swing", False, "free from -40.0 to 40.0 deg; -120 to 120 deg are asked.")


@pytest.fixture
def finds(monkeypatch: pytest.MonkeyPatch) -> Callable[..., list[Any]]:
    """Lets the proof find what the test says, at once; gives the list of what it was asked."""

    def install(*findings: Finding) -> list[Any]:
        asked: list[Any] = []

        def check(hinge: Hinge, layer_heights: Any, progress: Any = None, **_: Any) -> Verdict:
            asked.append((hinge, layer_heights, progress))
            return Verdict(hinge.family, findings)

        monkeypatch.setattr(proof, "check", check)
        return asked

    return install


def names(folder: Path) -> list[str]:
    """The files that a person sees in a folder."""
    return sorted(path.name for path in folder.glob("[!.]*"))


def python(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *arguments],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        check=False,
    )


def test_list_tells_each_family(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "--long"]) == 0
    lines = capsys.readouterr().out.splitlines()
    for name, cls in all_families().items():
        start = lines.index(f"{name}: {cls.title}")
        facts = [line.split(maxsplit=1) for line in lines[start + 1 : start + 5]]
        assert facts == [[f, getattr(cls, f)] for f in ("kind", "posture", "good", "weak")]


def test_list_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert [row["name"] for row in rows] == list(all_families())
    assert all({"kind", "posture", "good", "weak"} < set(row) for row in rows)


@each_family
def test_new_prints_a_job(cls: type[Hinge], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", cls.family]) == 0
    assert capsys.readouterr().out == new_job(cls.family)


def test_new_writes_a_job_but_never_over_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "jobs" / "lid.toml"
    assert main(["new", "rod_loops", "--out", str(path)]) == 0
    assert capsys.readouterr().out == f"wrote {path}\n"
    assert load_job(path).family == "rod_loops"
    path.write_text("mine")
    assert main(["new", "rod_loops", "--out", str(path)]) == 2
    assert capsys.readouterr().err == f"scadgen: {path}: exists already; name another file.\n"
    assert path.read_text() == "mine"


def test_check_asks_for_what_the_job_says(finds: Callable[..., list[Any]]) -> None:
    asked = finds(GOOD)
    assert main(["check", JOB]) == 0
    job = load_job(JOB)
    assert asked == [(job.hinge, job.layer_heights, None)]


@pytest.mark.parametrize(("findings", "status"), [([GOOD], 0), ([GOOD, BAD], 1)])
def test_check_prints_findings_and_ends_by_them(
    findings: list[Finding],
    status: int,
    finds: Callable[..., list[Any]],
    capsys: pytest.CaptureFixture[str],
) -> None:
    finds(*findings)
    assert main(["check", JOB]) == status
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("waisted_spindle: ")
    bad_first = sorted(findings, key=lambda finding: finding.passed)
    wanted = [f"{'ok  ' if f.passed else 'FAIL'} {f.name}: {typeset(f.words)}" for f in bad_first]
    assert lines[1:] == wanted
    for arguments in (["--quiet", "check", JOB], ["check", JOB, "--quiet"]):
        assert main(arguments) == status
        said = capsys.readouterr()
        assert said.out.splitlines() == [line for line in lines if line.startswith("FAIL")]
        assert said.err == ""


def test_check_as_json(finds: Callable[..., list[Any]], capsys: pytest.CaptureFixture[str]) -> None:
    finds(GOOD, BAD)
    assert main(["check", JOB, "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    assert (said["name"], said["family"]) == ("tea_sampler_lid", "waisted_spindle")
    assert said["passed"] is False
    wanted = {"name": BAD.name, "passed": False, "words": BAD.words}
    assert wanted.items() <= said["findings"][1].items()


def test_write_writes_all(
    tmp_path: Path, finds: Callable[..., list[Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    finds(GOOD)
    assert main(["write", JOB, "--out", str(tmp_path / "parts")]) == 0
    assert names(tmp_path / "parts") == sorted(WRITTEN)
    wrote = [f"wrote {tmp_path / 'parts' / name}" for name in WRITTEN]
    assert capsys.readouterr().out.splitlines()[1:] == [f"ok   {GOOD.name}: {GOOD.words}", *wrote]
    assert main(["write", JOB, "--out", str(tmp_path / "again"), "--quiet"]) == 0
    assert capsys.readouterr().out == ""
    for name in WRITTEN:
        assert (tmp_path / "again" / name).read_bytes() == (tmp_path / "parts" / name).read_bytes()


def test_write_writes_nothing_unproven(
    tmp_path: Path, finds: Callable[..., list[Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    finds(GOOD, BAD)
    assert main(["write", JOB, "--out", str(tmp_path / "parts")]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.splitlines() == [
        f"FAIL swing: {typeset(BAD.words)}",
        "scadgen: tea_sampler_lid is not proven; nothing was written.",
    ]
    assert list(tmp_path.iterdir()) == []


def test_write_into_what_is_no_folder(
    tmp_path: Path, finds: Callable[..., list[Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    finds(GOOD)
    (tmp_path / "parts").write_text("mine")
    assert main(["write", JOB, "--out", str(tmp_path / "parts")]) == 2
    assert "Not a directory. Nothing was changed; choose a folder" in capsys.readouterr().err
    assert (tmp_path / "parts").read_text() == "mine"


def test_an_interruption_is_no_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object, **__: object) -> Verdict:
        raise KeyboardInterrupt

    monkeypatch.setattr(proof, "check", interrupted)
    assert main(["check", JOB]) == 130
    assert capsys.readouterr().err == "scadgen: interrupted; nothing was changed.\n"


@pytest.mark.parametrize("command", ["check", "write"])
@pytest.mark.parametrize(
    ("text", "words"),
    [
        (None, "job.toml: cannot be read: No such file or directory."),
        ("family =", "job.toml: not TOML: "),
        ('family = "hinge"', 'job.toml: family = "hinge"; '),
        ('family = "rod_loops"\n[size]\nrod = 99', "job.toml: size.rod = 99 mm; it must be 3 to"),
    ],
)
def test_bad_jobs_end_with_2_and_one_line(
    command: str,
    text: str | None,
    words: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    if text is not None:
        Path("job.toml").write_text(text)
    assert main([command, "job.toml"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"scadgen: {words}")
    assert said.err.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"] * (text is not None)


@pytest.mark.parametrize(
    "arguments", [[], ["prove"], ["check"], ["new"], ["list", "--jason"], ["write", JOB, "more"]]
)
def test_bad_arguments_end_with_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    assert "usage: scadgen" in capsys.readouterr().err


def test_an_unknown_family_ends_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "rod_loop"]) == 2
    assert "did you mean rod_loops?" in capsys.readouterr().err


def test_library_is_written_and_checked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["library", "--check"]) == 1
    assert capsys.readouterr().out.endswith("To mend: scadgen library\n")
    assert not Path("library").exists()
    assert main(["library"]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 3 * len(all_families())
    assert main(["library", "--check"]) == 0
    assert capsys.readouterr().out == "library: as scadgen writes it\n"
    assert main(["library", "--check", "--quiet"]) == 0
    assert capsys.readouterr().out == ""
    Path("library/rod_loops.scad").write_text("")
    assert main(["library", "--check", "--quiet"]) == 1
    assert "@@" in capsys.readouterr().out


def test_python_dash_m_runs_the_command() -> None:
    run = python("-m", "scadgen", "--version")
    assert (run.returncode, run.stdout) == (0, f"scadgen {VERSION}\n")
    run = python("-m", "scadgen", "check", "no such file.toml")
    assert (run.returncode, run.stdout) == (2, "")
    assert run.stderr == "scadgen: no such file.toml: cannot be read: No such file or directory.\n"


def test_the_demo_job_is_proven_and_written(tmp_path: Path) -> None:
    """The whole way, in a process of its own, from the job file to the files."""
    run = python("-W", "error", "-m", "scadgen", "write", JOB, "--out", str(tmp_path))
    assert (run.returncode, run.stderr) == (0, "")
    assert "FAIL" not in run.stdout
    assert names(tmp_path) == sorted(WRITTEN)
    report = (tmp_path / "tea_sampler_lid.txt").read_text()
    findings = [line for line in run.stdout.splitlines() if line.startswith("ok ")]
    assert findings
    assert all(line.split(": ")[0] in report for line in findings)


def test_nothing_costly_is_imported_before_use() -> None:
    costly = {"numpy", "manifold3d", "jinja2", "rich", "solid2", "scadgen.hinge.family"}
    run = python("-c", f"import scadgen.cli.main, sys; print({costly!r} & set(sys.modules))")
    assert run.stdout == "set()\n"


def on_a_terminal(*arguments: str, **environment: str) -> str:
    """What a person at a terminal sees of the command, on both streams."""
    here, there = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "scadgen", *arguments],
        stdin=there,
        stdout=there,
        stderr=there,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm", **environment},
    )
    os.close(there)
    seen = b""
    try:
        while data := os.read(here, 4096):
            seen += data
    except OSError:  # the other end is closed
        pass
    os.close(here)
    assert process.wait() == 0, seen.decode()
    return seen.decode()


COLOR = re.compile(r"\x1b\[(\d+;)*3[0-9]m")


@pytest.fixture
def quick_job(tmp_path: Path) -> str:
    path = tmp_path / "job.toml"
    text = 'family = "waisted_spindle"\nsize.facets = 16\nprinters.layer_heights = [0.3]\n'
    path.write_text(text)
    return str(path)


def test_a_terminal_shows_progress_and_colours(quick_job: str) -> None:
    seen = on_a_terminal("check", quick_job)
    assert COLOR.search(seen)
    assert "rough fleet" in seen.partition("ok ")[0]


@pytest.mark.parametrize(
    ("options", "environment"), [(["--no-color"], {}), ([], {"NO_COLOR": "1"})]
)
def test_colours_can_be_turned_off(
    options: list[str], environment: dict[str, str], quick_job: str
) -> None:
    seen = on_a_terminal("check", quick_job, *options, **environment)
    assert "ok   fixed link: " in seen
    assert not COLOR.search(seen)


def test_quiet_is_quiet_on_a_terminal(quick_job: str) -> None:
    assert on_a_terminal("check", quick_job, "--quiet") == ""
