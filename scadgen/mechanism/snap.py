"""The joint to break: webs that hold two parts together until they are snapped apart."""

from __future__ import annotations

from dataclasses import dataclass

from scadgen.mechanism.fold import Fold


@dataclass(frozen=True, eq=False, kw_only=True)
class Snap(Fold):
    """A fold that moves once: as far as it is asked to go, its webs have snapped."""
