"""``scadgen coupon`` and ``scadgen calibrate`` from a command line."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from scadgen.cli.main import main
from scadgen.coupons.outputs import coupon_files
from scadgen.coupons.plan import Plan
from scadgen.coupons.solids import whole
from tests.coupons.support import PIVOTS, PLANS, each_of

SOME = PIVOTS[0]
NAME = SOME.family.family


@pytest.fixture
def results(tmp_path: Path) -> Path:
    """Results of which three steps fused, as a maker fills them in."""
    assert main(["--quiet", "coupon", NAME, "--out", str(tmp_path)]) == 0
    path = tmp_path / f"{NAME}_coupon_results.toml"
    text = path.read_text(encoding="utf-8").replace('"?"', '"fused"', 3)
    path.write_text(text.replace('"?"', '"free"'), encoding="utf-8")
    return path


@each_of(PLANS)
def test_the_files_are_the_same_each_time_and_hold_the_coupon(
    printed: Plan, tmp_path: Path
) -> None:
    import trimesh

    files = coupon_files(printed)
    assert files == coupon_files(printed)
    stem, family = printed.name, printed.family.family
    suffixes = (".scad", ".stl", ".3mf", "_sheet.html")
    wanted = {f"{family}.scad", *(f"{stem}{suffix}" for suffix in suffixes)}
    filled_in = {f"{stem}_results.toml"} if printed.calibrates or printed.steps.strains else set()
    assert set(files) == wanted | filled_in
    (tmp_path / "coupon.stl").write_bytes(files[f"{stem}.stl"])
    read = trimesh.load_mesh(tmp_path / "coupon.stl")
    assert read.is_watertight
    assert read.volume == pytest.approx(whole(printed).volume(), rel=1e-4)
    text = files[f"{stem}.scad"].decode()
    assert f"use <{family}.scad>" in text
    assert "small parts" in text
    assert max(map(len, text.splitlines())) <= 110


def test_a_coupon_says_what_its_numbers_mean(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["coupon", NAME, "--out", str(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert "15      0.15 mm    0.1, 0.2 mm; may fuse at 0.3 mm" in out
    assert f"wrote {tmp_path / NAME}_coupon.scad" in out


def test_a_family_that_there_is_not_is_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["coupon", NAME[:-1]]) == 2
    assert f"did you mean {NAME}?" in capsys.readouterr().err


def test_a_family_without_a_coupon_is_bad_input(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(SOME.family, "coupon", classmethod(lambda cls: None))
    assert main(["coupon", NAME]) == 2
    assert "no coupon" in capsys.readouterr().err


def test_a_calibration_writes_the_printer(
    results: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "printer.toml"
    assert main(["calibrate", str(results), "--out", str(out)]) == 0
    growth = tomllib.loads(out.read_text(encoding="utf-8"))["growth"]
    assert growth["low"] < growth["mean"] < growth["high"]
    assert f"growth {growth['mean']:+.3f} mm per side" in capsys.readouterr().out


def test_a_file_that_exists_is_kept_unless_forced(
    results: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "printer.toml"
    out.write_text("mine", encoding="utf-8")
    assert main(["calibrate", str(results), "--out", str(out)]) == 2
    assert "exists already; name another file, or add --force" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == "mine"
    assert main(["calibrate", str(results), "--out", str(out), "--force"]) == 0
    assert "[growth]" in out.read_text(encoding="utf-8")


def test_a_hopeless_coupon_writes_nothing(
    results: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    swapped = results.read_text(encoding="utf-8").replace('= "free"', '= "later"')
    swapped = swapped.replace('= "fused"', '= "free"').replace('= "later"', '= "fused"')
    results.write_text(swapped, encoding="utf-8")
    assert main(["calibrate", str(results), "--out", str(tmp_path / "printer.toml")]) == 2
    assert str(results) in capsys.readouterr().err
    assert not (tmp_path / "printer.toml").exists()
