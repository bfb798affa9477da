"""What the certificate of hold of each piece survives, where the moving side turns in the fixed."""

from __future__ import annotations

from collections.abc import Iterator

from scadgen.coupons.plan import Plan
from scadgen.hinge.family import Hinge


def survived(hinge: Hinge) -> float | None:
    """How much may be missing all around either body, mm: its hold is certified for less.

    That is half of what blocks the worst way, for rigid bodies as they are drawn. 0 where nothing
    is certified, or next to nothing; None for a hinge of which no joint holds by its shape.
    """
    from scadgen.caging.certificate import Certificate
    from scadgen.motion.contact import GRAZE

    whole = hinge.mechanism()
    cages = [cage for joint in whole.joints if (cage := joint.cage(whole)) is not None]
    if not cages:
        return None
    depths = [cage.depth if isinstance(cage, Certificate) else 0.0 for cage in cages]
    return min(depths) / 2 if min(depths) >= GRAZE else 0.0


def held_lines(printed: Plan) -> Iterator[str]:
    """For each piece what its certificate survives; nothing for a coupon of one-piece hinges."""
    found = {value: survived(printed.hinge(value)) for value in printed.values}
    known = {value: left for value, left in found.items() if left is not None}
    if not known:
        return
    sure = [f"{printed.number(v)}: {left:.2f} mm" for v, left in known.items() if left > 0]
    if sure:
        words = "Certified to hold until a body, taken as rigid, has lost so much all around"
        yield f"{words}: {', '.join(sure)}."
    others = ", ".join(str(printed.number(value)) for value, left in known.items() if not left)
    if others:
        yield f"Not certified to hold: {others}."
