"""The tables and outputs in the written pages: ``python -m tests.tables``.

A table stands between ``<!-- table: name -->`` and ``<!-- end -->``; ``tests.guides.sections``
makes it. What a page shows below a command is what the command printed.
"""

from __future__ import annotations

import argparse
import re
import tempfile
from collections.abc import Sequence
from pathlib import Path

from scadgen.keeping.files import write_all
from tests.guides import PAGES
from tests.guides.sections import sections
from tests.guides.session import Session, copy_checkout
from tests.guides.told import brought_up_to_date, is_told
from tests.support import ROOT

_TABLE = re.compile(r"(<!-- table: (\w+) -->\n)(.*?)(<!-- end -->\n)", re.DOTALL)


def named(text: str) -> list[str]:
    """The names of the tables in a page."""
    return [found[2] for found in _TABLE.finditer(text)]


def with_tables(text: str) -> str:
    """A page with its tables as they are made today. Raises KeyError for one that nothing makes."""
    make = sections()
    return _TABLE.sub(lambda found: f"{found[1]}{make[found[2]]()}{found[4]}", text)


def with_outputs(page: str, text: str) -> str:
    """A page with its outputs as they come today."""
    with tempfile.TemporaryDirectory() as folder:
        session = Session(page, copy_checkout(Path(folder), text))
        lines = text.splitlines(keepends=True)
        followed = list(session.follow(text))
        for block in reversed(followed):
            came = session.outputs.get(block.line)
            if came is not None and not is_told(block.code, came):
                end = block.line + block.code.count("\n")
                lines[block.line : end] = [brought_up_to_date(block.code, came)]
    return "".join(lines)


def main(arguments: Sequence[str] | None = None) -> None:
    """Bring tables and outputs up to date; with names only those pages."""
    parser = argparse.ArgumentParser(prog="python -m tests.tables", description=main.__doc__)
    parser.add_argument("pages", nargs="*", default=PAGES, metavar="PAGE")
    for page in parser.parse_args(arguments).pages:
        text = (ROOT / page).read_text(encoding="utf-8")
        new = with_outputs(page, with_tables(text))
        if new != text:
            path = ROOT / page
            write_all(path.parent, {path.name: new.encode()})
            print(f"wrote {page}")


if __name__ == "__main__":
    main()
