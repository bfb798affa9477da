"""The Python interface is documented: each public name, in words and units, and pages of all."""

from __future__ import annotations

import inspect
import re
from pathlib import Path

import pytest

import scadgen
from scadgen.hinge.family import all_families
from tests.reference import LEFT_OUT, main, write_reference

UNIT = re.compile(r"\b(mm[23]?|degrees|N|MPa|percent|unit)\b")
FUNCTIONS = [name for name in scadgen.__all__ if inspect.isroutine(getattr(scadgen, name))]


def takes_numbers(function: object) -> bool:
    """Whether a quantity goes in or comes out."""
    signature = inspect.signature(function)  # type: ignore[arg-type]
    annotations = [p.annotation for p in signature.parameters.values()]
    return any("float" in str(each) for each in (*annotations, signature.return_annotation))


def test_public_functions_are_found() -> None:
    assert {"check", "emit", "mesh"} <= set(FUNCTIONS)
    assert any(takes_numbers(getattr(scadgen, name)) for name in FUNCTIONS)


@pytest.mark.parametrize("name", [n for n in scadgen.__all__ if n != "__version__"])
def test_every_public_name_has_a_docstring_with_its_units(name: str) -> None:
    found = getattr(scadgen, name)
    text = inspect.getdoc(found) or ""
    assert len(text.split()) > 3
    if name not in FUNCTIONS or takes_numbers(found):
        assert UNIT.search(text), text


@pytest.mark.parametrize("cls", all_families().values(), ids=all_families())
def test_every_family_is_public_and_documented(cls: type) -> None:
    assert getattr(scadgen, cls.__name__) is cls
    assert inspect.getdoc(cls)


def test_the_reference_is_written_without_a_warning(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["--out", str(tmp_path), "--bare"])
    assert capsys.readouterr().out == f"wrote {tmp_path / 'index.html'}\n"
    public = (tmp_path / "scadgen.html").read_text(encoding="utf-8")
    assert all(f'id="{name}"' in public for name in FUNCTIONS)
    package = Path(scadgen.__path__[0])
    for path in package.rglob("*.py"):
        parts = path.relative_to(package).with_suffix("").parts
        if path.stem != "__init__" and parts[0] not in LEFT_OUT:
            assert (tmp_path.joinpath("scadgen", *parts).with_suffix(".html")).is_file(), parts


def test_a_warning_is_an_error(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = "def wrong(x: 'nowhere.Thing') -> None:\n    'Words.'\n"
    (tmp_path / "wrong.py").write_text(text, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with pytest.raises(UserWarning, match="nowhere"):
        write_reference(tmp_path, ["wrong"])
