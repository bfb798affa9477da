"""Names of the modules of a model: of two that are alike OpenSCAD draws the last, without a word.

Where several files of a maker's are used, each body of theirs gets a small file of its own, which
calls its module by a name that no other has: a file gives all of its modules to whoever uses it.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.hinge.family import all_families
from scadgen.keeping.fingerprint import sealed
from scadgen.product.bodies import Model, Scad
from scadgen.tables.documents import JobError
from scadgen.text.quoting import toml

if TYPE_CHECKING:
    from scadgen.product.model import Product

_MODULE = re.compile(r"^module (\w+)", re.MULTILINE)


def scad_bodies(product: Product) -> Mapping[str, Scad]:
    """Each body that is a module of a file, by a name that its copies share."""
    found = ((form.like or name, form) for name, form in product.bodies.items())
    return {name: form for name, form in found if isinstance(form, Scad)}


def _several(product: Product) -> bool:
    return len({form.file.resolve() for form in scad_bodies(product).values()}) > 1


def uses(product: Product, folder: Path) -> Iterator[str]:
    """The files that a model in ``folder`` uses: those of its families last, so that theirs win."""
    bodies = scad_bodies(product)
    if _several(product):
        yield from (_own_file(product, name) for name in bodies)
    else:
        yield from dict.fromkeys(_path(form, folder) for form in bodies.values())
    yield from sorted({f"{fitted.hinge.family}.scad" for fitted in product.merged})


def called(product: Product, name: str) -> str:
    """The module that draws a body of a maker's file."""
    form = scad_bodies(product)[name]
    if not _several(product):
        return form.module
    return f"{name}_drawn" if form.module != f"{name}_drawn" else f"{name}_drawn_here"


def own_files(product: Product, folder: Path) -> dict[str, str]:
    """The texts of the files, to be written into ``folder``, that call one module each, by name."""
    if not _several(product):
        return {}
    return {
        _own_file(product, name): sealed(
            f"// The body {name} of {product.name}.scad, under a name that nothing else has.\n",
            f"\nuse <{_path(form, folder)}>\n\nmodule {called(product, name)}() {form.module}();\n",
            "// ",
        )
        for name, form in scad_bodies(product).items()
    }


def _own_file(product: Product, name: str) -> str:
    return f"{product.name}_{name}.scad"


def _path(form: Scad, folder: Path) -> str:
    return Path(os.path.relpath(form.file.resolve(), folder.resolve())).as_posix()


def refuse_alike(product: Product, text: str) -> None:
    """Raise JobError for a model that would have two modules, or two files, of one name."""
    _refuse_alike_but_for_case(product)
    made = _MODULE.findall(text)
    for name in made:
        if made.count(name) > 1:
            words = f"the model would have two modules {name}: other names for bodies and joints"
            raise JobError(f"joints: {words}.", "joints")
    taken = {*made, *all_families()}
    for name, form in scad_bodies(product).items():
        if Path(_own_file(product, name)).stem in all_families() and _several(product):
            words = (
                f"with the name of the product it is that of a family's file, {product.name}_{name}"
            )
            raise JobError(f"bodies.{name}: {words}; name one of them apart.", f"bodies.{name}")
        if called(product, name) in taken:
            key = f"bodies.{name}.module"
            words = "the model has a module of its own that is called so; name yours apart"
            raise JobError(f"{key} = {toml(form.module)}; {words}.", key)


def _refuse_alike_but_for_case(product: Product) -> None:
    """Raise JobError for bodies whose files are one where names go without upper and lower case."""
    files: dict[str, str] = {}
    for name, form in product.bodies.items():
        if isinstance(form, Scad | Model) and files.setdefault(name.lower(), name) != name:
            other = files[name.lower()]
            words = f"in some folders its file is that of {other}, as names go without case there"
            raise JobError(f"bodies.{name}: {words}; name them apart.", f"bodies.{name}")
