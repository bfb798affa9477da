"""The page of comparisons with something outside: ``python -m tests.validation [--out FILE]``.

It shows what the tests in ``tests/strength`` assert, from the same structure.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path

from scadgen.keeping.files import write_all
from tests.solids import kept, table
from tests.strength.compared import COMPUTED, Comparison, all_groups

PAGE = Path(__file__).parents[1] / "gallery" / "validation.md"

_HEAD = """\
# The formulas against figures from outside

Every figure that the project's strength formulas give here stands beside one that it did not
compute: a table, a published example, another library, or a second method. The tests assert each
line. Written by `python -m tests.validation`; not edited by hand.

*Looked up*: in a public source, of which only an excerpt could be read. *From memory*: not looked
up. *Derived, second method*: derived for this project and confirmed by a different method, its
result recorded. *Computed here by another library or method*: worked out anew in every test run.
Where a tolerance is above 2 % the line says why the formula is a model. The last tables hold the
stresses of whole families against finite elements on their solids.
"""
_COLUMNS = ("Formula", "Case", "Ours", "Theirs", "Error", "Allowed", "Source", "Known how")


def page() -> str:
    """The whole page as Markdown."""
    return "\n".join([_HEAD, *_sections(), *table.section(kept.load())])


def _sections() -> Iterator[str]:
    groups = list(all_groups().values())
    for subject in sorted({subject for subject, _ in groups}):
        found = [line for about, group in groups if about == subject for line in group()]
        yield f"## {subject}\n"
        yield _row(_COLUMNS)
        yield "|---|---|---:|---:|---:|---:|---|---|"
        yield from (_row(_cells(comparison)) for comparison in found)
        yield ""


def _cells(comparison: Comparison) -> tuple[str, ...]:
    formula = comparison.formula + (f" ({comparison.model})" if comparison.model else "")
    digits = 3 if comparison.source.mark == COMPUTED else 4  # meshes differ between versions
    return (
        formula,
        comparison.case,
        f"{float(comparison.ours):.{digits}g}",
        f"{float(comparison.theirs):.{digits}g}",
        _error(comparison, digits - 2),
        comparison.within.words,
        comparison.source.words,
        comparison.source.mark,
    )


def _error(comparison: Comparison, digits: int) -> str:
    """Error in percent or in the unit of the tolerance, without the noise of rounding."""
    if comparison.within.share:
        return f"{_rounded(comparison.error * 100, digits)} %"
    return _rounded(comparison.error, digits + 3)


def _rounded(value: float, digits: int) -> str:
    return f"{round(value, digits) + 0:.{digits}f}".rstrip("0").rstrip(".")


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def main(arguments: Sequence[str] | None = None) -> None:
    """Write the page to ``--out``, or else to the gallery."""
    parser = argparse.ArgumentParser(prog="python -m tests.validation", description=main.__doc__)
    parser.add_argument("--out", type=Path, default=PAGE, metavar="FILE")
    out = parser.parse_args(arguments).out
    write_all(out.parent, {out.name: page().encode()})


if __name__ == "__main__":
    main()
