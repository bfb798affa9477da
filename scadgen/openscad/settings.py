"""The file in which a hinge's values stand in the Customizer, and which draws it when opened.

A module's own file holds definitions alone, so that to include it draws nothing; so this is a file
of its own. It gives the module every value, whatever that file's defaults are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import GROUPS, Bounds, Hinge, definition
from scadgen.keeping.fingerprint import sealed
from scadgen.openscad.sliders import sliders
from scadgen.text.rendering import template
from scadgen.trees.to_scad import hugged, number
from scadgen.version import VERSION

_PLACE = "\0"


def customizer_name(family: str) -> str:
    """The stem of the file that opens a family's module with its values in the Customizer."""
    return f"{family}_customizer"


def emit_customizer(hinge: Hinge) -> str:
    """The file that opens the hinge's module with the hinge's values in the Customizer."""
    family = hinge.family
    head = (
        f"{customizer_name(family)}.scad - opens {family}.scad with its values in the Customizer",
        "Sliders reach as far as works while the others stay; what lies beyond goes into the text.",
        f"Needs {family}.scad beside it. Written by scadgen {VERSION}.",
    )
    return emit_settings(hinge, head)


def emit_settings(hinge: Hinge, head: Iterable[str]) -> str:
    """A file under the lines ``head`` that draws the hinge, with all its values in the Customizer.

    One line holds the fingerprint by which an edit is noticed.
    """
    named = [f"{n} = {hinge.family}_{n}" for n in ("part", *definition(type(hinge)).bounds)]
    text = template("settings.scad.j2").render(
        head=head,
        fingerprint=_PLACE,
        family=hinge.family,
        groups=_groups(hinge),
        call=hugged(f"{hinge.family}(", named, ");"),
    )
    before, _, after = text.partition(f"{_PLACE}\n")
    return sealed(before, after, "// ")


def _groups(hinge: Hinge) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    """Per group its captions and its assignments, ranges included."""
    family, values = definition(type(hinge)), given_values(hinge)
    ranges = sliders(hinge)
    part = f'{hinge.family}_part = "both";  // [{", ".join(family.parts)}]'
    for group in GROUPS:
        settings = [("What to draw", part)] if group == GROUPS[0] else []
        for name, bounds in family.bounds.items():
            if bounds.group == group:
                settings.append(setting(hinge.family, name, bounds, values[name], ranges[name]))
        if settings:
            yield group, settings


def caption(bounds: Bounds) -> str:
    """What a parameter is, with its unit."""
    return f"{bounds.meaning} ({bounds.unit})" if bounds.unit else bounds.meaning


def setting(
    module: str, name: str, bounds: Bounds, value: float, slider: str = ""
) -> tuple[str, str]:
    """A parameter of a module in the Customizer: its caption, and its assignment with its slider.

    Without one it reaches over the bounds.
    """
    slider = slider or f"[{':'.join(map(number, (bounds.low, bounds.step, bounds.high)))}]"
    return caption(bounds), f"{module}_{name} = {number(value)};  // {slider}"
