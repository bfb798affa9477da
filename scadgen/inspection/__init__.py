"""Proof for hinges that were edited by hand or made elsewhere.

It reads a model file, finds its bodies and the joints between them, and proves that mechanism as
it proves a hinge's own. ``inspect`` is the way in.
"""

from __future__ import annotations

from scadgen.inspection.asked import Asked, Touch
from scadgen.inspection.measure import inspect
from scadgen.inspection.result import FoundJoint, Inspection

__all__ = ["Asked", "FoundJoint", "Inspection", "Touch", "inspect"]
