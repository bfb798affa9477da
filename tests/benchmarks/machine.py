"""What the figures were measured on."""

from __future__ import annotations

import os
import platform
import shutil
import subprocess
from importlib.metadata import version
from pathlib import Path

LIBRARIES = ("jinja2", "manifold3d", "numpy", "solidpython2")


def machine() -> dict[str, str]:
    """Processor, system, and versions of what takes part."""
    return {
        "Processor": f"{_processor()}, {os.cpu_count()} cores",
        "System": f"{_system()} ({platform.machine()})",
        "Python": f"{platform.python_implementation()} {platform.python_version()}",
        "Libraries": ", ".join(f"{name} {version(name)}" for name in LIBRARIES),
        "OpenSCAD": _openscad(),
    }


def _processor() -> str:
    path = Path("/proc/cpuinfo")
    lines = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    names = (line.split(":", 1)[1].strip() for line in lines if line.startswith("model name"))
    return next(names, platform.processor() or "unknown")


def _system() -> str:
    try:
        return platform.freedesktop_os_release()["PRETTY_NAME"]
    except (OSError, KeyError):
        return platform.system()


def _openscad() -> str:
    engine = shutil.which("openscad")
    if engine is None:
        return "none: nothing was rendered"
    done = subprocess.run([engine, "--version"], capture_output=True, text=True, check=True)
    return (done.stderr or done.stdout).strip().removeprefix("OpenSCAD version ")
