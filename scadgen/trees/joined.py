"""The union of many outlines: of a few at a time, since each edge is held against all others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import CrossSection

#: So many outlines are joined at once.
FEW = 8


def joined(outlines: Sequence[CrossSection]) -> CrossSection:
    """Their union, which is empty without any. Neighbours in the row are joined first."""
    from manifold3d import CrossSection, OpType

    while len(outlines) > 1:
        some = (outlines[k : k + FEW] for k in range(0, len(outlines), FEW))
        outlines = [CrossSection.batch_boolean(list(each), OpType.Add) for each in some]
    return outlines[0] if outlines else CrossSection()
