"""The date that documents bear: the same inputs give the same one, so the same bytes."""

from __future__ import annotations

import os
from datetime import UTC, datetime

#: Of the version, ISO 8601: it changes with it.
DATE = "2026-11-28"


def document_date() -> str:
    """ISO 8601 date: of SOURCE_DATE_EPOCH (seconds since 1970) if it is set, else the version's.

    What is no number of seconds counts as not set.
    """
    told = os.environ.get("SOURCE_DATE_EPOCH", "")
    try:
        return datetime.fromtimestamp(int(told), UTC).date().isoformat()
    except (ValueError, OverflowError, OSError):
        return DATE
