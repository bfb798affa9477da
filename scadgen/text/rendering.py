"""The templates: Python decides what is said, they place it."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

from scadgen.text.quoting import markdown
from scadgen.text.typeset import typeset

if TYPE_CHECKING:
    from jinja2 import Environment, Template


def template(name: str) -> Template:
    """The file ``name`` below ``scadgen/text/templates``; what goes into HTML is escaped."""
    return _environment().get_template(name)


@functools.cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

    found = Environment(
        loader=PackageLoader("scadgen.text"),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        autoescape=select_autoescape(["html.j2"]),
    )
    found.filters["markdown"] = markdown
    found.filters["typeset"] = typeset
    return found
