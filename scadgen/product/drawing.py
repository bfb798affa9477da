"""A product as an OpenSCAD model that stays editable: bodies less reliefs plus sides, in a tree."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import bounds, definition
from scadgen.keeping.fingerprint import sealed
from scadgen.mechanism.fold import Fold
from scadgen.mechanism.turn import Turn
from scadgen.openscad.emitter import CAUTION, emit_call
from scadgen.openscad.functions import size_call
from scadgen.openscad.sliders import sliders
from scadgen.product.bodies import SIDES, Box, Case, Form, Model, Scad, Tray, Worked
from scadgen.product.building import leading, sides_of
from scadgen.product.frames import Frame
from scadgen.product.modules import called, refuse_alike, uses
from scadgen.text.quoting import plain, scad_string
from scadgen.text.rendering import template
from scadgen.trees.expr import as_expr, free
from scadgen.trees.to_scad import INDENT, WIDTH, number
from scadgen.version import VERSION

if TYPE_CHECKING:
    from scadgen.motion.axis import Axis
    from scadgen.product.fitting import Fitted, Spot
    from scadgen.product.model import Product

#: How far the slider of a box's side reaches, times its value; and its step, mm.
LEAST, MOST, STEP = 0.5, 2, 0.5
#: Where the template puts the fingerprint, which is known when all else is there.
_PLACE = "\0"


def draw(product: Product, folder: Path) -> str:
    """The model as OpenSCAD source, to be written into ``folder``.

    Raises JobError for names that would give two of its modules one name.
    """
    text = template("product.scad.j2").render(
        head=list(_head(product)),
        fingerprint=_PLACE,
        uses=list(uses(product, folder)),
        angles=[_angle(fitted) for fitted in leading(product) if _moves(fitted)],
        gaps=list(dict.fromkeys(gap for fitted in product.merged for gap in _gap(fitted))),
        boxes=[(name, list(_sliders(name, form))) for name, form in _boxes(product)],
        lines=[line for fitted in product.fitted.values() for line in _measures(fitted)],
        scene=list(_scene(product)),
        bodies=[(_titled(name), name, *_body(product, name)) for name in product.bodies],
        joints=[_joint(product, fitted) for fitted in product.merged],
        tray=any(isinstance(form, Tray) for form in product.bodies.values()),
        case=any(isinstance(form, Case) for form in product.bodies.values()),
        plate=any(
            isinstance(form, Box) and not isinstance(form, Tray) for form in product.bodies.values()
        ),
    )
    refuse_alike(product, text)
    before, _, after = text.partition(f"{_PLACE}\n")
    return sealed(before, after, "// ")


def mesh_name(product: Product, body: str) -> str:
    """The file that holds a body which comes as a mesh."""
    return f"{product.name}_{body}.stl"


def _boxes(product: Product) -> Iterator[tuple[str, Box]]:
    """Every box by the name of its sides, which copies share."""
    found = {form.like or name: form for name, form in product.bodies.items()}
    return ((name, form) for name, form in found.items() if isinstance(form, Box))


def _titled(name: str) -> str:
    return name.replace("_", " ")


def _head(product: Product) -> Iterator[str]:
    families = sorted({fitted.hinge.family for fitted in product.merged})
    needs = ", ".join(f"{family}.scad" for family in families)
    sentences = (
        f"{product.name}.scad - {plain(product.title) or _titled(product.name)}",
        plain(product.note),
        "Print it in the pose 'printed', as it lies here. No supports. Lengths in mm, angles in "
        "degrees.",
        f"Needs {needs} beside it. Written by scadgen {VERSION}." if needs else "",
        f"The proof in {product.name}.txt is of the values as they are written here. After a "
        "change, render it and prove that: scadgen inspect.",
        *CAUTION,
    )
    for sentence in sentences:
        yield from textwrap.wrap(sentence, WIDTH - len("// "), subsequent_indent=INDENT)


def _moves(fitted: Fitted) -> bool:
    """Whether its joint turns about one line, or bends: others are drawn as they print."""
    return isinstance(fitted.own, Turn) or _bends(fitted)


def _bends(fitted: Fitted) -> bool:
    """Whether it is a flexure that is bent again and again."""
    return isinstance(fitted.own, Fold) and not fitted.hinge.joins_once


def _gap(fitted: Fitted) -> Iterator[tuple[str, str]]:
    """What sets how closely a joint fits, for the Customizer."""
    fit = fitted.hinge.fit
    if fit == "clearance":
        slider, of = sliders(fitted.hinge)[fit], _titled(fitted.joint.like or fitted.name)
        caption = f"{bounds(type(fitted.hinge))[fit].meaning} of {of} (mm)"
        yield caption, f"{_fit(fitted)} = {number(fitted.hinge.clearance)};  // {slider}"


def _fit(fitted: Fitted) -> str:
    return f"{fitted.joint.like or fitted.name}_clearance"


def _way(fitted: Fitted) -> str:
    """The position that is drawn, degrees."""
    start, shut = fitted.own.printed_at, _ends(fitted)[1]
    less = f" - {number(start)}" if start else ""
    return f"posed({fitted.name}_angle{less}, {number(shut)})"


def _ends(fitted: Fitted) -> tuple[float, float]:
    return fitted.own.asked or (0.0, 0.0)


def _angle(fitted: Fitted) -> tuple[str, str]:
    low, high = map(number, fitted.own.asked_told or (0.0, 0.0))
    start, fixed = fitted.own.printed_at, _titled(fitted.joint.fixed)
    flat = ", from flat" if start else ""
    caption = f"Turn of {_titled(fitted.joint.moving)} in {fixed}{flat} (deg)"
    return caption, f"{fitted.name}_angle = {number(start)};  // [{low}:1:{high}]"


def _sliders(name: str, form: Box) -> Iterator[tuple[str, str]]:
    for side in form.sides():
        value, limits = getattr(form, side), SIDES[side]
        low, high = max(limits.low, LEAST * value), min(limits.high, MOST * value)
        slider = f"[{number(round(low, 3))}:{number(STEP)}:{number(round(high, 3))}]"
        yield f"{limits.sentence} (mm)", f"{name}_{side} = {number(value)};  // {slider}"


def _measures(fitted: Fitted) -> Iterator[tuple[str, str]]:
    """What is worked out of a joint: its assignment and what it means."""
    title = _titled(fitted.name)
    if axis := _axis(fitted):
        height = fitted.worked.get("axis_height", Worked.of(axis.origin[2]))
        yield f"{fitted.name}_axis = {height.text};", f"Height of the axis of {title}"
    if any(f"{fitted.name}_off" in way for spot in fitted.spots for way in spot.shift):
        yield f"{fitted.name}_off = {_off(fitted)};", f"From the middle of {title} to the bodies"


def _off(fitted: Fitted) -> str:
    """From its middle to the bodies: by the function that its module gives, where it gives one."""
    for export in definition(type(fitted.hinge)).exported:
        if export.name == "leaf_start":
            names = [name for name in _values(fitted) if name in free(as_expr(export.value))]
            given = [f"{name} = {_values(fitted)[name]}" for name in names]
            return size_call(fitted.hinge.family, export.name, *given)
    return Worked.of(fitted.off).text


def _values(fitted: Fitted) -> dict[str, str]:
    """Every value of its hinge as OpenSCAD says it: whoever changes a module's defaults draws what
    was proven all the same."""
    texts = {field: number(value) for field, value in given_values(fitted.hinge).items()}
    texts |= {field: worked.text for field, worked in fitted.worked.items()}
    del texts["angle"]
    if "axis_height" in fitted.worked:
        texts["axis_height"] = f"{fitted.name}_axis"
    if fitted.hinge.fit == "clearance":
        texts["clearance"] = _fit(fitted)
    return texts


def _axis(fitted: Fitted) -> Axis | None:
    """The axis in the spot's frame; None where it does not turn about one."""
    own = fitted.own
    return Frame(turn=fitted.quarter).carry_axis(own.about) if isinstance(own, Turn) else None


