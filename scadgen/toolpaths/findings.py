"""What was found in a file of toolpaths, held against the job: each a sentence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Finding, Place, Verdict
from scadgen.findings.on_printing import SURE_OVER
from scadgen.toolpaths.assumptions import SAME, assumptions
from scadgen.toolpaths.fit import Misfit
from scadgen.toolpaths.welds import SEARCHED, Weld

if TYPE_CHECKING:
    from scadgen.jobs.job import Job
    from scadgen.toolpaths.judged import Followed

#: What is not certain of all that is found here.
SENT = "are where plastic is sent, not where it flows"
#: By how much less than reckoned a section may be filled.
LESS = 0.1
#: By so much, as a share, more or less plastic may be sent than lines take (assumed): a multiplier
#: that suits a filament.
OFF = 0.15
#: The same of the lines of one use in one layer: what slicers let differ stays far below.
OFF_SOMEWHERE = 0.3
#: How high, as a share of its layer, the first one may begin over the bed and still stick to it.
LIFTED = 0.6
#: Most bodies that are told one by one.
TOLD = 6


def verdict_on(found: Followed, name: str, job: Job | None = None) -> Verdict:
    """The verdict on a file: never "proven", for it tells where plastic is sent, no more."""
    findings = [_bodies(found)]
    if found.links:
        findings += [*_apart(found), *_between(found), _bed(found), _lost(found), _beside(found)]
    findings += [_air(found), *_sent(found)]
    if job is not None:
        findings += [*_filled(found, job), *assumptions(found, job)]
    return Verdict(name, tuple(findings))


def _bodies(found: Followed) -> Finding:
    count = len(found.lumps)
    if found.links is None:
        told = ", ".join(f"{lump.volume:.0f} mm3" for lump in found.lumps[:TOLD])
        more = f" and {count - TOLD} smaller" if count > TOLD else ""
        words = f"{count}: {told}{more}; no job tells how many there must be."
        return Finding("bodies of plastic", count > 0, words, leaves_open=SENT)
    names = found.links.names
    told = "; ".join(
        f"{' and '.join(names[link] for link in sorted(links)) or 'none of its links'} "
        f"{lump.volume:.0f} mm3"
        for lump, links in zip(found.lumps[:TOLD], found.lumps_of, strict=False)
    )
    right = count == len(names) and all(len(links) == 1 for links in found.lumps_of)
    must = "as drawn" if count == len(names) else f"where {len(names)} are drawn"
    change = "see where links touch, what starts in the air, and what lies beside the model"
    return Finding(
        "bodies of plastic",
        right,
        f"{count}, {must}: {told}.",
        measured=count,
        needed=len(names),
        unit="bodies",
        at_least=count < len(names),
        change="" if right else change,
        leaves_open=SENT,
    )


def _apart(found: Followed) -> Iterator[Finding]:
    """Whether links touch, and how far lines may spread before they do."""
    if not found.links or len(found.links.names) < 2:
        return
    if found.welds:
        yield _welded(found.links.names, found.welds)
        return
    if not found.near:
        words = f"they stay apart when each side spreads by {SEARCHED:g} mm or more."
        yield Finding("links apart", True, words)
        return
    near = min(found.near, key=lambda one: one.spread)
    how = "one on the other" if near.landed else "side by side"
    pair = _pair(found.links.names, near.links)
    words = f"each side of a line may spread by {near.spread:.2f} mm before {pair} touch, {how}, "
    place = Place((near.x, near.y, near.z))
    yield Finding(
        "links apart",
        near.spread > 0,
        f"{words}{_at(near.x, near.y, near.z)}.",
        measured=near.spread,
        needed=0.0,
        unit="mm",
        slack=SURE_OVER,
        change="more clearance, or narrower lines" if near.spread < SURE_OVER else "",
        place=place,
    )


def _welded(names: Sequence[str], welds: Sequence[Weld]) -> Finding:
    worst, first = max(welds, key=lambda one: one.area), min(welds, key=lambda one: one.z)
    layers = len({round(weld.z, 3) for weld in welds})
    how = "one lies on the other" if worst.landed else "side by side"
    lines = ", ".join(map(str, worst.lines))
    words = (
        f"{_pair(names, worst.links)} touch in {layers} layer{'s' * (layers > 1)}, first at "
        f"z = {first.z:.4g} mm; most {_at(worst.x, worst.y, worst.z)}: {worst.area:.2f} mm2, "
        f"{how}, line{'s' * (len(worst.lines) > 1)} {lines} of the file."
    )
    above = "no thick bridges, or more clearance below what bridges"
    beside = "more clearance, narrower lines, or a smaller gap closing radius"
    return Finding(
        "links apart",
        False,
        words,
        measured=max(weld.area for weld in welds),
        needed=0.0,
        unit="mm2",
        at_least=False,
        change=above if worst.landed else beside,
        place=Place((worst.x, worst.y, worst.z)),
    )


def _between(found: Followed) -> Iterator[Finding]:
    """Whether supports, brims or purging lie between links, where nobody takes them out."""
    if not found.links or not found.between:
        return
    worst = max(found.between, key=lambda one: (not one.peels, one.area))
    layers = len({one.z for one in found.between})
    words = (
        f"{worst.role.words} lies between {_pair(found.links.names, worst.links)} in {layers} "
        f"layer{'s' * (layers > 1)}, most {_at(worst.x, worst.y, worst.z)}: {worst.area:.2f} mm2."
    )
    name, place = "nothing between links", Place((worst.x, worst.y, worst.z))
    if worst.peels:
        yield Finding(name, True, f"{words} Cut it there before the links are moved.", place=place)
        return
    yield Finding(name, False, words, change="no supports, nothing purged there", place=place)


def _pair(names: Sequence[str], links: tuple[int, int]) -> str:
    return f"{names[links[0]]} and {names[links[1]]}"


def _at(x: float, y: float, z: float) -> str:
    return f"at z = {z:.4g}, x = {x:.1f}, y = {y:.1f} mm"


def _bed(found: Followed) -> Finding:
    assert found.links
    areas = found.on_bed or [0.0] * len(found.links.names)
    least = min(range(len(areas)), key=areas.__getitem__)
    told = ", ".join(
        f"{name} {area:.0f} mm2" for name, area in zip(found.links.names, areas, strict=True)
    )
    missing = areas[least] == 0
    words = f"{told}{f'; {found.links.names[least]} starts above the bed' * missing}."
    change = "put it on the bed in the slicer" if missing else ""
    return Finding("plastic on the bed", not missing, words, change=change)


def _lost(found: Followed) -> Finding:
    assert found.links
    lost = [one for one in found.misfits if one.lost]
    short = _short(found)
    if short:
        return Finding("walls are there", False, short, change="write all of the file again")
    if not lost:
        return Finding("walls are there", True, "every outline of the model has its plastic.")
    worst = max(lost, key=lambda one: one.area)
    layers = len({one.z for one in lost})
    words = (
        f"{found.links.names[worst.link]} lacks plastic in {layers} layer{'s' * (layers > 1)}, "
        f"most {_at(worst.x, worst.y, worst.z)}: {worst.area:.2f} mm2 of its outline have none."
    )
    change = "narrower lines, or let the slicer print thin walls"
    return _misfitting("walls are there", words, worst, change)


def _short(found: Followed) -> str:
    """That the file ends below the top of the model, in words; empty where it does not.

    A layer is laid where its middle lies within the model.
    """
    assert found.links
    top, last = max(solid.bounding_box()[5] for solid in found.links.solids), found.shown.top
    layer = max((found.shown.first, *found.shown.layer_heights))
    if top - last <= layer / 2 + SAME:
        return ""
    return f"the last layer ends at z = {last:.4g} mm, and the model is {top:.4g} mm high."


def _sent(found: Followed) -> Iterator[Finding]:
    """Whether as much plastic is sent as lines take that are as wide as the file tells."""
    name, (sent, takes) = "plastic that is sent", found.shown.sent
    if found.shown.drops:
        yield Finding(name, False, _dropped(found), change="nothing pushed out on one spot")
        return
    if not takes:
        return
    if not sent:
        words = "nothing tells how thick the filament is: lines count as wide as the file tells."
        yield Finding(name, True, f"{words} To hold them against what is sent: --filament 1.75.")
        return
    share, words = sent / takes, "what lines take that are as wide as the file tells"
    good = abs(share - 1) <= OFF
    worst = found.shown.worst
    if good and worst and abs(worst[2] - 1) > OFF_SOMEWHERE:
        z, role, there = worst
        told = f"{100 * there:.0f} % of {words}, in the layer at z = {z:.4g} mm for {role.words}; "
        told += f"{100 * OFF_SOMEWHERE:.0f} % more or less are allowed there (assumed)."
        yield Finding(
            name, False, told, change="one flow for all of it, near what it is drawn with"
        )
        return
    yield Finding(
        name,
        good,
        f"{100 * share:.0f} % of {words}; all else here "
        f"is of such lines, give or take {100 * OFF:.0f} % (assumed).",
        change="" if good else "an extrusion multiplier near 1, and the filament's own diameter",
    )


def _dropped(found: Followed) -> str:
    z, drop = max(found.shown.drops, key=lambda one: one[1].volume)
    where = _at(drop.x, drop.y, z)
    return f"{drop.volume:.1f} mm3 are pushed out on one spot, {where}, line {drop.source}."


def _beside(found: Followed) -> Finding:
    out = [one for one in found.misfits if not one.lost]
    if not out:
        return Finding("plastic within the model", True, "none lies where nothing is drawn.")
    worst, first = max(out, key=lambda one: one.area), min(out, key=lambda one: one.z)
    layers = len({one.z for one in out})
    words = (
        f"plastic lies where nothing is drawn in {layers} layer{'s' * (layers > 1)}, first at "
        f"z = {first.z:.4g} mm, most {_at(worst.x, worst.y, worst.z)}: {worst.area:.2f} mm2."
    )
    change = "no filling of gaps, no supports that are not named, or slice it again"
    return _misfitting("plastic within the model", words, worst, change)


def _misfitting(name: str, words: str, worst: Misfit, change: str) -> Finding:
    place = Place((worst.x, worst.y, worst.z))
    limit: dict[str, Any] = {"needed": 0.0, "unit": "mm2", "at_least": False}
    return Finding(name, False, words, worst.area, **limit, change=change, place=place)


_WHAT = {
    "starts": "starts in the air",
    "ends": "ends in the air",
    "runs": "runs over air farther than a bridge",
    "turns": "turns over air",
    "lies": "lies in the air from end to end",
}


def _air(found: Followed) -> Finding:
    if found.shown.low > LIFTED * found.shown.first and not found.shown.carried:
        words = f"the first layer begins {found.shown.low:.3g} mm over the bed."
        return Finding("lines in the air", False, words, change="put it on the bed in the slicer")
    if not found.hanging:
        words = "none starts, ends or turns there, and none runs farther than a bridge."
        return Finding("lines in the air", True, words)
    worst = max(found.hanging, key=lambda one: one.length)
    first = min(found.hanging, key=lambda one: one.z)
    count = len(found.hanging)
    words = (
        f"{count} line{'s' * (count > 1)}, first at z = {first.z:.4g} mm; the longest "
        f"({worst.role.words}) {_WHAT[worst.what]} for {worst.length:.1f} mm "
        f"{_at(worst.x, worst.y, worst.z)}, line {worst.line} of the file."
    )
    return Finding(
        "lines in the air",
        False,
        words,
        measured=count,
        needed=0,
        unit="lines",
        at_least=False,
        change="print it as it stands, in the layers that are proven, or carry it from below",
        place=Place((worst.x, worst.y, worst.z)),
    )


def _filled(found: Followed, job: Job) -> Iterator[Finding]:
    """Whether sections that bear load are as solid as reckoned; only told where no load is."""
    if not found.filled:
        return
    worst = min(found.filled, key=lambda one: one.share - one.assumed)
    at = ", ".join(f"{value + 0.0:.4g}" for value in worst.point)
    words = (
        f"of what bears load, {worst.place} is filled the least beside what is reckoned with: "
        f"{100 * worst.share:.0f} %, {100 * worst.assumed:.0f} % reckoned, around ({at}) mm of the "
        f"hinge; {len(found.filled)} places were looked at."
    )
    if turned := job.hinge.as_printed():
        words += f" None on the moving side, which prints turned by {turned:g} deg."
    asked = job.duty is not None
    enough = worst.share >= worst.assumed - LESS
    if not asked:
        yield Finding("solid where it bears", True, f"{words} No duty is asked.")
        return
    yield Finding(
        "solid where it bears",
        enough,
        words,
        measured=worst.share,
        needed=worst.assumed - LESS,
        change="" if enough else "more walls or more infill",
    )
