"""Proof for hinges that were edited by hand or made elsewhere.

It reads a model file, finds its bodies and the axis about which one turns, and holds the measures
of ``scadgen.proof`` against what a hinge needs. ``inspect`` is the way in.
"""

from __future__ import annotations

from scadgen.inspection.measure import Asked, inspect
from scadgen.inspection.result import Inspection

__all__ = ["Asked", "Inspection", "inspect"]
