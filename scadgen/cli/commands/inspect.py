"""``scadgen inspect``."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.cli.bounding import add_bounds, asked_bounds, whole_bounds
from scadgen.cli.certificates import add_certificate, certificate_file
from scadgen.cli.loads import add_loads, asked_load
from scadgen.cli.saying import say_all
from scadgen.cli.terminal import (
    NOT_PROVEN,
    PROVEN,
    add_words,
    print_verdict,
    progress,
    refuse_to_replace,
    tell,
    write_each,
)

if TYPE_CHECKING:
    from scadgen.inspection.result import Inspection

WHAT = "measure a hinge that was edited by hand or made elsewhere"
bounds = whole_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    add = parser.add_argument
    add("file", metavar="FILE", type=Path, help="STL, 3MF, OBJ, or .scad (needs OpenSCAD)")
    add("--layers", metavar="MM,..", type=_numbers(), help="layer heights; default: 0.1,0.2,0.3")
    add("--line", metavar="MM", type=float, help="width of a printed line; default: 0.45")
    add("--bridge", metavar="MM", type=float, help="longest bridge printers manage; default: 10")
    add("--clearance", metavar="MM", type=float, help="gap that it must keep")
    add("--swing", metavar="LOW,HIGH", type=_numbers(2), help="turn that must be free, degrees")
    add("--axis", metavar="X,Y,Z,DX,DY,DZ", type=_numbers(6), help="its axis; default: found")
    add("--bodies", metavar="N,N", type=_numbers(2, int), help="default: all pairs with a bearing")
    add("--fixed", metavar="N", type=int, help="default: the body with more on the bed")
    add("--loose", metavar="N,..", type=_numbers(kind=int), help="bodies meant to be held by none")
    add(
        "--contact",
        metavar="DEG,X,Y,Z,R",
        type=_numbers(5),
        action="append",
        default=[],
        help="where bodies are meant to touch: at a turn, at a point, within R mm",
    )
    add("--scale", metavar="FACTOR", type=float, help="millimetres to a unit of the file")
    add("--set", metavar="NAME=VALUE", action="append", default=[], help="a value of the .scad")
    add_bounds(parser, renders=True)
    add_loads(parser)
    add("--picture", metavar="FILE.png", type=Path, help="draw where bodies are closest or meet")
    add_certificate(parser)
    add_words(parser)
    add("--json", action="store_true", help="print JSON")


def _numbers(
    count: int | None = None, kind: Callable[[str], float] = float
) -> Callable[[str], tuple[float, ...]]:
    def numbers(text: str) -> tuple[float, ...]:
        values = tuple(map(kind, text.split(",")))
        if count is not None and len(values) != count:
            raise argparse.ArgumentTypeError(f"{text}: it must be {count} numbers, by commas")
        return values

    return numbers


def run(options: argparse.Namespace) -> int:
    from scadgen.inspection import Asked, Touch, inspect
    from scadgen.inspection.loaded import loaded
    from scadgen.inspection.picture import picture, picture_path
    from scadgen.mechanism.joint import silent
    from scadgen.openscad.engine import settings
    from scadgen.product.carried import READERS

    names = ("layers", "bridge", "clearance", "swing", "axis", "bodies", "fixed", "loose", "scale")
    given = {name: getattr(options, name) for name in names}
    given["line_width"] = options.line
    asked = Asked(
        **{name: value for name, value in given.items() if value is not None},
        settings=settings(options.set),
        contacts=tuple(Touch(*values) for values in options.contact),
        bounds=asked_bounds(options),
    )
    load = asked_load(options)
    target = options.picture and picture_path(options.picture)
    refuse_to_replace(options.certificate)
    with progress(options) as say:
        found = inspect(options.file, asked, say, READERS)
        found = loaded(found, *load, say or silent) if load else found
        drawn = {target: picture(found)} if target else {}
    if options.certificate:
        cages = [joint.cage for joint in found.joints]
        drawn[options.certificate] = certificate_file(cages, options.file.name)
    written: list[Path] = []
    try:  # whoever stops reading has the files nevertheless
        written = write_each(drawn)
    finally:
        _tell(options, found)
    if not options.json:
        tell(options, written)
    return PROVEN if found.passed else NOT_PROVEN


def _tell(options: argparse.Namespace, found: Inspection) -> None:
    """What was measured, and the verdict on it."""
    if options.json:
        print(json.dumps({"name": options.file.name} | found.to_dict(), indent=2))
        return
    told = () if options.quiet else found.lines()
    say_all(options, (f"     {line}" for line in told))
    if not (options.quiet and found.passed):  # no model is ever proven
        print_verdict(options, found.verdict, failures_only=options.quiet)
