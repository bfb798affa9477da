"""The sizes of a detent, and what keeps them sound: see ``detent`` for its shape."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import cast

from scadgen.hinge.family import deg, derived, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.lying import LyingPivot
from scadgen.hinge.meets import Click, Stop
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.mechanism.joint import DETENT
from scadgen.strength import anyform
from scadgen.trees.expr import asin, ceil, cos, maximum, minimum, sin, sqrt, where

#: Arms of a detent, one beside each end of the hinge.
ARMS = 2


@dataclass(frozen=True, kw_only=True)
class DetentSizes(LyingPivot):
    """A lying pivot that may have a detent: its fields, derived values and rules."""

    detent_height: float = mm(
        1.5, 0.8, 6, 0.1, "Leaves", "How far noses and bumps of a detent stand out"
    )
    detent_arm: float = mm(24, 6, 100, 0.5, "Leaves", "Length of a detent's arms, from the axis")
    detent_thickness: float = mm(1.4, 0.8, 5, 0.1, "Leaves", "Thickness of a detent's arms")
    detent_at: float = deg(0, 0, 180, 5, "Part", "Turn at which a detent clicks; 0 for no detent")
    detent_also: float = deg(0, 0, 180, 5, "Part", "Second turn at which it clicks; 0 for none")
    detent_to: float = deg(
        0, 0, 180, 5, "Part", "Turn up to which, from detent_at, friction holds it; 0: it clicks"
    )

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        return tuple(name for name in super().free_fields() if not name.startswith("detent"))

    @property
    def clicks(self) -> bool:
        """Whether it has a detent."""
        return self.detent_at > 0

    @property
    def rubs(self) -> bool:
        """Whether its noses ride a ridge, and hold it by friction at any turn on that."""
        return self.detent_to > 0

    @derived
    def detent_base(self) -> float:
        """Radius of a nose or a bump at its root"""
        return self.detent_height + self.line_width

    @property
    def detent_turns(self) -> tuple[float, ...]:
        """The turns at which it clicks (degrees)."""
        return tuple(at for at in (self.detent_at, self.detent_also) if at)

    @derived
    def detents(self) -> float:
        """Turns at which it clicks, if it does"""
        return where(self.detent_also > 0, 2, 1)

    @derived
    def ridge_stretch(self) -> float:
        """Turn that a straight stretch of a ridge spans at the most"""
        return 10

    @derived
    def ridge_stretches(self) -> float:
        """Stretches of a ridge"""
        return maximum(1, ceil((self.detent_to - self.detent_at) / self.ridge_stretch))

    @derived
    def ridge_stride(self) -> float:
        """Turn that each of them spans"""
        return (self.detent_to - self.detent_at) / self.ridge_stretches

    @derived
    def detent_starts(self) -> float:
        """Turn of the first bump, or of the beginning of a ridge"""
        return self.detent_at - where(self.rubs, 0, self.detent_step)

    @derived
    def flat_end(self) -> float:
        """Radius of the circle within the faceted, flat end of a knuckle"""
        return self.radius / self.rim

    @derived
    def detent_radius(self) -> float:
        """From the axis to noses and bumps, as far out as fits"""
        return self.flat_end - self.detent_base

    @derived
    def detent_gap(self) -> float:
        """From a knuckle's end to an arm: a nose and the links' play"""
        return self.detent_height + self.side_gap

    @derived
    def detent_way(self) -> float:
        """How far an arm gives way as its nose passes a bump, the links midway in their play"""
        return self.detent_height - self.side_gap

    @derived
    def detent_width(self) -> float:
        """From nose to bump when their flanks meet"""
        return self.detent_way + 2 * self.line_width

    @derived
    def detent_across(self) -> float:
        """Diameter of the circle of bumps"""
        return where(self.clicks, 2 * self.detent_radius, self.radius)

    @derived
    def detent_near(self) -> float:
        """How far a bump is from the click, as a share of that, which is a sine"""
        return where(self.clicks, self.detent_width, 0) / self.detent_across

    @derived
    def detent_step(self) -> float:
        """Turn from the click to either bump"""
        return 2 * asin(minimum(maximum(self.detent_near, 0), 1))

    @derived
    def detent_far(self) -> float:
        """How far from a bump a nose is clear of it by the gap, as such a share"""
        return where(self.clicks, self.detent_width + self.play, 0) / self.detent_across

    @derived
    def detent_clear(self) -> float:
        """Turn from a bump to where a nose is clear of it by the gap"""
        return 2 * asin(minimum(maximum(self.detent_far, 0), 1))

    @derived
    def detent_tall(self) -> float:
        """Height of an arm, its nose below the axis"""
        return self.axis_at - self.detent_radius + self.detent_base

    @derived
    def detent_block(self) -> float:
        """Length of the block that joins an arm to its leaf"""
        return 2 * self.detent_thickness

    @derived
    def detent_leaf(self) -> float:
        """Least length of a leaf beside which a detent's arms end before its rounded corner"""
        end = self.detent_arm + self.detent_block + self.leaf_corner
        return where(self.clicks, end - self.reach, 0)

    @derived
    def detent_most(self) -> float:
        """Greatest height of bumps that stand apart on the end of a knuckle"""
        room = self.flat_end + self.side_gap - self.play - self.line_width
        return where(self.clicks, room / 2 - self.line_width, self.length)

    @derived
    def detent_end(self) -> float:
        """Room for bending arms"""
        beside = self.detent_gap + self.detent_thickness
        return beside + self.detent_height + self.clearance

    @derived
    def detent_slim(self) -> float:
        """Least length of an arm, in thicknesses: beam theory asks for it"""
        return 4

    def extents(self) -> tuple[float, float, float]:
        along, across, high = super().extents()
        arms = ARMS * (self.detent_gap + self.detent_thickness)
        return cast(float, along + anyform.where(self.clicks, arms, 0)), across, high

    def taken(self) -> float:
        return self.length + 2 * self.end_room

    @derived
    def end_room(self) -> float:
        """Room beyond each end that bodies leave for arms"""
        return where(self.clicks, self.detent_end, self.side_gap)

    @derived
    def stop_far(self) -> float:
        """Its farthest corner"""
        return maximum(
            self.stop_corner, sqrt(self.stop_end * self.stop_end + self.face * self.face)
        )

    def rules(self) -> Iterable[Rule]:
        why = "or two bumps have no room on the end of a knuckle"
        yield at_most(self.detent_height, self.detent_most, why, Serves.MOTION)
        why = "or its noses print too near a bump"
        first = where(self.rubs, 0, self.detent_step) + self.detent_clear
        yield at_least(self.detent_at, first, why, Serves.PRINTING)
        why = "or it clicks beyond its swing"
        yield at_most(self.detent_at, self.swing, why, Serves.MOTION)
        further = where(self.detent_also > 0, self.detent_at + 2 * self.detent_step, 0)
        why = "or its two clicks are too near each other"
        yield at_least(self.detent_also, further, why, Serves.MOTION)
        last = where(self.clicks & (self.detent_to <= 0), self.swing, 0)
        why = "or it clicks beyond its swing, or a second time and no first, or none"
        yield at_most(self.detent_also, last, why, Serves.MOTION)
        far = where(self.rubs, self.detent_at + self.detent_step, 0)
        why = "or friction holds it on no way"
        yield at_least(self.detent_to, far, why, Serves.MOTION)
        why = "or friction holds it beyond its swing, or from no turn on"
        yield at_most(self.detent_to, where(self.clicks, self.swing, 0), why, Serves.MOTION)
        passing = where(self.clicks, 2 * self.side_gap + self.line_width, 0)
        why = "or a nose passes its bumps when a link lies at one end of its play"
        yield at_least(self.detent_height, passing, why, Serves.MOTION)
        yield at_least(
            self.detent_thickness,
            where(self.clicks, self.thinnest, 0),
            "or an arm is too thin to print solid",
            Serves.PRINTING,
        )
        slim = where(self.clicks, self.detent_slim * self.detent_thickness, 0)
        why = "or the arm is a block that hardly bends"
        yield at_least(self.detent_arm, slim, why, Serves.STRENGTH)
        begins = where(self.clicks, self.reach, 0)
        why = "or an arm ends before its leaf begins"
        yield at_least(self.detent_arm, begins, why, Serves.STRENGTH)
        stopped = self.clicks & (self.stop_at > 0)
        past = where(stopped, self.stop_far + self.clearance, 0)
        why = "or the root of an arm rubs on the end of the stop"
        yield at_least(self.detent_arm, past, why, Serves.MOTION)
        why = "or the arms of its detent have no leaf to stand on"
        yield at_least(self.leaf_length, self.detent_leaf, why, Serves.STRENGTH)
        yield from super().rules()

    def meets(self) -> Iterable[Click | Stop]:
        yield from super().meets()
        apart = 2 * self.detent_radius * sin(self.detent_starts / 2)
        beside = Gap(
            "between a nose and a bump", (apart - self.detent_width) * cos(45), lean=45, curved=True
        )
        # What is between a nose and its knuckle is as wide as the gap between the knuckles.
        arm = Gap("between an arm of the detent and its leaf", self.detent_gap, bed=(0, 0))
        yield Click(
            DETENT,
            self.clicks,
            self.detent_way,
            self.side_gap,
            self.line_width,
            self.side_gap + self.clearance,
            (beside, arm),
            rides=self.rubs,
        )
