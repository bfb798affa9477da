"""Arms that are bent aside: what finite elements say of the root, kept, beside the formulas.

As of links, the solids' figures are kept in a file, with a fingerprint of all that they hang on:
``python -m tests.solid_table`` measures those anew that are of something else.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from scadgen import RodLoops, SideCones, SnapCatch
from scadgen.elements import arms
from scadgen.elements.arms import Flexed
from scadgen.elements.of_hinge import arms as arms_of
from scadgen.hinge.family import Hinge
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Use
from tests.solids.kept import _shape, code
from tests.solids.subjects import PETG

FILE = Path(__file__).with_name("arms.json")
DUTY = Duty()
CLICKS: dict[str, Any] = {"leaf_length": 26, "swing": 120, "detent_at": 85}
#: The usual catch, one on a low lid, whose arm is long, and a detent of either lying family.
SUBJECTS: dict[str, Hinge] = {
    "snap_catch": SnapCatch(),
    "snap_catch (low lid)": SnapCatch(hook_height=6, keeper_height=30, reach=60, arm_length=45),
    "side_cones": SideCones(**CLICKS),
    "rod_loops": RodLoops(**CLICKS),
}
DIGITS = 4


def figures(found: Flexed) -> dict[str, float]:
    """What is kept of an arm: strain at its root, %, in both sizes of cubes, and how far it gives
    under 1 N, mm."""
    coarse, fine = found.bars
    told = {"coarse": 100 * coarse.strain, "strain": 100 * fine.strain, "way": fine.way}
    return {name: float(f"{value:.{DIGITS}g}") for name, value in told.items()}


def solved(hinge: Hinge) -> Flexed:
    """The one arm of a hinge."""
    (found,) = arms_of(hinge, DUTY, PETG)
    return found


def fingerprint(hinge: Hinge) -> str:
    """Of all that the figures of a hinge's arm hang on."""
    (arm,) = hinge.flexing()
    sizes = (arm.held, arm.root, arm.outside, arm.thickness, arm.way, *arm.pushed)
    text = [_shape(arm.solid()), repr(sizes), code(Path(arms.__file__))]
    return hashlib.sha256(json.dumps(text).encode()).hexdigest()[:16]


def load() -> dict[str, dict[str, Any]]:
    """What is kept, by family."""
    found: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}
    return found


def stale() -> list[str]:
    """The families whose figures are missing, or of something else."""
    kept = load()
    return [n for n, one in SUBJECTS.items() if kept.get(n, {}).get("of") != fingerprint(one)]


def renew() -> None:
    """Measure anew what is of something else."""
    kept = load()
    for name in stale():
        hinge = SUBJECTS[name]
        kept[name] = {"of": fingerprint(hinge), **figures(solved(hinge))}
        FILE.write_text(json.dumps(kept, indent=1, sort_keys=True) + "\n", encoding="utf-8")


def ratios(name: str, kept: dict[str, Any]) -> tuple[float, float, float]:
    """Strain that the formula tells, %; that of the solid over it; the force that the formula tells
    for 1 N."""
    hinge = SUBJECTS[name]
    (arm,) = hinge.flexing()
    told = next(one for one in hinge.strengths(DUTY, PETG) if one.name == arm.place)
    strain = float(told.actual)
    ends = (PETG.weak_end(of, Use.CARRY) for of in ("modulus", "poisson"))
    return strain, kept["strain"] / strain, arm.force(kept["way"], *ends)


def section() -> Iterator[str]:
    """The part of the page, line by line."""
    yield "### Arms that are bent\n"
    yield (
        "An arm of a catch or a detent, held where it meets its body and pushed at its lip or nose "
        "until it has given as much as its strain is reckoned with. The strain is that of straight "
        "lines through the cubes across the arm: a sharp corner at its root is in the formula, not "
        "in the solid. The ratio is the solid's over the formula's, and held to the same bars.\n"
    )
    yield "| family | arm | gives, mm | strain by formula | by solid | ratio | told for 1 N |"
    yield "|---|---|---:|---:|---:|---:|---:|"
    for name, kept in load().items():
        (arm,) = SUBJECTS[name].flexing()
        strain, ratio, force = ratios(name, kept)
        yield (
            f"| {name} | {arm.place} | {arm.way:.3g} | {strain:.3g} % | {kept['strain']:.3g} % "
            f"| {ratio:.2f} | {force:.2f} N |"
        )
    yield ""
