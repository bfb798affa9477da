"""The oldest versions that the package says it works with, tried out, or the newest.

    python -m tests.packaging.lowest [--newest] [--python PYTHON] [TESTS...]

It makes a new environment below ``build/lowest`` with the wheel, with each direct dependency at its
lower bound (or as new as there is) and the test tools, does the main job there, builds the wheel
once more from the source archive with what is installed there, and runs a few quick tests.
"""

from __future__ import annotations

import argparse
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

from tests.packaging.wheels import build, clean, unpacked
from tests.support import ROOT

FOLDER = ROOT / "build" / "lowest"
JOB = ROOT / "gallery" / "tea_sampler_box.toml"

#: The first versions that are made for a Python, where the lowest are not: they have no wheels, or,
#: as hypothesis, take numpy's random numbers there for forgotten ones.
FIRST_FOR = {
    "3.13": {
        "hypothesis": "6.148",
        "lxml": "5.3.0",
        "matplotlib": "3.9.2",
        "numpy": "2.1.0",
        "pillow": "10.4.0",
        "scipy": "1.14.1",
    }
}

#: Quick ones that between them use every dependency.
QUICK = (
    "test_bridge.py",
    "test_cli.py",
    "test_outputs.py",
    "test_printable.py",
    "test_schema.py",
    "inspection/test_reading.py",
    "inspection/test_three_mf.py",
    "packaging/test_completion.py",
    "gallery/test_stills.py",
)


def lowest() -> Iterator[str]:
    """Each direct dependency, those of the extras too, at its lower bound."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"].values()
    for need in {need for needs in (project["dependencies"], *extras) for need in needs}:
        name, bound = re.fullmatch(r"([\w-]+)>=([\d.]+)", need).groups()  # type: ignore[union-attr]
        first = [(f">= '{python}'", of[name]) for python, of in FIRST_FOR.items() if name in of]
        for when, version in first:
            yield f"{name}=={version}; python_version {when}"
        before = f"; python_version < '{min(FIRST_FOR)}'" if first else ""
        yield f"{name}=={bound}{before}"


def main() -> None:
    parser = argparse.ArgumentParser(description="Try the oldest versions of every dependency.")
    parser.add_argument("--newest", action="store_true", help="the newest versions instead")
    parser.add_argument("--python", default=sys.executable, help="default: this one")
    parser.add_argument("tests", nargs="*", help="arguments of pytest; default: a few quick tests")
    options = parser.parse_args()
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir(parents=True)
    bounds = [] if options.newest else sorted(lowest())
    print("\n".join(bounds), flush=True)
    (FOLDER / "constraints.txt").write_text("\n".join(bounds) + "\n", encoding="utf-8")
    wheel = build("wheel", FOLDER)
    do(options.python, "-m", "venv", "environment")
    python = FOLDER / "environment" / "bin" / "python"
    quiet = ("--quiet", "--disable-pip-version-check", "--constraint", "constraints.txt")
    do(python, "-m", "pip", "install", *quiet, f"{wheel}[test]")
    do(python, "-m", "scadgen", "write", JOB, "--out", "parts")
    source = unpacked(build("sdist", FOLDER / "archive"), FOLDER / "source")
    do(python, "-m", "hatchling", "build", "-t", "wheel", "-d", FOLDER / "again", folder=source)
    tests = options.tests or [f"tests/{name}" for name in QUICK]
    do(python, "-m", "pytest", "-q", *tests, folder=ROOT)


def do(*command: str | Path, folder: Path = FOLDER) -> None:
    """Run a program of the new environment; end with its status if that is bad."""
    done = subprocess.run(list(map(str, command)), cwd=folder, env=clean(), check=False)
    if done.returncode:
        sys.exit(done.returncode)


if __name__ == "__main__":
    main()
