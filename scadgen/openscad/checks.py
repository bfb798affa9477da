"""The assertions of a module: its part, the range of each value, and what values ask of others.

Ranges and rules are tables, and one loop each holds the values against them. The words are those
of Python's errors.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import Rule
from scadgen.text.quoting import scad_string
from scadgen.trees.to_scad import INDENT, INSIDE, filled, indented, number, text

_RANGES = """\
for (v = ranges) {
  whole = v[2] != "" || v[6] == "" || v[1] % v[5] == 0;  // as a count is, which has no unit
  assert(is_num(v[1]) && v[1] >= v[3] && v[1] <= v[4] && whole, str("MODULE(): ",
    v[0], " = ", v[1], v[2], "; it must be ", v[3], " to ", v[4], v[2], v[6], "."));
}"""

#: As ``scadgen/hinge/ends.py`` has it.
_RULES = """\
// Ends of a range, on its steps, and why: its bound, and what rules of one sense make of it.
function ends(v, bound, sense, way) = [[bound, ""], for (o = rules)
  if (o[0] == v[0] && o[1] == sense)
    [way * ceil((way * o[2] - grain) / v[5]) * v[5], str(", ", o[3])]];
function why(ends, at) = [for (end = ends) if (end[0] == at) end[1]][0];
for (r = rules) {
  v = [for (v = ranges) if (v[0] == r[0]) v][0];
  lows = ends(v, v[3], "at least", 1);
  highs = ends(v, v[4], "at most", -1);
  low = max([for (end = lows) end[0]]);
  high = min([for (end = highs) end[0]]);
  words = low <= high ? str(low, " to ", high, v[2], " here, ", r[3]) : str(
    "at least ", low, v[2], why(lows, low), ", and at most ", high, v[2], why(highs, high),
    "; no multiple of ", v[5], v[2], " works here");
  assert(r[1] == "at least" ? v[1] >= r[2] - grain : v[1] <= r[2] + grain,
    str("MODULE(): ", r[0], " = ", v[1], v[2], "; it must be ", words, "."));
}"""

#: The module that holds the values against all that; it is called before anything is drawn.
CHECK = "check"


def checks(
    name: str,
    parts: Iterable[str],
    checked: Mapping[str, Bounds],
    fields: Mapping[str, Bounds],
    rules: Iterable[Rule],
) -> Iterator[str]:
    """All the assertions of a module, in a module of their own within it."""
    yield "// Refuses what cannot work."
    yield f"module {CHECK}() {{"
    yield from indented(part_check(name, parts))
    yield from indented(range_checks(name, checked))
    yield from indented(rule_checks(name, fields, rules))
    yield "}"


def part_check(module: str, parts: Iterable[str]) -> Iterator[str]:
    """Assertion on the part."""
    named = ", ".join(map(scad_string, parts))
    yield f"parts = [{named}];"
    words = f"{module}(): part = "
    yield "assert([for (p = parts) if (p == part) p] == [part],"
    yield f'{INDENT}str({scad_string(words)}, part, "; it must be one of ", parts, "."));'


def range_checks(module: str, fields: Mapping[str, Bounds]) -> Iterator[str]:
    """Assertions on the bounds of a module's parameters."""
    yield "ranges = [  // name, value, unit, least, most, step, what else is so"
    yield from filled("", [*map(_range, fields, fields.values())], "];", INSIDE)[1:]
    yield from _RANGES.replace("MODULE", module).splitlines()


def rule_checks(module: str, fields: Mapping[str, Bounds], rules: Iterable[Rule]) -> Iterator[str]:
    """Assertions on the rules of a module, after those on its bounds."""
    direct = []
    for rule in rules:
        if rule.direct:
            direct.append(rule)
        else:
            yield from _own_check(module, fields[rule.param], rule)
    if direct:
        yield "rules = [  // name, what it must be beside the other values, or else"
        yield from ",\n".join(map(_rule, direct)).splitlines()
        yield "];"
        yield from _RULES.replace("MODULE", module).splitlines()


def _range(name: str, limits: Bounds) -> str:
    numbers = ", ".join(map(number, (limits.low, limits.high, limits.step)))
    unit, notes = map(scad_string, (limits.suffix, limits.notes))
    return f"[{scad_string(name)}, {name}, {unit}, {numbers}, {notes}]"


def _rule(rule: Rule) -> str:
    opening = f"{INDENT}[{scad_string(rule.param)}, {scad_string(rule.sense)}, {text(rule.limit)},"
    why = f"{scad_string(rule.why)}]"
    fits = len(f"{opening} {why},") <= INSIDE
    return f"{opening} {why}" if fits else f"{opening}\n{INDENT * 2}{why}"


def _own_check(module: str, limits: Bounds, rule: Rule) -> Iterator[str]:
    """Assertion on a rule whose limit depends on the very parameter that it binds."""
    words = (
        scad_string(f"{module}(): {rule.param} = "),
        rule.param,
        scad_string(f"{limits.suffix}; it must be {rule.sense} "),
        text(rule.nearest(limits.step)),
        scad_string(f"{limits.suffix}, {rule.why}."),
    )
    yield from filled(f"assert({text(rule.holds)}, str(", words, "));", INSIDE)
