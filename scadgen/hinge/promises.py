"""What a family promises of its bodies as they print and move, for others to ask.

A family says of these what it has; where it says nothing, there is none.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.hinge.flexing import Flexing
    from scadgen.hinge.gaps import Gap, Grip, Web
    from scadgen.hinge.meets import Click, Stop


class Promises:
    """Gaps, grips and webs, what is meant to meet, and arms that are bent."""

    def gaps(self) -> Iterable[Gap]:
        """The gaps that must stay open as it prints."""
        return ()

    def grips(self) -> Iterable[Grip]:
        """The overlaps that must last when all play is used up."""
        return ()

    def layered(self) -> Iterable[Web]:
        """The webs of whole layers that must bend or break."""
        return ()

    def meets(self) -> Iterable[Click | Stop]:
        """What is meant to meet as it moves, and must on printers, too: clicks and stops."""
        return ()

    def flexing(self) -> Iterable[Flexing]:
        """Arms that are bent aside, as finite elements load them."""
        return ()
