"""The lock of the tests names every direct dependency, in a version that the package allows."""

from __future__ import annotations

import re
import tomllib

from tests.packaging.lock import LOCK, locked, plain
from tests.support import ROOT


def numbers(version: str) -> list[int]:
    return [int(part) for part in re.findall(r"\d+", version)]


def test_each_direct_dependency_has_one_version_that_is_allowed() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needs = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    for need in needs:
        name, _, bound = need.partition(">=")
        assert numbers(locked()[plain(name)]) >= numbers(bound)


def test_it_holds_names_and_versions_alone() -> None:
    lines = LOCK.read_text(encoding="utf-8").splitlines()
    told = [line for line in lines if not line.startswith("#")]
    assert len(told) == len(locked())
    form = r'[a-z0-9-]+==[0-9a-z.]+(; python_version < "[0-9.]+")?'
    assert all(re.fullmatch(form, line) for line in told)


def test_the_tests_are_installed_by_it() -> None:
    script = (ROOT / "tests" / "run").read_text(encoding="utf-8")
    assert f'"--constraint" "tests/{LOCK.name}"' in script
