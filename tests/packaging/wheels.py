"""Building the package, and environments in which nothing but an installed wheel is scadgen."""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import tarfile
import venv
from pathlib import Path

from tests.support import ROOT


def build(kind: str, folder: Path, source: Path = ROOT) -> Path:
    """The ``wheel`` or ``sdist`` of a source tree; the test tools hold what builds it."""
    command = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(folder)]
    subprocess.run(command, cwd=source, check=True, capture_output=True)
    (made,) = folder.glob("*.whl" if kind == "wheel" else "*.tar.gz")
    return made


def unpacked(archive: Path, folder: Path) -> Path:
    """The one folder in a source archive."""
    with tarfile.open(archive) as held:
        held.extractall(folder, filter="data")
    (top,) = folder.iterdir()
    return top


def installed(wheel: Path, folder: Path) -> Path:
    """A new environment with the wheel; returns its folder of programs.

    What the wheel depends on is taken from the environment of the tests, behind the new one's own
    packages, so that nothing is fetched.
    """
    venv.create(folder, symlinks=os.name != "nt")
    programs = folder / ("Scripts" if os.name == "nt" else "bin")
    pip = [sys.executable, "-m", "pip", "--python", str(programs / "python")]
    wanted = ["install", "--quiet", "--no-deps", "--no-index", str(wheel)]
    subprocess.run([*pip, *wanted], check=True, env=clean())
    packages = Path(said(programs / "python", "-c", WHERE, folder=folder).strip())
    (packages / "dependencies.pth").write_text(sysconfig.get_path("platlib") + "\n")
    return programs


WHERE = "import sysconfig; print(sysconfig.get_path('platlib'))"


def said(program: Path, *arguments: str, folder: Path, **environment: str) -> str:
    """What a program prints that ends well, run in a folder."""
    done = subprocess.run(
        [str(program), *arguments],
        cwd=folder,
        env=clean() | environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, ""), done.stdout + done.stderr
    return done.stdout


def clean() -> dict[str, str]:
    """The environment without what leads Python to the checkout."""
    led = ("PYTHONPATH", "PYTHONHOME", "PYTHONSAFEPATH", "VIRTUAL_ENV")
    return {name: value for name, value in os.environ.items() if name not in led}
