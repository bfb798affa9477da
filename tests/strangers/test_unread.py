"""A pipe that nobody reads loses no file, whichever command writes it; an end leaves no half."""

from __future__ import annotations

import signal
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from scadgen import SheetFlexure
from scadgen.cli.apart import hear_ends, terminated
from scadgen.cli.main import main
from scadgen.findings.finding import Finding, Verdict
from scadgen.keeping import files
from scadgen.sizing.size import Sized
from tests.test_files import contents

JOB = 'family = "sheet_flexure"\nname = "x"\n[printers]\nmaterial = "petg"\n'
GOOD = Verdict("x", (Finding("swing", True, "free."),))
SIZED = Sized(SheetFlexure(), (), 1)
FOUND = SimpleNamespace(
    product=SimpleNamespace(name="x"), joints=(), lines=tuple, verdict=GOOD, passed=True
)
PRINTED = SimpleNamespace(steps=SimpleNamespace(look="Look."))
RANKING = SimpleNamespace(choices=(), favourite=SimpleNamespace(sized=SIZED))
#: What takes long, by its place, and what stands for it: what it gives is not what is tested.
QUICK: dict[str, Any] = {
    "scadgen.cli.commands.check.certificate_file": b"{}\n",
    "scadgen.cli.commands.inspect.certificate_file": b"{}\n",
    "scadgen.coupons.held.held_lines": (),
    "scadgen.coupons.outputs.coupon_files": {"coupon.stl": b"\0", "coupon.txt": b"x\n"},
    "scadgen.coupons.outputs.coupon_of": PRINTED,
    "scadgen.coupons.text.legend": ("words",),
    "scadgen.handover.outputs.job_files": {"x.scad": b"x\n", "x.stl": b"\0"},
    "scadgen.inspection.inspect": FOUND,
    "scadgen.inspection.picture.picture": b"\0",
    "scadgen.openscad.library.library_files": {"x.scad": b"x\n"},
    "scadgen.product.choosing.choices": ("words",),
    "scadgen.product.outputs.product_file_names": ["x.scad"],
    "scadgen.product.outputs.product_files": {"x.scad": b"x\n", "x.stl": b"\0"},
    "scadgen.product.proving.check_product": FOUND,
    "scadgen.product.reading.load_product": FOUND.product,
    "scadgen.proof.verdict.check": GOOD,
    "scadgen.sizing.changes.changes": [],
    "scadgen.sizing.choose.choose": RANKING,
    "scadgen.sizing.choose.preferred": SIZED,
    "scadgen.sizing.report.ranking_lines": ("words",),
    "scadgen.toolpaths.follow": FOUND,
    "scadgen.toolpaths.picture.picture": b"\0",
    "scadgen.toolpaths.verdict_on": GOOD,
}
#: Every command that writes files, so that it does.
WRITING = (
    "check job.toml --certificate made/x.json",
    "choose job.toml --out made/chosen.toml",
    "coupon rod_loops --out made",
    "inspect x.stl --certificate made/x.json --picture made/x.png",
    "library --out made",
    "new rod_loops --out made/new.toml",
    "product x.toml --out made",
    "size job.toml --out made/sized.toml",
    "toolpath x.gcode --picture made/x.png",
    "write job.toml --out made",
)


class Unread:
    """An output that nobody reads, from the first word on."""

    encoding = "utf-8"

    def write(self, _: str) -> int:
        raise BrokenPipeError(32, "Broken pipe")

    def flush(self) -> None:
        """Nothing waits."""

    def isatty(self) -> bool:
        return False


def giving(result: Any) -> Callable[..., Any]:
    """What gives the same whatever it is asked."""
    return lambda *_, **__: result


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Callable[[str, str], int]:
    """Runs a command in a folder of that name, with a job in it."""

    def run(folder: str, words: str) -> int:
        (tmp_path / folder).mkdir(exist_ok=True)
        monkeypatch.chdir(tmp_path / folder)
        Path("job.toml").write_text(JOB, encoding="utf-8")
        return main(words.split())

    for place, given in QUICK.items():
        monkeypatch.setattr(place, giving(given))
    return run


@pytest.mark.parametrize("words", WRITING, ids=lambda words: words.split()[0])
def test_what_nobody_reads_is_written_nevertheless(
    words: str, run: Callable[[str, str], int], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert run("read", words) == 0
    with monkeypatch.context() as patch:
        patch.setattr("sys.stdout", Unread())
        with pytest.raises(BrokenPipeError):
            run("unread", words)
    written = contents(tmp_path / "unread")
    assert any(name.startswith("made/") for name in written)
    assert written == contents(tmp_path / "read")


@pytest.mark.parametrize("words", WRITING, ids=lambda words: words.split()[0])
def test_a_signal_in_the_middle_leaves_the_old_files(
    words: str, run: Callable[[str, str], int], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """It comes when the last of the files is whole, and not yet in its place."""

    def ended(*_: Any) -> None:
        terminated(signal.SIGTERM, None)

    with monkeypatch.context() as patch:
        patch.setattr(signal, "signal", lambda *_: None)
        patch.setattr(files, "_replace", ended)
        with pytest.raises(SystemExit) as end:
            run("ended", words)
    assert end.value.code == 128 + signal.SIGTERM
    assert set(contents(tmp_path / "ended")) == {"job.toml"}


def test_a_second_signal_does_not_break_off_the_clearing_up(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    heard: dict[int, Any] = {}
    monkeypatch.setattr(signal, "signal", heard.__setitem__)
    hear_ends()
    assert heard[signal.SIGTERM] is terminated
    with pytest.raises(SystemExit):
        heard[signal.SIGTERM](signal.SIGTERM, None)
    assert heard[signal.SIGTERM] is signal.SIG_IGN


@pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="terminals do not hang up here")
@pytest.mark.parametrize(("before", "heard"), [(signal.SIG_DFL, True), (signal.SIG_IGN, False)])
def test_a_terminal_that_is_closed_ends_it_unless_it_was_told_to_go_on(
    before: signal.Handlers, heard: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As ``nohup`` tells it."""
    set_: dict[int, Any] = {}
    monkeypatch.setattr(signal, "signal", set_.__setitem__)
    monkeypatch.setattr(signal, "getsignal", lambda _: before)
    hear_ends()
    assert (set_.get(signal.SIGHUP) is terminated) == heard
