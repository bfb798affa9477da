"""``inspect``: a model held against what a hinge needs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from scadgen.findings.finding import NO_DUTY, NO_FLEET, Verdict
from scadgen.findings.on_motion import ROUNDING, SEARCHED
from scadgen.inspection.asked import Asked
from scadgen.inspection.bodies import FoundBody, bodies
from scadgen.inspection.carried import found_proof, with_proof
from scadgen.inspection.joints import Bearing, bearings
from scadgen.inspection.result import FoundJoint, Inspection
from scadgen.mechanism.contact import Contact
from scadgen.mechanism.joint import Case, silent
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.meshfiles.precision import grain_of
from scadgen.meshfiles.reading import read
from scadgen.motion.contact import meet
from scadgen.motion.nearest import Closest, closest, corners
from scadgen.openscad.engine import rendered
from scadgen.proof.whole import Printed, prove
from scadgen.tables.documents import JobError
from scadgen.text.quoting import visible

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.inspection.carried import Reader
    from scadgen.mechanism.joint import JointProof, Tell
    from scadgen.motion.axis import Axis
    from scadgen.motion.swing import Swing
    from scadgen.openscad.engine import Drawing

#: What no model can be asked: what its maker meant it for is not in it.
UNASKED = (NO_FLEET, NO_DUTY)
#: Most warnings of OpenSCAD that are told.
WARNINGS = 5
#: Side, mm, below which a body may well be in inches.
SUSPECT = 10.0


def inspect(
    model: str | Path | Sequence[Manifold],
    asked: Asked | None = None,
    tell: Tell | None = None,
    readers: Mapping[str, Reader] | None = None,
) -> Inspection:
    """Measure a model: a file (STL, 3MF, OBJ, or .scad through OpenSCAD), or solids in mm.

    Every body must be held by a joint, or be named as loose; each pair with a bearing is proven.
    ``tell`` is told in a word what is being measured. ``readers``: what reads proofs that a 3MF
    carries from other than a job, like ``scadgen.product.carried.READERS``. Raises JobError for a
    file that makes no sound bodies, bodies without a joint, and demands that the model has not the
    bodies for.
    """
    asked, say = asked or Asked(), tell or silent
    name = Path(model).name if isinstance(model, (str, Path)) else "solids"
    try:
        soup, rounded, said = _soup(model, asked, say)
        found, notes = bodies(soup)
        notes = [*said, *notes]
        _refuse_strangers(asked.loose, found)
        proof = None
        if isinstance(model, (str, Path)) and Path(model).suffix.lower() == ".3mf":
            proof = found_proof(Path(model), soup, say, readers)
        notes = [*_unit_note(found), *notes]
        return with_proof(_proven(name, found, notes, asked, rounded, say), proof)
    except JobError as error:
        if isinstance(model, (str, Path)):
            error.path = Path(model)
        raise


def _unit_note(found: Sequence[FoundBody]) -> Iterator[str]:
    sides = [
        high - low for one in found for low, high in zip(one.box[:3], one.box[3:], strict=True)
    ]
    if max(sides) < SUSPECT:
        yield f"its largest side is {max(sides):.3g} mm; if those are inches, use a scale of 25.4."


def _drawing_notes(drawn: Drawing) -> Iterator[str]:
    if drawn.read:
        names = ", ".join(visible(str(one)) for one in drawn.read)
        yield f"OpenSCAD read {'these' if len(drawn.read) > 1 else 'this'} for it, too: {names}."
    for words in drawn.warnings[:WARNINGS]:
        yield f"OpenSCAD warns: {visible(words)[:300]}"
    if len(drawn.warnings) > WARNINGS:
        yield f"OpenSCAD warns {len(drawn.warnings) - WARNINGS} times more."


def _chance(read: Iterable[Path]) -> Iterator[str]:
    """That one of the OpenSCAD files draws by chance."""
    from scadgen.openscad.chance import by_chance

    for path in by_chance(read):
        words = "calls rands(): without a seed each rendering is another model, and one of them"
        yield f"{visible(path.name)} {words} is measured here."


def _soup(
    model: str | Path | Sequence[Manifold], asked: Asked, say: Tell
) -> tuple[Any, float, Sequence[str]]:
    """Loose triangles (mm), how far rounding may have moved a face (mm), and what is to be said."""
    import numpy as np

    say("reading")
    path = Path(model) if isinstance(model, (str, Path)) else None
    rendering = path is not None and path.suffix.lower() == ".scad"
    if asked.settings and not rendering:
        raise JobError("settings: only an OpenSCAD file has values to set.")
    if path is None:
        solids = map(corners, cast(Any, model))
        return np.concatenate([np.zeros((0, 3, 3)), *solids]) * asked.scale, 0.0, ()
    if not rendering:
        soup = read(path, asked.scale)
        return soup, grain_of(path, soup, asked.scale), ()
    say("OpenSCAD")
    with rendered(path, asked.settings, asked.bounds) as drawn:
        soup = read(drawn.stl, asked.scale)
        notes = [*_chance([path, *drawn.read]), *_drawing_notes(drawn)]
        return soup, grain_of(drawn.stl, soup, asked.scale), notes


def _refuse_strangers(loose: Sequence[int], found: Sequence[FoundBody]) -> None:
    for number in loose:
        if not 1 <= number <= len(found):
            raise JobError(f"loose = {number}; it must be one of the bodies, 1 to {len(found)}.")


def _proven(
    name: str,
    found: list[FoundBody],
    notes: list[str],
    asked: Asked,
    rounded: float,
    say: Tell,
) -> Inspection:
    some = [one for one in found if one.number not in asked.loose]
    if len(some) < 2 and asked.of_a_pair:
        raise JobError(
            f"{', '.join(asked.of_a_pair)}: asked of two bodies, of which one turns in the other; "
            f"there {'is' if len(some) == 1 else 'are'} {len(some) or 'none'}. Ask without."
        )
    made = bearings(some, asked, say) if len(some) > 1 else []
    whole = _mechanism(name, found, made, asked, rounded)
    floor = min(one.box[2] for one in found)
    proof = prove(
        whole, Printed(asked.layers, asked.bridge, asked.line_width, floor), Case(tell=say)
    )
    joints = tuple(_joint(whole, *one) for one in zip(made, proof.joints, strict=True))
    if rounded > ROUNDING:
        notes = [*notes, f"the file rounds its coordinates by up to {rounded:.2g} mm."]
    verdict = Verdict(name, proof.findings, unasked=UNASKED)
    return Inspection(verdict, tuple(found), joints, tuple(asked.loose), tuple(notes))


def _mechanism(
    name: str, found: Sequence[FoundBody], made: Sequence[Bearing], asked: Asked, rounded: float
) -> Mechanism:
    turns = [
        Turn(
            fixed=str(bearing.fixed.number),
            moving=str(bearing.moving.number),
            asked=asked.swing,
            about=bearing.axis.axis,
            facets=bearing.axis.facets,
            clearance=asked.clearance,
            grain=rounded,
            rests=True,
        )
        for bearing in made
    ]
    contacts = tuple(
        Contact(*turn.pair, at=touch.angle, middle=(touch.x, touch.y, touch.z), radius=touch.radius)
        for touch in asked.contacts
        for turn in turns
    )
    _refuse_all_meant(contacts, found)
    titles = {str(one.number): f"body {one.number}" for one in found}
    if len(made) == 1:
        titles |= dict(zip(turns[0].pair, ("fixed link", "moving link"), strict=True))
    if len(found) == 1:
        titles = {"1": "body"}
    bodies = tuple(_body(one, titles[str(one.number)]) for one in found)
    return Mechanism(name, bodies, tuple(turns), None, tuple(map(str, asked.loose)), contacts)


def _refuse_all_meant(contacts: Sequence[Contact], found: Sequence[FoundBody]) -> None:
    """Raise JobError for a place of contact that holds a whole body: nothing could be wrong."""
    solids = {str(one.number): one.solid for one in found}
    for contact in contacts:
        for name in (contact.fixed, contact.moving):
            if (solids[name] - contact.room()).is_empty():
                words = f"contact: all of body {name} lies within {contact.radius:g} mm of it"
                raise JobError(f"{words}; it must be the place where they touch, and no more.")


def _body(one: FoundBody, title: str) -> Body:
    return Body(str(one.number), title, lambda: one.solid)


def _joint(whole: Mechanism, bearing: Bearing, proof: JointProof) -> FoundJoint:
    fixed, moving = bearing.fixed.solid, bearing.moving.solid
    turn = proof.swing
    near = None
    if turn is not None and not meet(fixed, moving):
        near = _closest(fixed, moving, bearing.axis.axis, turn)
    fault = next((one.place for one in proof.findings if one.place and not one.passed), None)
    numbers = (bearing.fixed.number, bearing.moving.number)
    cage = proof.joint.cage(whole)
    return FoundJoint(numbers, bearing.axis, turn, near, fault, cage)


def _closest(fixed: Manifold, moving: Manifold, axis: Axis, turn: Swing) -> Closest | None:
    """Where the gap is smallest: on the way, or at rest if it is no smaller there."""
    angle = turn.gap_at
    if fixed.min_gap(moving, SEARCHED) <= turn.gap_most + ROUNDING:
        angle = 0.0
    turned = axis.turn(moving, angle)
    return None if meet(fixed, turned) else closest(fixed, turned, angle)
