"""The assertions of a module: its part, the range of each value, and what values ask of others.

Ranges and rules are tables, and one loop each holds the values against them. The words are those
of Python's errors.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import Rule
from scadgen.text.quoting import scad_string
from scadgen.trees.to_scad import INDENT, INSIDE, filled, indented, number, text

_TOLD = """\
function told(name, value, asked) =
  str("MODULE(): ", name, " = ", value, "; it must be ", asked, ".");"""

_RANGES = """\
for (v = ranges)  // what has no unit is a count, and whole
  assert(is_num(v[1]) && v[1] >= v[2] && v[1] <= v[3] && (v[5] != "" || v[1] % v[4] == 0),
    told(v[0], str(v[1], v[5]), str(v[2], " to ", v[3], v[5], v[6])));"""

_PART = """\
assert([for (p = parts) if (p == part) p] == [part], told("part", part, str("one of ", parts)));"""

#: As ``scadgen/hinge/ends.py`` has it.
_RULES = """\
// A limit on the steps of its value; where bound and rules end the range of a value, and why.
function on_step(v, r, way) = way * ceil((way * r[1] - grain) / v[4]) * v[4];
function end(v, sense, way, bound) = let(
  ends = [[bound, ""], for (r = rules) if (r[0] == str(v[0], sense) && r[3] == undef)
    [on_step(v, r, way), str(", or ", r[2])]], last = way * max([for (e = ends) way * e[0]])
) [for (e = ends) if (e[0] == last) e][0];
for (r = rules, v = ranges, way = [1, -1]) if (r[0] == str(v[0], way > 0 ? " >=" : " <=")) {
  low = end(v, " >=", 1, v[2]); high = end(v, " <=", -1, v[3]);
  asked = r[3] != undef ?
    str(way > 0 ? "at least " : "at most ", on_step(v, r, way), v[5], ", or ", r[2]) :
    low[0] <= high[0] ? str(low[0], " to ", high[0], v[5], " here, or ", r[2]) :
    str("at least ", low[0], v[5], low[1], ", and at most ", high[0], v[5], high[1],
      "; no multiple of ", v[4], v[5], " works here");
  assert(way * v[1] >= way * r[1] - grain, told(v[0], str(v[1], v[5]), asked));
}"""

#: The unit of a value for which the table tells none, and how it gets it.
USUAL_UNIT = " mm"
_FILLED_UP = f"""\
]) [for (k = [0 : 6]) k < 5 || v[k] != undef ? v[k] : k == 5 ? "{USUAL_UNIT}" : ""]];"""
#: The module that holds the values against all that; it is called before anything is drawn.
CHECK = "check"
#: What marks a rule whose limit depends on the parameter that it binds.
ALONE = "alone"


def checks(
    name: str, parts: Iterable[str], checked: Mapping[str, Bounds], rules: Iterable[Rule]
) -> Iterator[str]:
    """All the assertions of a module, in a module of their own within it."""
    yield f"module {CHECK}() {{  // refuses what cannot work"
    yield from indented(asserted(name, checked, [*rules], [*parts]))
    yield "}"


def asserted(
    name: str, fields: Mapping[str, Bounds], rules: Sequence[Rule], parts: Sequence[str] = ()
) -> Iterator[str]:
    """Tables of bounds and rules, and the assertions that hold values against them."""
    if parts:
        yield f"parts = [{', '.join(map(scad_string, parts))}];"
    yield "ranges = [for (v = [  // name, value, least, most, step, unit if not mm, what else is so"
    yield from filled("", [*map(_range, fields, fields.values())], _FILLED_UP, INSIDE)[1:]
    if rules:
        yield "rules = [  // what it must be beside the other values, or else"
        yield from ",\n".join(map(_rule, rules)).splitlines()
        yield "];"
    used = (_TOLD, _PART if parts else "", _RANGES, _RULES if rules else "")
    yield from "\n".join(filter(None, used)).replace("MODULE", name).splitlines()


def _range(name: str, limits: Bounds) -> str:
    numbers = ", ".join(map(number, (limits.low, limits.high, limits.step)))
    told = [limits.suffix, limits.notes] if limits.notes else [limits.suffix]
    more = "".join(f", {scad_string(each)}" for each in told) if told != [USUAL_UNIT] else ""
    return f"[{scad_string(name)}, {name}, {numbers}{more}]"


def _rule(rule: Rule) -> str:
    """A row; a limit that depends on the very parameter that it binds ends no range: it is marked.

    Raises ValueError for a reason that does not go on from "or".
    """
    reason = rule.why.removeprefix("or ")
    if reason == rule.why:
        raise ValueError(f'the reason of a rule begins with "or": {rule.why}')
    bound = scad_string(f"{rule.param} {'>=' if rule.at_least else '<='}")
    opening = f"{INDENT}[{bound}, {text(rule.limit)},"
    why = scad_string(reason) + ("]" if rule.direct else f", {scad_string(ALONE)}]")
    fits = len(f"{opening} {why},") <= INSIDE
    return f"{opening} {why}" if fits else f"{opening}\n{INDENT * 2}{why}"
