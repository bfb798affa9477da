"""The file of a certificate that a command writes."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.caging.certificate import Certificate, Uncertified


def add_certificate(parser: argparse.ArgumentParser) -> None:
    """The option that asks for one."""
    parser.add_argument(
        "--certificate",
        metavar="FILE.json",
        type=Path,
        help="write what shows that no motion takes the hinge apart",
    )


def certificate_file(cages: Sequence[Certificate | Uncertified | None], name: str) -> bytes:
    """What the file holds, of the only pair of bodies that there is.

    Raises JobError where no pair turns, several do, or the one is not certified.
    """
    from scadgen.caging.certificate import Certificate
    from scadgen.caging.file import document
    from scadgen.tables.documents import JobError

    pairs = [cage for cage in cages if cage is not None]
    if not pairs:
        raise JobError(f"{name}: no certificate: none of its bodies turns in another.")
    if len(pairs) > 1:
        words = f"it is of one pair, and {len(pairs)} turn; name two with --bodies."
        raise JobError(f"{name}: no certificate: {words}")
    if not isinstance(pairs[0], Certificate):
        raise JobError(f"{name}: no certificate: {pairs[0].why}.")
    return (json.dumps(document(pairs[0], name)) + "\n").encode()
