"""The JSON Schema of product files allows what the reader takes, and knows its keys."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from scadgen.cli.main import main
from scadgen.hinge.family import all_families
from scadgen.product.schema import product_schema
from tests.guides.blocks import blocks
from tests.product.support import TEA
from tests.product.test_choosing import OPEN
from tests.product.test_reading import BODIES, CAUGHT, CHAIN, HEAD, TEXT
from tests.support import ROOT


@cache
def validator() -> Draft202012Validator:
    return Draft202012Validator(product_schema())


def allows(text: str) -> bool:
    return bool(validator().is_valid(tomllib.loads(text)))


def test_it_is_a_schema_and_the_command_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    Draft202012Validator.check_schema(product_schema())
    assert main(["schema", "product"]) == 0
    assert json.loads(capsys.readouterr().out) == product_schema()


def test_it_allows_every_product_of_the_guide_and_the_gallery() -> None:
    told = [
        b.code
        for b in blocks((ROOT / "gallery/guide/product.md").read_text(encoding="utf-8"))
        if b.language == "toml"
    ]
    products = [code for code in told if "[bodies." in code]
    assert len(products) > 5
    for text in (*products, TEA.read_text(encoding="utf-8"), TEXT, CAUGHT, HEAD + BODIES + OPEN):
        assert allows(text), [e.message for e in validator().iter_errors(tomllib.loads(text))]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('name = "small_box"', ""),
        ("wall = 2\nfloor", "wall = 0\nfloor"),
        ("floor", "flor"),
        ('"tray"', '"trey"'),
        ("height = 14\n", ""),
        ('"side_cones"', '"side_bones"'),
        ("closes = true", "closes = 1"),
        ("closes = true", "with_others = [1]"),
        ("closes = true", 'edge = "top"'),
        ("[joints.hinge]", '[joints."the hinge"]'),
        ("cone = 8", "rod = 8"),
        ("[printers]", "[printers]\nbed = [0, 180]"),
    ],
)
def test_it_refuses_what_the_reader_refuses_by_itself(old: str, new: str) -> None:
    assert allows(TEXT)
    assert old in TEXT
    assert not allows(TEXT.replace(old, new, 1))


def test_a_chain_and_every_family_are_in_it() -> None:
    assert allows(CHAIN)
    names = set(product_schema()["$defs"])
    assert {f"joint_{name}" for name in all_families()} < names


@pytest.mark.parametrize("command", ["check", "choose", "size", "write"])
def test_a_product_that_is_given_for_a_job_leads_to_its_command(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "box.toml"
    path.write_text(TEXT, encoding="utf-8")
    extra = ["--out", str(tmp_path / "out")] if command == "write" else []
    assert main([command, str(path), *extra]) == 2
    told = capsys.readouterr().err
    assert "prove it by scadgen product" in told
    assert told.count("\n") == 1


def test_a_job_that_is_given_for_a_product_leads_to_its_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "job.toml"
    path.write_text('family = "rod_loops"\n', encoding="utf-8")
    assert main(["product", str(path)]) == 2
    assert "prove it by scadgen check" in capsys.readouterr().err


@pytest.mark.openscad
def test_openscad_is_given_no_more_time_for_a_body_than_is_asked(tmp_path: Path) -> None:
    from scadgen.openscad.bounds import Bounds
    from scadgen.product.reading import load_product
    from scadgen.tables.documents import JobError

    (tmp_path / "slow.scad").write_text(
        "module slow() for (i = [0 : 400]) rotate([i, i, i]) translate([i / 100, 0, 0]) "
        "sphere(20, $fn = 60);\n",
        encoding="utf-8",
    )
    facts: dict[str, Any] = {"form": "scad", "file": "slow.scad", "module": "slow"}
    body = "\n".join(f'{key} = "{value}"' for key, value in facts.items())
    path = tmp_path / "slow.toml"
    path.write_text(f'name = "slow_one"\n[bodies.slow]\n{body}\n', encoding="utf-8")
    product = load_product(path, Bounds(seconds=0.5))
    with pytest.raises(JobError, match=r"0\.5 s"):
        product.bodies["slow"].solid  # noqa: B018
