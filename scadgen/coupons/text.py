"""The text of a coupon: Python decides every line, the template only places them."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

from scadgen.coupons.plan import Plan
from scadgen.coupons.shapes import CouponTrees, parameters, trees_of
from scadgen.coupons.solids import LAYER, LINE, SPEED, minutes
from scadgen.hinge.family import Bounds, bounds
from scadgen.hinge.rules import GRAIN
from scadgen.openscad.checks import asserted
from scadgen.openscad.emitter import CAUTION
from scadgen.openscad.settings import setting
from scadgen.proof.heights import LAYER_HEIGHTS
from scadgen.text.numbers import shown
from scadgen.text.rendering import template
from scadgen.trees import expr, solid
from scadgen.trees.solid import Drawn, Module, Shape
from scadgen.trees.to_scad import (
    INDENT,
    INSIDE,
    WIDTH,
    assignments,
    continued,
    filled,
    indented,
    lines,
    module,
    number,
)
from scadgen.version import VERSION

#: What the proof of a coupon cannot know.
LOOSE = (
    "Keep it from small children: pieces and what snaps off are small parts to be swallowed.",
    "It tells how one printer prints one plastic, not what a hinge bears.",
)


def emit_coupon(plan: Plan) -> str:
    """OpenSCAD source of a coupon; it uses the family's own module, in a file beside it."""
    drawn, fields = trees_of(plan), parameters(plan)
    modules = list(_modules(drawn.whole(), drawn.hinge))
    blocks = [
        _assignments(drawn, modules, fields),
        asserted(plan.name, fields, [*drawn.rules()]),
        lines(drawn.whole(), INSIDE),
        *(module(one, INSIDE) for one in modules),
    ]
    return template("coupon.scad.j2").render(
        name=plan.name,
        family=plan.family.family,
        title=f"Coupon of {plan.family.family}: one piece for each step of {plan.steps.field}.",
        header=list(_header(plan)),
        groups=_customizer(plan, fields),
        signature=filled(f"module {plan.name}(", [f"{n} = {plan.name}_{n}" for n in fields], ") {"),
        blocks=[list(indented(block)) for block in blocks],
        version=VERSION,
    )


def _thick() -> str:
    """Why thick layers tell more."""
    thick = f"Layers of {max(LAYER_HEIGHTS):g} mm tell most about the printer"
    return f"{thick}: in thinner ones even the narrowest step turns unless the lines spread."


def legend(plan: Plan) -> Iterator[str]:
    """A line for each piece: its number, what it stands for and, of a gap, where it stays free."""
    width = max(len(plan.steps.field), len("0.15 mm"))
    free = "free at layers of" if plan.calibrates else ""
    yield f"number  {plan.steps.field:<{width}}  {free}".rstrip()
    for value in plan.values:
        where = where_free(plan, value) if plan.calibrates else ""
        yield f"{plan.number(value):<6d}  {f'{shown(value)} mm':<{width}}  {where}".rstrip()


def where_free(plan: Plan, value: float) -> str:
    """The usual layers in which a piece claims to be free, and those in which it may fuse."""
    free = [number(height) for height in LAYER_HEIGHTS if plan.claimed(value, height)]
    others = [number(height) for height in LAYER_HEIGHTS if not plan.claimed(value, height)]
    fuses = f"; may fuse at {', '.join(others)} mm" if others else ""
    return f"{', '.join(free)} mm{fuses}"


def _header(plan: Plan) -> Iterator[str]:
    cls, steps = plan.family, plan.steps
    caption = continued(bounds(cls)[steps.field].sentence)
    unit = "hundredths" if steps.per_mm == 100 else "tenths"
    sentences = (
        f"{plan.name}.scad - Coupon of {cls.family}: a small hinge for each step of {steps.field}.",
        f"The number by a piece is its {steps.field} in {unit} of a mm: {caption}.",
        f"Print it as it lies, {cls.posture}. No supports. Needs {cls.family}.scad beside it.",
        *([f"Mind: {cls.hangs}."] if cls.hangs else []),
        steps.look,
        *([_thick()] if plan.calibrates and plan.leans else []),
        f"Rough time: {minutes(plan):.0f} minutes (volume alone, laid solid in layers of {LAYER:g} "
        f"mm and lines of {LINE:g} mm at {SPEED} mm/s, assumed; travel is not counted).",
        *LOOSE,
        *CAUTION,
        f"SPDX-License-Identifier: MIT; written by scadgen {VERSION}.",
    )
    for sentence in sentences:
        yield from textwrap.wrap(sentence, WIDTH - len("// "), subsequent_indent=INDENT)
    yield ""
    spread = ", on a printer whose lines do not spread" if plan.calibrates else ""
    yield f"As written{spread}:"
    yield from (f"{INDENT}{line}" for line in legend(plan))


def _customizer(plan: Plan, fields: Mapping[str, Bounds]) -> dict[str, list[tuple[str, str]]]:
    """Per group its captions and its assignments, ranges included."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for name, limits in fields.items():
        line = setting(plan.name, name, limits, limits.default)
        groups.setdefault(limits.group, []).append(line)
    return groups


def _modules(shape: Shape, outside: Module) -> Iterator[Module]:
    """The modules that a shape uses, each once, in order of use; none of the one ``outside``."""
    seen: list[Module] = []
    waiting = [shape]
    while waiting:
        for node in solid.inside(waiting.pop()):
            if isinstance(node, Drawn) and node.module not in (*seen, outside):
                seen.append(node.module)
                waiting.append(node.module.body)
    yield from seen


def _assignments(
    drawn: CouponTrees, modules: Iterable[Module], fields: Mapping[str, Bounds]
) -> Iterator[str]:
    """The named values that no module's own parameters enter, in order of need."""
    roots = [drawn.whole(), *(one.body for one in modules)]
    used = (e for root in roots for shape in solid.inside(root) for e in solid.measures(shape))
    values = expr.walk(expr.as_expr(GRAIN), *(rule.limit for rule in drawn.rules()), *used)
    return assignments(node for node in values if expr.free(node) <= set(fields))
