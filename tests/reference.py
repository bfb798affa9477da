"""The reference of the Python interface: ``python -m tests.reference [--out DIR] [--bare]``.

pdoc writes a page for every module, out of its docstrings, into ``build/reference``; open
``index.html`` there. Whatever it warns of is an error.
"""

from __future__ import annotations

import argparse
import pkgutil
import warnings
from collections.abc import Sequence
from pathlib import Path

import scadgen
from tests.support import ROOT

FOLDER = ROOT / "build" / "reference"
#: No part of the interface: the commands are told of by ``scadgen --help``.
LEFT_OUT = ("__main__", "cli")
#: What pdoc warns of without anything being wrong. It does not find what a named tuple's
#: annotations name, and shows the names as they stand; it meets modules again below packages; it
#: takes the installed package where the current folder has its source too, as is meant here; what
#: the fields that a joint inherits are, it looks up in the file of the joint, not of its base.
HARMLESS = (
    "Error parsing type annotation ForwardRef",
    r"Error parsing type annotation .* for scadgen\.mechanism\.\w+\.\w+\.__init__",
    ".*has already been added",
    "'scadgen[^']*' may refer to either the installed Python module",
)


def modules() -> list[str]:
    """The package and all modules in it."""
    inside = (module.name for module in pkgutil.walk_packages(scadgen.__path__, "scadgen."))
    return ["scadgen", *(name for name in inside if name.split(".")[1] not in LEFT_OUT)]


def write_reference(folder: Path, names: Sequence[str], *, bare: bool = False) -> None:
    """Write the pages of the named modules, unless ``bare`` with their sources and a search.

    Raises what pdoc warns of.
    """
    import pdoc
    import pdoc.render

    for name in scadgen.__all__:  # pdoc shows what has been fetched
        getattr(scadgen, name)
    pdoc.render.configure(
        docformat="markdown",
        footer_text=f"scadgen {scadgen.__version__}",
        show_source=not bare,
        search=not bare,
    )
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for harmless in HARMLESS:
            warnings.filterwarnings("ignore", harmless)
        pdoc.pdoc(*names, output_directory=folder)


def main(arguments: Sequence[str] | None = None) -> None:
    """Write the reference into ``--out``, or else into build/reference."""
    parser = argparse.ArgumentParser(prog="python -m tests.reference", description=main.__doc__)
    parser.add_argument("--out", type=Path, default=FOLDER, metavar="DIR")
    parser.add_argument("--bare", action="store_true", help="no sources, no search, half the time")
    options = parser.parse_args(arguments)
    out = options.out
    out.mkdir(parents=True, exist_ok=True)
    write_reference(out, modules(), bare=options.bare)
    print(f"wrote {out / 'index.html'}")


if __name__ == "__main__":
    main()