def _scene(product: Product) -> Iterator[str]:
    """Every body where it is: what moves in another stands behind its joint."""
    moving = {fitted.joint.moving for fitted in product.fitted.values()}
    for name, form in product.bodies.items():
        if name not in moving:
            at = _moved(number(form.at[0]), number(form.at[1]), form.turn)
            yield from _tree(product, name, at)


def _tree(product: Product, name: str, before: str) -> Iterator[str]:
    below = {f.joint.moving: f for f in leading(product) if f.joint.fixed == name}
    if not below:
        yield f"{before}{name}_body();"
        return
    yield f"{before}{{" if before else f"{name}_body();"
    if before:
        yield f"{INDENT}{name}_body();"
    for moving, fitted in below.items():
        steps = f"{fitted.name}_on_{name}() {fitted.name}_turned() {moving}_from_{fitted.name}() "
        yield from (f"{INDENT if before else ''}{line}" for line in _tree(product, moving, steps))
    if before:
        yield "}"


def _moved(x: str, y: str, turn: float) -> str:
    """The transformations to a place, with a space behind them; nothing for none."""
    shift = f"translate([{x}, {y}, 0]) " if (x, y) != ("0", "0") else ""
    return shift + (f"rotate({number(turn)}) " if turn % 360 else "")


def _body(product: Product, name: str) -> tuple[str, list[str], list[str]]:
    """Its own shape, the parts that are taken from it, and those that are added."""
    mine = [(f, side) for f in product.merged for side in sides_of(f, name)]
    taken, added = [], []
    for fitted, side in mine:
        place = f"{fitted.name}_on_{name}() {fitted.name}_joint("
        if relief := fitted.relief(side):
            taken.append(f"{place}{scad_string(relief)});")
        bent = fitted.own.fuses and side == 0  # what is between the two is drawn with the fixed one
        angle = f", {_way(fitted)}" if bent and _bends(fitted) else ""
        added.append(f"{place}{scad_string('both' if bent else fitted.part(side))}{angle});")
    return _shape(product, name, product.bodies[name]), taken, added


