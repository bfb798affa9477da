"""What a proof says: findings, and the verdict that they make together."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any


@dataclass(frozen=True)
class Place:
    """Where something was found: a ``point`` (mm), with the moving body at ``angle`` (degrees)."""

    point: tuple[float, float, float]
    angle: float = 0.0

    @property
    def words(self) -> str:
        """The place in words."""
        at = ", ".join(f"{round(value, 2) + 0.0:g}" for value in self.point)
        return f"around ({at}) mm, at {self.angle:.1f} deg"


@dataclass(frozen=True)
class Finding:
    """One thing that was held against what it must be.

    name: what was looked at. passed: whether it is as it must be. words: the numbers in a sentence.
    measured, needed, unit: the number that decided and its limit, where it is one number.
    at_least: whether ``measured`` must reach ``needed``, or else must not pass it.
    slack: how far from its limit, in ``unit``, ``measured`` still counts as marginal; 0 where a
        pass is as good as any other.
    change: what to do about a failed or marginal finding, in a sentence; empty where nothing helps.
    place: where bodies meet, or come too near; None where it is no matter of one place.
    leaves_open: what is not certain though it passed, after the name; nothing is proven then.
    """

    name: str
    passed: bool
    words: str
    measured: float | None = None
    needed: float | None = None
    unit: str = ""
    at_least: bool = True
    slack: float = 0.0
    change: str = ""
    place: Place | None = None
    leaves_open: str = ""

    @property
    def margin(self) -> float | None:
        """By how much it holds, in ``unit``, or fails (negative); None without numbers."""
        if self.measured is None or self.needed is None:
            return None
        return (self.measured - self.needed) * (1 if self.at_least else -1)

    @property
    def marginal(self) -> bool:
        """Whether it passed, but by no more than the slack."""
        near = self.margin is not None and self.margin < self.slack
        return self.passed and self.slack > 0 and near

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        return asdict(self) | {"margin": self.margin, "marginal": self.marginal}


#: What a verdict may not have asked. Without a fleet, or what it could spoil, nothing is proven.
NO_FLEET = "no fleet of printers was asked"
NO_GAPS = "its family declares nothing that printers could spoil, so no fleet could be asked"
NO_DUTY = "no duty was asked: nothing is said of strength"
NO_PLASTIC = "no plastic was named for the duty: nothing is said of strength"


@dataclass(frozen=True)
class Verdict:
    """All findings on one hinge, and what else its family wants to be known, by name and unit.

    unasked: what was not asked, each in words.
    """

    family: str
    findings: tuple[Finding, ...]
    figures: dict[str, float] = field(default_factory=dict)
    unasked: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether every finding passed."""
        return all(finding.passed for finding in self.findings)

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why nothing is proven even if every finding passed, each in words."""
        unasked = (words for words in self.unasked if words in (NO_FLEET, NO_GAPS))
        left = (f"{one.name} {one.leaves_open}" for one in self.findings if one.leaves_open)
        return (*unasked, *left)

    @property
    def lacks(self) -> tuple[str, ...]:
        """All that was not asked, after what leaves a doubt, each in words."""
        return tuple(dict.fromkeys((*self.doubts, *self.unasked)))

    @property
    def proven(self) -> bool:
        """Whether every finding passed and is certain, and a fleet was asked."""
        return self.passed and not self.doubts

    @property
    def why_unproven(self) -> str:
        """The first finding that fails, or else what is in doubt, in words; "" if it is proven."""
        fails = (f"{one.name}: {one.words}" for one in self.findings if not one.passed)
        return next(fails, "; ".join(self.doubts))

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        findings = [finding.to_dict() for finding in self.findings]
        judged = {"passed": self.passed, "proven": self.proven}
        return asdict(self) | {"findings": findings, "unasked": list(self.unasked)} | judged
