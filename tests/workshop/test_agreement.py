"""The page's modules, in Node.js, agree with Python on every family: nothing is told twice."""

from __future__ import annotations

import hashlib
import itertools
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import settings

from scadgen.gallery.family_data import family_data
from scadgen.handover.outputs import call
from scadgen.hinge.ends import ends
from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.hinge.meshing import drawn_alone, mesh
from scadgen.jobs.job import Job, read_job
from scadgen.keeping.fingerprint import is_as_written
from scadgen.openscad.emitter import emit
from scadgen.openscad.presets import PRESETS, preset
from scadgen.text.numbers import shown
from scadgen.trees.expr import as_expr
from scadgen.trees.to_scad import number
from tests.support import ROOT, each_family, many, mended, row, some_hinges, some_refused
from tests.workshop.answers import answers, given

pytestmark = pytest.mark.node

THOROUGH = settings.get_current_profile_name() == "thorough"
#: Hinges whose values and texts, values whose refusals, and hinges whose solids are compared.
HINGES, REFUSED, DRAWN = (100, 500, 25) if THOROUGH else (2, 40, 1)
#: By how much values and volumes may differ, as a share, and bounds, mm: the last digits of sines.
SHARE, APART = 1e-9, 1e-6


@each_family
def test_every_derived_value_is_the_same(cls: type[Hinge]) -> None:
    hinges = some_hinges(cls, HINGES)
    asked = [("derived", cls.family, given(hinge)) for hinge in hinges]
    for hinge, found in zip(hinges, answers(*asked), strict=True):
        family = definition(cls)
        told = {f"told {one.name}": as_expr(one.value) for one in family.exported}
        named = {**family.derived, **told}
        wanted = {n: float(numbers(hinge)(v)) for n, v in named.items()}
        assert len(found) == len(wanted) > 0
        assert {n: v for n, v in wanted.items() if math.isfinite(v)} == pytest.approx(
            {n: v for n, v in found.items() if v is not None}, rel=SHARE, abs=SHARE
        )


@each_family
def test_refusals_are_the_same_word_for_word(cls: type[Hinge]) -> None:
    refused = [*some_refused(cls, REFUSED), *_at_the_ends(cls)]
    sound = [given(hinge) for hinge in some_hinges(cls, HINGES)]
    asked = [("refusal", cls.family, values) for values in (*(v for v, _ in refused), *sound)]
    found = answers(*asked)
    assert len(refused) > REFUSED / 4
    for (_, error), said in zip(refused, found, strict=False):
        assert said["text"] == str(error)
        assert said["works"] == error.works
        assert said["param"] == error.param
    assert found[len(refused) :] == [None] * len(sound)


def _at_the_ends(cls: type[Hinge]) -> list[tuple[dict[str, Any], Any]]:
    """Each field alone at either end of its bounds and beyond, where that is refused."""
    from scadgen.hinge.rules import HingeError

    found: list[tuple[dict[str, Any], Any]] = []
    for name, limits in definition(cls).bounds.items():
        for value in (limits.low, limits.high, limits.high + limits.step, limits.low - 0.1):
            values = given(cls()) | {name: value}
            try:
                cls(**values)
            except HingeError as error:
                found.append((values, error))
    return found


@each_family
def test_texts_are_the_same_byte_for_byte(cls: type[Hinge]) -> None:
    hinges = [*some_hinges(cls, HINGES), *(preset(cls, name) for name in PRESETS)]
    asked = [("texts", cls.family, given(hinge)) for hinge in hinges]
    for hinge, (drawn, job) in zip(hinges, answers(*asked), strict=True):
        wanted = Job(cls.family, f"my_{cls.family}", "", "", hinge, (hinge.layer,))
        assert drawn == call(wanted)
        assert is_as_written(drawn)
        read = read_job(job, ROOT)
        assert read.name == wanted.name
        assert given(read.hinge) == given(hinge) | {"angle": 0}
    assert family_data(cls)["moduleText"] == emit(cls())


@each_family
def test_solids_are_the_same(cls: type[Hinge]) -> None:
    """Every part of the usual hinge, opened, and of some others with few facets."""
    parts = list(definition(cls).parts)
    others = [_opened(cls, {**row(many(cls, DRAWN), k), "facets": 16}) for k in range(DRAWN)]
    hinges = [_opened(cls, {}), *others]
    asked = [("solids", cls.family, given(hinge), parts) for hinge in hinges]
    for hinge, solids in zip(hinges, answers(*asked), strict=True):
        for part, found in zip(parts, solids, strict=True):
            wanted = mesh(hinge, part)
            assert found["volume"] == pytest.approx(wanted.volume(), rel=SHARE)
            assert np.allclose(found["bounds"], wanted.bounding_box(), rtol=0, atol=APART)


@each_family
def test_gaps_between_bodies_are_the_same(cls: type[Hinge]) -> None:
    """Of the usual hinge, whatever the angle at which it is looked at."""
    hinge = cls()
    asked = given(hinge) | {"angle": float(ends(definition(cls), "angle", numbers(hinge))[1].at)}
    ((found, search),) = answers(("gap", cls.family, asked))
    solids = [mesh(hinge, part, angle=0) for part in drawn_alone(hinge)]
    gaps = [one.min_gap(other, search) for one, other in itertools.combinations(solids, 2)]
    assert found == (pytest.approx(min(gaps), rel=SHARE) if gaps else None)


def _opened(cls: type[Hinge], values: dict[str, Any]) -> Hinge:
    """A sound hinge near those values, drawn at a third of its turn."""
    closed = mended(cls, {**values, "angle": 0})
    third = math.floor(closed.swing / 3)
    return mended(cls, {**given(closed), "angle": third})


def test_numbers_are_written_and_rounded_as_python_does() -> None:
    rng = np.random.default_rng(5)
    drawn = (10 ** rng.uniform(-9, 9, 400) * rng.choice([-1, 1], 400)).tolist()
    awkward = [0, -0.0, 0.5, 1.5, 2.5, -0.5, 1e-5, 1e-4, 123456.5, 100.0625, 99999.95, 0.0078125]
    values = [*awkward, 1e15, 1e16, 1.5e22, 999999.5, 1e-6, 2.0000005, 1 / 3, *drawn]
    (found,) = answers(("numbers", "", values))
    wanted = [[number(v), shown(v), round(float(v), 6), round(v)] for v in values]
    assert found == wanted


def test_hashes_are_those_of_the_standard() -> None:
    texts = ["", "abc", "ß " * 40, "a" * 55, "a" * 56, "a" * 64, "line\n" * 5000]
    (found,) = answers(("hashes", "", texts))
    assert found == [hashlib.sha256(text.encode()).hexdigest() for text in texts]