def _shape(product: Product, name: str, form: Form) -> str:
    if isinstance(form, Scad):
        return f"{called(product, form.like or name)}();"
    if isinstance(form, Model):
        return f"import({scad_string(mesh_name(product, name))});"
    if isinstance(form, Box):
        sides = (f"{form.like or name}_{side}" for side in form.sides())
        return f"{form.word}({', '.join(sides)});"
    raise TypeError(f"{name}: {form.word} has no text")


def _joint(product: Product, fitted: Fitted) -> dict[str, Any]:
    """The modules of a joint: what it draws, where it is on both bodies, and how it turns."""
    fixed, moving = fitted.spots
    given = _values(fitted) | ({"angle": "angle"} if _bends(fitted) else {})
    call = emit_call(fitted.hinge, part="part", **given)
    turned = f"rotate({number(fitted.quarter)})" if fitted.quarter else ""
    back = f" rotate({number(-fitted.quarter % 360)})" if fitted.quarter else ""
    call += f"{back} children();" if _bends(fitted) else ";"
    return {
        "name": fitted.name,
        "fixed": fitted.joint.fixed,
        "moving": fitted.joint.moving,
        "title": type(fitted.hinge).title,
        "angle": ", angle = 0" if _bends(fitted) else "",
        "call": [*([turned] if turned else []), *call.split("\n")],
        "on_fixed": _there(fixed),
        "on_moving": _there(moving),
        "leads": fitted in leading(product),
        "from": _back(moving),
        "turn": list(_turning(fitted)),
    }


def _is_number(text: str) -> bool:
    return text.replace(".", "", 1).replace("-", "", 1).isdigit()


def _turning(fitted: Fitted) -> Iterator[str]:
    """Lines that turn about the axis: along x, upright, or any other way."""
    axis = _axis(fitted)
    if _bends(fitted):
        part = scad_string(fitted.part(1))
        yield f"{fitted.name}_joint({part}, {_way(fitted)}) children();"
        return
    if axis is None:
        yield "children();  // drawn as it prints: it does not turn about one line"
        return
    x, y = (number(round(value, 6)) for value in axis.origin[:2])
    along = [number(round(value, 6)) for value in axis.direction]
    high, way = f"{fitted.name}_axis", _way(fitted)
    if along == ["0", "0", "1"]:
        yield f"{_shift(x, y)}rotate({way}) {_shift(_minus(x), _minus(y))}children();"
        return
    spun = f"rotate([{way}, 0, 0])"
    yield f"translate([{x}, {y}, {high}])"
    yield INDENT + (spun if along[0] == "1" else f"rotate(a = {way}, v = [{', '.join(along)}])")
    yield f"{INDENT * 2}translate([{_minus(x)}, {_minus(y)}, -{high}]) children();"


def _minus(text: str) -> str:
    return "0" if text == "0" else text[1:] if _negative(text) else _negated(text)


def _negative(text: str) -> bool:
    return text.startswith("-") and _is_number(text)


def _negated(text: str) -> str:
    return f"-{text}" if text.isidentifier() or _is_number(text) else f"-({text})"


def _shift(x: str, y: str) -> str:
    return "" if (x, y) == ("0", "0") else f"translate([{x}, {y}, 0]) "


def _there(spot: Spot) -> str:
    first = f"rotate({number(spot.turned)}) " if spot.turned else ""
    last = f"rotate({number(spot.last)}) " if spot.last else ""
    return f"{spot.before}{first}{_shift(*spot.shift)}{last}children();"


def _back(spot: Spot) -> str:
    """The way back from the axis to the body."""
    first = f"rotate({number(-spot.last % 360)}) " if spot.last else ""
    last = f"rotate({number(-spot.turned % 360)}) " if spot.turned else ""
    return f"{first}{_shift(*map(_minus, spot.shift))}{last}children();"
