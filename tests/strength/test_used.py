"""A formula is there because a hinge asks it, and it stands beside something outside."""

from __future__ import annotations

import functools
from pathlib import Path

from tests.strength.calls import ROOM, Named, public, reached
from tests.strength.compared import all_groups, called
from tests.support import ROOT

#: Modules without formulas, and what shows that they are right.
NO_FORMULAS = {
    "anyform": "elementary functions; tests/strength/test_either.py",
    "asked": "what a duty asks; tests/test_answers.py",
    "bearing": "verdicts; tests/strength/test_bearing.py",
    "carried": "where to cut a solid; tests/strength/test_carried.py",
    "duty": "what is asked; tests/test_strengths.py",
    "lasting": "a table of a plastic's own figures; tests/strength/test_lasting.py",
    "layers": "a posture that is refused; tests/strength/test_layers.py",
    "material_files": "plastics are read; tests/strength/test_materials.py",
    "materials": "plastics with their own sources; tests/strength/test_materials.py",
    "place": "a formula's figure beside what is borne; tests/test_strengths.py",
    "temper": "judgements of practice; tests/sizing/test_choose.py",
}


@functools.cache
def sources() -> dict[str, str]:
    """The code of the package by module."""
    found = {}
    for path in sorted((ROOT / "scadgen").rglob("*.py")):
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        found[name.removesuffix(".__init__")] = path.read_text(encoding="utf-8")
    return found


def room() -> set[Named]:
    """The public functions of the room, by module and name."""
    modules = {name: text for name, text in sources().items() if name.startswith(ROOM)}
    return {(module, name) for module, text in modules.items() for name in public(text)}


def test_every_function_is_asked_by_something_outside_the_room() -> None:
    """Mending: a formula that nothing asks goes, or a family asks it."""
    assert sorted(room() - reached(sources())) == []
    assert len(room()) > 80


def test_every_formula_is_compared_with_something_outside() -> None:
    """Mending: a row in tests/strength/comparisons that calls it."""
    for group in all_groups().values():
        group[1]()
    formulas = {one for one in room() if one[0].removeprefix(ROOM) not in NO_FORMULAS}
    assert sorted(formulas - called()) == []
    assert len(formulas) > 60


def test_modules_without_formulas_exist_and_their_tests_too() -> None:
    for module, why in NO_FORMULAS.items():
        assert ROOM + module in sources()
        assert (ROOT / Path(why.rpartition("; ")[2])).is_file(), why


def test_a_function_that_nothing_asks_is_seen() -> None:
    """Neither its own words, nor a variable of its name, nor another unasked one, asks for it."""
    package = {
        ROOM + "web": (
            "def pulled(): return _half(2)\n"
            "def _half(of): return of / WIDE\n"
            "WIDE = 3\n"
            "def idle(): return idle()\n"
            "def idler(): return idle()\n"
            "def varied():\n    pushed = 1\n    return pushed\n"
            "def pushed(): return 2\n"
        ),
        "scadgen.families.strip": (
            "from scadgen.strength import web as webs\n"
            "def told():\n    from scadgen.strength.web import varied\n"
            "    return webs.pulled() + varied()\n"
        ),
    }
    web = ROOM + "web"
    assert public(package[web]) == {"pulled", "idle", "idler", "varied", "pushed"}
    asked = {name for module, name in reached(package) if module == web}
    assert asked == {"pulled", "_half", "WIDE", "varied"}
