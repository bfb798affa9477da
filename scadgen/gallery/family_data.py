"""A family as data: all that a page needs to set values, refuse them, draw solids and write files.

It is read off the family's definition and off the texts that are written of it. What reads it,
below ``web``, knows no family.
"""

from __future__ import annotations

import functools
import json
from collections.abc import Iterator, Mapping
from typing import Any

from scadgen.gallery.section_data import section_views
from scadgen.gallery.slots import call_slots, job_name, job_slots
from scadgen.hinge import free, validate
from scadgen.hinge.automatic import AS_NEEDED, PARAMETERS, Automatic, given_values
from scadgen.hinge.exported import Export
from scadgen.hinge.family import GROUPS, Bounds, Definition, Hinge, all_families, definition
from scadgen.hinge.meshing import drawn_alone
from scadgen.hinge.rules import GRAIN, Rule
from scadgen.keeping import fingerprint
from scadgen.meshfiles import writing
from scadgen.openscad import sliders
from scadgen.openscad.emitter import emit
from scadgen.openscad.presets import PRESETS, preset
from scadgen.proof.fleet import room_left
from scadgen.proof.fleet.traced import traced
from scadgen.proof.heights import LAYER_HEIGHTS
from scadgen.text.units import labelled
from scadgen.trees import to_scad
from scadgen.trees.expr import Let
from scadgen.trees.to_data import Tables
from scadgen.version import VERSION

#: The field that poses a hinge: it says nothing of what is printed.
POSED = "angle"
#: Derived values, with their units, by which a kind tells how loose its links are.
PLAYS = {"end_play": "mm", "side_play": "mm", "tilt_play": "deg"}
#: Numbers by which the readings in Python go, under the names that the reader has for them.
CONSTANTS = {
    "blends": validate.BLENDS,
    "digits": free.DIGITS,
    "uneven": free.UNEVEN,
    "rangesListed": free.LISTED,
    "valuesListed": sliders.LISTED,
    "passed": sliders.PASSED,
    "width": to_scad.WIDTH,
    "fingerprintDigits": fingerprint.DIGITS,
    "layerHeights": list(LAYER_HEIGHTS),
    "fleetGrain": room_left.GRAIN,
}


def family_data(cls: type[Hinge]) -> dict[str, Any]:
    """The family as JSON can hold it."""
    family, tables = definition(cls), Tables()
    solids = [{"parts": list(p.parts), "solid": tables.shape(p.solid)} for p in family.pieces]
    return {
        "name": cls.family,
        "heading": cls.heading(),
        "version": VERSION,
        "posed": POSED,
        "groups": list(GROUPS),
        "bodies": list(drawn_alone(cls())),
        "fields": {name: _field(limits) for name, limits in family.bounds.items()},
        "checked": list(family.checked),
        "automatic": [_automatic(one, tables) for one in family.automatic],
        "rules": [_rule(rule, family.bounds, tables) for rule in family.rules],
        "grain": tables.expr(GRAIN),
        "derived": {name: tables.expr(value) for name, value in family.derived.items()},
        "told": [_told(one, tables) for one in family.exported],
        "plays": [*_plays(family, tables)],
        "margins": [_margin(one, tables) for one in traced(family)],
        "views": section_views(cls()),
        "pieces": solids,
        "presets": {name: given_values(preset(cls, name)) for name in PRESETS},
        "moduleText": emit(cls()),
        "callText": call_slots(cls),
        "jobText": job_slots(cls),
        "jobName": job_name(cls),
        "constants": CONSTANTS,
        "threeMf": {
            "parts": writing.PACKAGE_PARTS,
            "opening": writing.opening(job_name(cls)),
            "digits": writing.DIGITS,
        },
        **tables.data(),
    }


def family_script(cls: type[Hinge]) -> bytes:
    """The data as a script for a page that lies on a disk, where nothing can be fetched."""
    return _script(cls.family)


@functools.cache
def _script(name: str) -> bytes:
    told = family_data(all_families()[name])
    data = json.dumps(told, separators=(",", ":"), ensure_ascii=False)
    return f"scadgenFamily({data});\n".encode()


def _field(limits: Bounds) -> dict[str, Any]:
    return {
        "unit": limits.unit,
        "suffix": limits.suffix,
        "low": limits.low,
        "high": limits.high,
        "step": limits.step,
        "usual": limits.default,
        "initial": limits.initial,
        "whole": limits.whole,
        "automatic": limits.automatic,
        "labels": list(limits.labels),
        "group": limits.group,
        "sentence": limits.sentence,
        "meaning": limits.meaning,
        "words": limits.words,
        "drawn": limits.unit == "mm" and limits.group != GROUPS[-1],  # how it is made is none
    }


def _automatic(one: Automatic, tables: Tables) -> dict[str, Any]:
    """The value as an expression, and what its parameters stand for."""
    told = [tables.expr(one.told[name]) for name in PARAMETERS]
    value = {"parameters": list(PARAMETERS), "told": told, "value": tables.expr(AS_NEEDED)}
    return {"param": one.param, "whole": one.whole, **value}


def _told(one: Export, tables: Tables) -> dict[str, Any]:
    """What a maker must know of it, with its unit."""
    label, unit = labelled(one.meaning)
    return {"name": one.name, "label": label, "unit": unit, "value": tables.expr(one.value)}


def _plays(family: Definition, tables: Tables) -> Iterator[dict[str, Any]]:
    for name, unit in PLAYS.items():
        value = family.derived.get(name)
        if isinstance(value, Let):
            yield {"name": name, "label": value.note, "unit": unit, "value": tables.expr(value)}


def _margin(one: room_left.Margin, tables: Tables) -> dict[str, Any]:
    """What a printer leaves, an expression of the fields and of a printer's errors."""
    return {"cause": one.cause, "frees": one.frees, "value": tables.expr(one.values)}


def _rule(rule: Rule, fields: Mapping[str, Bounds], tables: Tables) -> dict[str, Any]:
    return {
        "param": rule.param,
        "atLeast": rule.at_least,
        "sense": rule.sense,
        "direct": rule.direct,
        "holds": tables.expr(rule.holds),
        "nearest": tables.expr(rule.nearest(fields[rule.param].step)),
        "why": rule.why,
    }
