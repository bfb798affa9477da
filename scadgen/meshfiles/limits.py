"""How much of a model is measured."""

from __future__ import annotations

from scadgen.tables.documents import JobError

#: Most triangles that are measured.
TRIANGLES = 2_000_000


def refuse_many(count: int) -> None:
    """Raise JobError for more triangles than are measured."""
    if count > TRIANGLES:
        raise JobError(too_much(f"{count:,} triangles"))


def too_much(much: str) -> str:
    """The words that refuse so much of a file."""
    return (
        f"{much}: too much; at most {TRIANGLES:,} triangles are measured. "
        "Export it with fewer facets."
    )
