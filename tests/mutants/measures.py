"""What the findings rest on: each measure, and what makes of its result one that finds no fault.

Nothing of scadgen is imported here before a measure has given something.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Collection, Iterable
from dataclasses import replace
from typing import Any

from tests.mutants.sites import ROOT

#: More room than anything asks for, mm, and a whole turn, degrees.
ROOMY, WHOLE_TURN = 2.0, 360.0
#: More than any two bodies touch by, mm2.
WIDE = 1e9


def turns_freely(found: Any) -> Any:
    """A swing that nothing stops, with all the room that is looked for."""
    free = {"low": -WHOLE_TURN, "high": WHOLE_TURN, "stopped_low": False, "stopped_high": False}
    return replace(found, **free, gap=ROOMY, gap_most=ROOMY, met=False, unsure=())


def one_piece(found: Any) -> Any:
    """A body that is one closed piece without hollows."""
    return replace(found, pieces=1, voids=0, watertight=True)


def nothing_hangs(found: Any) -> Any:
    """Layers in which nothing droops, fuses, bridges or starts in the air."""
    areas = {"unsupported": 0.0, "bridge": 0.0, "droop": 0.0, "fused": 0.0, "landed": 0.0}
    stands = tuple(area or 1.0 for area in found.bed)
    return replace(found, **areas, span=0.0, islands=0, hanging=(), worst=None, bed=stands)


def stands_well(found: Iterable[Any]) -> tuple[Any, ...]:
    """Bodies whose feet nothing pulls at."""
    return tuple(replace(each, area=each.area or 1.0, pull=0.0, braced=0.0) for each in found)


def certified_anyway(found: Any) -> Any:
    """A certificate, be it of another pair of bodies."""
    from tests.caging.held import held

    return found if hasattr(found, "cover") else held("side_cones")


def held_fast(found: Any) -> Any:
    """A grip that every pull ends in."""
    pulls = tuple(replace(pull, end="held", bite=ROOMY) for pull in found.pulls)
    return replace(found, held=True, pulls=pulls, freest=pulls[0])


#: The measures by module and name; what each becomes when it is switched off. Where one tells only
#: where something is, or how loose it is, no finding depends on it: see TELLS.
MEASURES: dict[str, Callable[[Any], Any]] = {
    "scadgen.motion.contact:overlap": lambda _: 0.0,
    "scadgen.motion.contact:meet": lambda _: False,
    "scadgen.motion.contact:far_apart": lambda _: True,
    "scadgen.motion.contact:gap_between": lambda _: ROOMY,
    "scadgen.motion.contact:last_free": lambda _: None,
    "scadgen.motion.rest:rest": lambda found: replace(found, overlap=0.0, gap=ROOMY),
    "scadgen.motion.rest:body": one_piece,
    "scadgen.motion.stack:body_together": one_piece,
    "scadgen.motion.swing:swing": turns_freely,
    "scadgen.motion.retention:hold": held_fast,
    "scadgen.motion.crooked_way:way_out": lambda found: replace(found, end=None, stopped=False),
    "scadgen.motion.escape:escape": lambda found: replace(found, free=False, refused=0),
    "scadgen.motion.mirrored:mirrored": lambda _: True,
    "scadgen.motion.relief:left_by": lambda found: replace(found, gap=ROOMY),
    "scadgen.motion.at_once:at_once": lambda found: replace(
        found, scale=1.0, met=None, near=None, left=0.0
    ),
    "scadgen.motion.meeting:closing": lambda found: found and replace(found, contact=WIDE),
    "scadgen.motion.sweeps:Sweeps.free": lambda found: tuple(way + WHOLE_TURN for way in found),
    "scadgen.mechanism.detent:gives_way": lambda _: 0.0,
    "scadgen.printing.layers:layers": nothing_hangs,
    "scadgen.printing.layers:run_together": lambda _: iter(()),
    "scadgen.printing.bed:bed": lambda found: replace(
        found, gap=ROOMY, drawn=ROOMY, areas=tuple(area or 1.0 for area in found.areas)
    ),
    "scadgen.printing.air:air": lambda _: (),
    "scadgen.printing.parted:parted": lambda _: [],
    "scadgen.printing.over_extrusion:least_margin": lambda found: replace(
        found, over=ROOMY, beside=ROOMY, landing=ROOMY
    ),
    "scadgen.printing.walls:thin_walls": lambda _: (),
    "scadgen.printing.standing:standing": stands_well,
    "scadgen.strength.layers:refuse_across": lambda _: None,
    "scadgen.strength.asked:unanswered": lambda _: iter(()),
    "scadgen.strength.lasting:untold": lambda _: iter(()),
    "scadgen.strength.bearing:borne": lambda found: found | True,
    "scadgen.caging.certificate:certified": certified_anyway,
    "scadgen.proof.fleet.room_left:gap_margin": lambda found: found + ROOMY,
    "scadgen.proof.fleet.room_left:grip_margin": lambda found: found + ROOMY,
    "scadgen.proof.fleet.shares:works": lambda found: tuple(each | True for each in found),
    "scadgen.product.neighbours:near": lambda _: iter(()),
    "scadgen.product.fleets:_passing": lambda _: iter(()),
    "scadgen.toolpaths.aids:between": lambda _: iter(()),
    "scadgen.toolpaths.air:hanging": lambda _: iter(()),
    "scadgen.toolpaths.fit:misfits": lambda _: iter(()),
    "scadgen.toolpaths.solid:least": lambda _: [],
    "scadgen.toolpaths.welds:Watch._across": lambda _: iter(()),
    "scadgen.toolpaths.welds:Watch._within": lambda _: iter(()),
    "scadgen.findings.finding:Verdict.passed": lambda _: True,
    "scadgen.findings.finding:Verdict.doubts": lambda _: (),
    "scadgen.findings.finding:Finding.marginal": lambda _: False,
}
#: Those that refuse by raising, and give nothing.
RAISE = {"scadgen.strength.layers:refuse_across"}
#: Measures that a finding tells of, and that let nothing pass or fail.
TELLS = {
    "scadgen.motion.meeting": "where bodies meet, and how they rest",
    "scadgen.motion.nearest": "where bodies are nearest",
    "scadgen.motion.play": "how loose a body is",
    "scadgen.caging.looseness": "where the measure of play begins",
    "scadgen.motion.pair": "two bodies made ready for measures",
}

#: Rooms from which findings take their measures.
MEASURING = ("scadgen.motion", "scadgen.printing", "scadgen.caging")
#: What they take from there that is no measure, or one by which others here are made.
OTHERS = {"across", "cross", "cuts", "in_words", "made", "rooted", "thickest_layer"}


def unswitched(known: Collection[str] | None = None) -> set[str]:
    """Measures that findings take, and that are neither switched off here nor only tell."""
    if known is None:
        known = {name.rpartition(":")[2] for name in MEASURES} | OTHERS
    rooms = (ROOT / "scadgen" / room for room in ("findings", "proof", "mechanism"))
    trees = (ast.parse(path.read_text(encoding="utf-8")) for r in rooms for path in r.glob("*.py"))
    return {
        alias.name
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(MEASURING)
        for alias in node.names
        if alias.name[0].islower() and node.module not in TELLS
    } - set(known)
