"""The sheet of a coupon: what to do with each piece at the bench, and what to write down."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scadgen.coupons.plan import Plan
from scadgen.coupons.results import MEANINGS, step_key, words_of
from scadgen.coupons.solids import minutes
from scadgen.coupons.text import LOOSE, where_free
from scadgen.jobs.keys import job_keys
from scadgen.pictures.palette import LIGHT
from scadgen.proof.heights import LAYER_HEIGHTS
from scadgen.text.dates import document_date
from scadgen.text.numbers import shown
from scadgen.text.rendering import template
from scadgen.version import VERSION

#: What is ticked for a piece of a coupon that is not calibrated with.
VERDICTS = ("good", "not good")


@dataclass(frozen=True)
class Piece:
    """A line of the sheet: the number on the piece, its value, what is claimed, what is written."""

    number: int
    value: str
    claim: str
    key: str


def coupon_sheet(printed: Plan) -> bytes:
    """One page of HTML for A4; the same coupon gives the same bytes. It loads nothing."""
    cls, field = printed.family, printed.steps.field
    fitted = printed.calibrates or printed.steps.strains
    words = words_of(printed) if fitted else VERDICTS
    facts = {
        "heading": cls.heading(),
        "name": printed.name,
        "field": field,
        "key": job_keys(cls).get(field, field),
        "posture": cls.posture,
        "hangs": cls.hangs,
        "look": printed.steps.look,
        "calibrates": printed.calibrates,
        "fitted": fitted,
        "layer": shown(max(LAYER_HEIGHTS)),
        "minutes": f"{minutes(printed):.0f}",
        "pieces": list(_pieces(printed)),
        "words": words,
        "meanings": {word: MEANINGS[word] for word in words if fitted},
        "loose": LOOSE,
        "date": document_date(),
        "version": VERSION,
        "light": LIGHT,
    }
    return template("coupon_sheet.html.j2").render(facts).encode()


def _pieces(printed: Plan) -> Iterator[Piece]:
    """The widest first: what is surely free shows how a free one feels."""
    for value in reversed(printed.values):
        claim = where_free(printed, value) if printed.calibrates else ""
        yield Piece(printed.number(value), f"{shown(value)} mm", claim, step_key(value))
