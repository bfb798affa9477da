"""Settings of the whole test run: how much is drawn, and what happens without other programs."""

from __future__ import annotations

import gc
import importlib.util
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings


@dataclass(frozen=True)
class Need:
    """What tests with a marker need beyond Python, and how a person brings it."""

    name: str
    found: Callable[[], bool]
    remedy: str

    @property
    def missing(self) -> str:
        return f"no {self.name} to be found"


BUILD = Path(__file__).resolve().parents[1] / "build"
PACKAGES = BUILD / "web" / "node_modules"
NEWER = BUILD / "newer" / "node_modules"
NEEDS = {
    "openscad": Need(
        "OpenSCAD",
        lambda: shutil.which("openscad") is not None,
        "Install OpenSCAD 2021.01 or newer (Debian and Ubuntu: apt-get install openscad), "
        "or run tests/run, which does.",
    ),
    "browser": Need(
        "browser with its driver and packages",
        lambda: all(map(shutil.which, ("chromium", "chromedriver"))) and PACKAGES.is_dir(),
        "Install Chromium (Debian and Ubuntu: apt-get install chromium chromium-driver) and run "
        "scadgen/gallery/web/rebuild build/web, or run tests/run, which does.",
    ),
    "node": Need(
        "Node.js with the page's packages",
        lambda: shutil.which("node") is not None and (PACKAGES / "manifold-3d").is_dir(),
        "Install Node.js 18 or newer with npm and run scadgen/gallery/web/"
        "rebuild build/web, or run tests/run, which does.",
    ),
    "newer": Need(
        "OpenSCAD of 2025 for Node.js",
        lambda: shutil.which("node") is not None and NEWER.is_dir(),
        "Install Node.js 18 or newer with npm and run tests/openscad/newer/bring, or run "
        "tests/run, which does.",
    ),
    "slicers": Need(
        "slicing engines",
        lambda: all(map(shutil.which, ("prusa-slicer", "slic3r", "CuraEngine"))),
        "Install them (Debian: apt-get install prusa-slicer slic3r cura-engine), "
        "or run tests/run, which does.",
    ),
    "packaging": Need(
        "build tools of packages",
        lambda: all(map(importlib.util.find_spec, ("hatchling", "pip"))),
        "Install the extra 'test' (pip install '.[test]') with pip, or run tests/run, which does.",
    ),
    "shells": Need(
        "shells bash, zsh and fish",
        lambda: all(map(shutil.which, ("bash", "zsh", "fish"))),
        "Install them (Debian and Ubuntu: apt-get install zsh fish), or run tests/run, which does.",
    ),
}

# The threads of numpy's linear algebra wait for each other busily: beside other processes that all
# work they take several times as long as one does.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Programs that tests start, dozens of them, keep what they compiled of the package, and pytest what
# it made of the tests.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# How many objects are made between two searches for garbage, and how often these go deeper. As
# often as Python does it by itself it is a quarter of collecting the tests, and of some tests.
gc.set_threshold(50_000, 20, 20)

pytest.register_assert_rewrite("tests.support")

settings.register_profile("fast", max_examples=40, deadline=None)
settings.register_profile("ci", settings.get_profile("fast"), derandomize=True)
settings.register_profile("thorough", settings.get_profile("fast"), max_examples=2000)
settings.load_profile(
    os.environ.get("HYPOTHESIS_PROFILE") or ("ci" if os.environ.get("CI") else "fast")
)


#: Pixels of a spec sheet's pictures where a test writes a job: hundreds do.
THUMBNAIL = (96, 72)


@pytest.fixture(scope="session", autouse=True)
def small_pictures_of_sheets() -> Iterator[None]:
    """Pictures of spec sheets are small, but in a thorough run and in commands of a shell."""
    from scadgen.handover import pictured
    from tests.support import thorough

    with pytest.MonkeyPatch.context() as patch:
        if not thorough():
            patch.setattr(pictured, "SIZE", THUMBNAIL)
        yield


def pytest_addoption(parser: pytest.Parser) -> None:
    help_ = "tell the N files that took most processor time, programs that they start included"
    parser.addoption("--spent", type=int, default=0, metavar="N", help=help_)


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("spent"):
        from tests.spent import Spent

        config.pluginmanager.register(Spent(config.getoption("spent")))
    for marker, need in NEEDS.items():
        config.addinivalue_line("markers", f"{marker}: runs the real {need.name}")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> object:
    """With ``-n``: tests that share what is made once run in one process, long groups first."""
    if config.getoption("dist") != "load":
        return None
    from tests.groups import Grouped

    return Grouped(config, log)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    from tests.groups import rank

    items.sort(key=lambda item: rank(item.nodeid))


def pytest_collection_finish() -> None:
    """What is loaded by now stays, so no search for garbage goes through it."""
    gc.collect()
    gc.freeze()


def pytest_unconfigure() -> None:
    gc.unfreeze()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_call(item: pytest.Item) -> None:
    for marker, need in NEEDS.items():
        if item.get_closest_marker(marker) is None or need.found():
            continue
        if os.environ.get(f"SCADGEN_REQUIRE_{marker.upper()}") == "1":
            pytest.fail(f"{need.missing}. {need.remedy}", pytrace=False)
        pytest.skip(need.missing)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say loudly what was not run: a skipped test has shown nothing."""
    skipped = terminalreporter.stats.get("skipped", [])
    for need in NEEDS.values():
        missed = [r.nodeid for r in skipped if need.missing in str(r.longrepr)]
        if missed:
            files = ", ".join(sorted({nodeid.split("::")[0] for nodeid in missed}))
            terminalreporter.section("SOME TESTS WERE NOT RUN", red=True, bold=True)
            words = f"NOT RUN: {len(missed)} that need {need.name} ({files}). {need.remedy}"
            terminalreporter.line(words, red=True, bold=True)
