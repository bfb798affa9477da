"""Options by which a model from elsewhere is loaded: ``scadgen inspect --solid``."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

#: Quantities of a duty that a model can be asked for, each an option: what stands for its value.
QUANTITIES = {
    "load": "N",
    "pull": "N",
    "cycles": "TIMES",
    "margin": "TIMES",
    "hours": "H",
    "celsius": "DEG",
}


def add_loads(parser: argparse.ArgumentParser) -> None:
    """Add ``--solid`` and what it needs."""
    from scadgen.strength.duty import QUANTITIES as ASKED

    parser.add_argument(
        "--solid",
        action="store_true",
        help="load its bearings by finite elements: minutes, and the extra 'solid'",
    )
    parser.add_argument("--plastic", metavar="NAME", help="for --solid: its plastic, or a .toml")
    for name, stands in QUANTITIES.items():
        words = ASKED[name].sentence
        help_ = f"for --solid: {words[:1].lower()}{words[1:]}"
        parser.add_argument(f"--{name}", metavar=stands, type=float, help=help_)


def asked_load(options: argparse.Namespace) -> tuple[Duty, Plastic] | None:
    """The duty and the plastic that are asked; None without ``--solid``.

    Raises JobError for a value that no duty can have, for a plastic that there is not, and for
    options that do nothing.
    """
    from scadgen.strength.duty import Duty, DutyError
    from scadgen.strength.materials import load_material, material
    from scadgen.tables.documents import JobError

    given = {name: getattr(options, name) for name in QUANTITIES}
    given = {name: value for name, value in given.items() if value is not None}
    if not options.solid:
        if idle := [*given, *(["plastic"] if options.plastic else [])]:
            raise JobError(f"{', '.join(idle)}: asked of its solid only; add --solid.")
        return None
    if options.plastic is None:
        words = "missing; what it bears depends on its plastic. This works: --plastic petg."
        raise JobError(f"plastic: {words}")
    own = options.plastic.endswith(".toml")
    plastic = load_material(options.plastic) if own else material(options.plastic)
    try:
        return Duty(**{"load": 0.0, "pull": 0.0, "lever": 0.0} | given), plastic
    except DutyError as error:
        raise JobError(error.words) from None
