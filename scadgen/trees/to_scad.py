"""The text reading: expressions and shapes as OpenSCAD source, with as few brackets as it takes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar

from scadgen.trees.expr import Call, Cell, Expr, Let, Num, Op, Rows, Sym, Where, as_expr, free, walk
from scadgen.trees.solid import (
    Child,
    Chosen,
    Circle,
    Combined,
    Drawn,
    Extruded,
    Module,
    Moved,
    Noted,
    Polygon,
    Repeated,
    Revolved,
    Shape,
    Square,
    inside,
    measures,
)

WIDTH = 100
INDENT = "  "
#: Room for what stands in a module within a module.
INSIDE = WIDTH - 2 * len(INDENT)

# The one precedence table; a higher number binds tighter.
_BINDS = {
    "?:": 0,
    "||": 1,
    "&&": 2,
    "==": 3,
    "<": 4,
    "<=": 4,
    ">": 4,
    ">=": 4,
    "+": 5,
    "-": 5,
    "*": 6,
    "/": 6,
    "%": 6,
    "neg": 7,
}
# a + (b - c) and a * (b / c) mean the same without brackets.
_FREE_RIGHT = {("+", "+"), ("+", "-"), ("*", "*"), ("*", "/")}


#: The named values that are written where they are used, with no assignment of their own.
_SPELT: ContextVar[Collection[Let]] = ContextVar("spelt", default=())


@contextmanager
def spelt_out(values: Collection[Let]) -> Iterator[None]:
    """Within it these named values are written out where they are used, instead of their names."""
    before = _SPELT.set(values)
    try:
        yield
    finally:
        _SPELT.reset(before)


def is_spelt(node: Expr) -> bool:
    """Whether a value is written where it is used, though it has a name."""
    return isinstance(node, Let) and node in _SPELT.get()


def number(value: float) -> str:
    """Shortest literal that reads back as ``value``; a whole number has no point."""
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(float(value))


def text(node: Expr | float) -> str:
    """``node`` as an OpenSCAD expression; a named intermediate is its name."""
    node = as_expr(node)
    match node:
        case Num(value=value):
            return number(value)
        case Let(value=value) if is_spelt(node):
            return text(value)
        case Sym(name=name) | Let(name=name):
            return name
        case Call(name=name, args=args):
            return f"{name}({', '.join(map(text, args))})"
        case Where(cond=cond, yes=yes, no=no):
            return f"{_inside(cond, 0)} ? {text(yes)} : {text(no)}"
        case Op(op="neg", args=(only,)):
            return f"-{_inside(only, _BINDS['neg'])}"
        case Op(op=op, args=(left, right)):
            binds = _BINDS[op]
            needed = binds - 1 if _is_free(op, right) else binds
            return f"{_inside(left, binds - 1)} {op} {_inside(right, needed)}"
        case Rows(rows=rows):
            inner = (f"[{', '.join(map(number, row))}]" for row in rows)
            return f"[{', '.join(inner)}]"
        case Cell(table=table, row=row, column=column):
            return f"{text(table)}[{text(row)}][{text(column)}]"
    raise TypeError(f"no text for {node!r}")


def _is_free(op: str, right: Expr) -> bool:
    """Whether ``right`` means the same without brackets; a * (b % c / d) does not."""
    right = _plain(right)
    if not isinstance(right, Op) or (op, right.op) not in _FREE_RIGHT:
        return False
    first = _plain(right.args[0])
    level = isinstance(first, Op) and _BINDS[first.op] == _BINDS[op]
    return not level or _is_free(op, first)


def _inside(node: Expr, outer: int) -> str:
    """``node`` as an operand: in brackets unless it binds tighter than ``outer``."""
    node = _plain(node)
    if isinstance(node, Where):
        binds = _BINDS["?:"]
    elif isinstance(node, Op):
        binds = _BINDS[node.op]
    else:
        return text(node)
    return text(node) if binds > outer else f"({text(node)})"


def _plain(node: Expr) -> Expr:
    """What is written of ``node``: itself, or its value."""
    while isinstance(node, Let) and is_spelt(node):
        node = node.value
    return node


def vector(values: Sequence[Expr]) -> str:
    """A bracketed list."""
    return f"[{', '.join(map(text, values))}]"


def lines(shape: Shape, room: int = WIDTH) -> list[str]:
    """``shape`` as statements, unindented, each in as few lines of ``room`` letters as it takes."""
    match shape:
        case Noted(note=note, child=child):
            return [f"// {note}", *lines(child, room)]
        case Combined(op="union", parts=parts):
            return [line for part in parts for line in lines(part, room)]
        case Combined(op="hull", parts=(only,)):
            return under("hull()", only, room)
        case Combined(op="difference", parts=(whole, *taken)):
            body = _less(whole, taken, room - len(INDENT))
            return _braced("difference()", body, 1 + len(taken), room)
        case Combined(op=op, parts=parts):
            body = [line for p in parts for line in _one(p, room - len(INDENT))]
            return _braced(f"{op}()", body, len(parts), room)
        case Polygon(points=points):
            return hugged("polygon([", [_point(point) for point in points], "]);", room)
        case Circle(radius=radius):
            return [f"circle(r = {text(radius)}, $fn = facets);"]
        case Square(size=size):
            return [f"square({vector(size)});"]
        case Drawn(module=module, args=args, child=None):
            return filled(f"{module.name}(", _named(module, args), ");", room)
        case Drawn(module=module, args=args, child=Shape() as child):
            *head, last = filled(f"{module.name}(", _named(module, args), ")", room)
            return [*head, *under(last, child, room)]
        case Child():
            return ["children();"]
        case Extruded(outline=outline, height=height, centered=centered):
            centre = ", center = true" if centered else ""
            raised = f"linear_extrude(height = {text(height)}{centre}, convexity = 10)"
            return under(raised, outline, room)
        case Revolved(outline=outline):
            return under("rotate_extrude(convexity = 10, $fn = facets)", outline, room)
        case Moved(op=op, by=by, child=child):
            return under(f"{op}({text(by[0]) if len(by) == 1 else vector(by)})", child, room)
        case Repeated(child=Shape() as child):
            return under(f"for ({_range(shape)})", child, room)
        case Chosen(cond=cond, yes=yes, no=no):
            otherwise = under("else", no, room) if no else []
            closed = no is not None and any(isinstance(node, Chosen) for node in inside(yes))
            return [*under(f"if ({text(cond)})", yes, room, closed=closed), *otherwise]
    raise TypeError(f"no text for {shape!r}")


def module(definition: Module, room: int = WIDTH) -> list[str]:
    """A named shape as a module with its comment."""
    values = walk(*(e for shape in inside(definition.body) for e in measures(shape)))
    local = [*assignments(node for node in values if free(node) & set(definition.params))]
    head = filled(f"module {definition.name}(", list(definition.params), ")", room - len(" {"))
    if local or len(head) > 1:
        body = lines(definition.body, room - len(INDENT))
        text_of = [*head[:-1], f"{head[-1]} {{", *indented([*local, *body]), "}"]
    else:
        text_of = under(head[0], definition.body, room)
    return _told(text_of, definition.note, room)


def _told(body: list[str], note: str, room: int) -> list[str]:
    """Lines with what they are: behind the first where there is room, or above it."""
    behind = f"{body[0]}  // {continued(note).removesuffix('.')}"
    if len(behind) <= room and ". " not in note:
        return [behind, *body[1:]]
    return [f"// {note}", *body]


def assignments(
    nodes: Iterable[Expr], given: dict[str, str] | None = None, room: int = INSIDE
) -> Iterator[str]:
    """The named values among ``nodes`` as statements, each with what it is behind or above it.

    Those ``given`` before are left out; the new ones join them. Raises ValueError where one name
    stands for two values.
    """
    given = {} if given is None else given
    for node in nodes:
        if not isinstance(node, Let) or is_spelt(node):
            continue
        value = text(node.value)
        if node.name not in given:
            yield from _assignment(node, value, room)
        elif given[node.name] != value:
            raise ValueError(f"{node.name} is both {given[node.name]} and {value}")
        given[node.name] = value


def _assignment(let: Let, value: str, room: int) -> list[str]:
    statement = f"{let.name} = {value};"
    if isinstance(let.value, Rows) and len(statement) > WIDTH:
        rows = [vector(list(map(Num, row))) for row in let.value.rows]
        return [f"// {continued(let.note)}", *filled(f"{let.name} = [", rows, "];", room)]
    if not let.note:
        return [statement]
    note = f"// {continued(let.note)}"
    fits = len(f"{statement}  {note}") <= room
    return [f"{statement}  {note}"] if fits else [note, statement]


def continued(text: str) -> str:
    """``text`` as it goes on in a line: begun with a small letter, but for an abbreviation.

    >>> continued("Width of a slit"), continued("ISO 273: M3, M4, M5")
    ('width of a slit', 'ISO 273: M3, M4, M5')
    """
    return text if text[1:2].isupper() else f"{text[:1].lower()}{text[1:]}"


def filled(opening: str, items: Sequence[str], closing: str, room: int = WIDTH) -> list[str]:
    """``opening``, comma-separated items and ``closing``: as many items in a line as it takes."""
    flat = f"{opening}{', '.join(items)}{closing}"
    if len(flat) <= room or not items:
        return [flat]
    return [opening, *(f"{INDENT}{row}" for row in packed(items, room - len(INDENT))), closing]


def hugged(opening: str, items: Sequence[str], closing: str, room: int = WIDTH) -> list[str]:
    """The same, with the first items right behind ``opening`` and the last before ``closing``."""
    rows, row = [], f"{opening}{items[0]}"
    for left, item in zip(range(len(items) - 2, -1, -1), items[1:], strict=True):
        longer = f"{row}, {item}"
        if len(longer) + len("," if left else closing) <= room:
            row = longer
        else:
            rows.append(f"{row},")
            row = f"{INDENT}{item}"
    return [*rows, f"{row}{closing}"]


def packed(items: Sequence[str], room: int = WIDTH) -> list[str]:
    """Items with commas between them: as many in a line as it takes."""
    rows = [items[0]]
    for item in items[1:]:
        longer = f"{rows[-1]}, {item}"
        if len(longer) < room:
            rows[-1] = longer
        else:
            rows.append(item)
    return [*(f"{row}," for row in rows[:-1]), rows[-1]]


def _named(module: Module, args: Sequence[Expr]) -> list[str]:
    return [f"{name} = {text(arg)}" for name, arg in zip(module.params, args, strict=True)]


def _range(loop: Repeated) -> str:
    count = loop.count
    last = number(count.value - 1) if isinstance(count, Num) else text(count - 1)
    return f"{loop.index} = [0 : {last}]"


def _point(point: tuple[Expr, ...] | Repeated) -> str:
    if isinstance(point, Repeated):
        assert isinstance(point.child, tuple)
        return f"for ({_range(point)}) {vector(point.child)}"
    return vector(point)


def _one(shape: Shape, room: int) -> list[str]:
    """``shape`` as exactly one operand, as those of a difference or an intersection have to be.

    OpenSCAD counts several statements as several, and an "if" that does not hold as none at all.
    """
    match shape:
        case Combined(op="union", parts=parts) if len(parts) > 1:
            body = lines(shape, room - len(INDENT))
            return _braced("union()", body, len(parts), room)
        case Chosen(no=None):
            return _braced("union()", lines(shape, room - len(INDENT)), 1, room)
        case Noted(note=note, child=child):
            return [f"// {note}", *_one(child, room)]
    return lines(shape, room)


def _less(whole: Shape, taken: Sequence[Shape], room: int) -> list[str]:
    """The operands of a difference: what is whole as one statement, then all that is taken off."""
    if isinstance(whole, Combined) and whole.op == "difference":
        first = _less(whole.parts[0], whole.parts[1:], room)
    else:
        first = _one(whole, room)
    return [*first, *(line for shape in taken for line in lines(shape, room))]


def _braced(head: str, body: list[str], statements: int, room: int) -> list[str]:
    """Statements between braces: in one line where all of them are short."""
    flat = f"{head} {{ {' '.join(body)} }}"
    if len(body) == statements and not _noted(body) and len(flat) <= room:
        return [flat]
    return [f"{head} {{", *indented(body), "}"]


def _noted(body: Iterable[str]) -> bool:
    return any("//" in line for line in body)


def under(head: str, child: Shape, room: int = WIDTH, *, closed: bool = False) -> list[str]:
    """``head`` applied to ``child``: with as much of it in the same line as has room there.

    If ``closed`` the child is put between braces, so that no ``else`` after it can be its own.
    """
    body = lines(child, room - len(INDENT))
    several = len(child.parts) if isinstance(child, Combined) and child.op == "union" else 0
    if several:
        return _braced(head, body, several, room)
    if closed or body[0].startswith("//"):
        return [f"{head} {{", *indented(body), "}"]
    has_else = any(line.startswith("else") for line in body)  # it stands below its own "if"
    if len(f"{head} {body[0]}") <= room and not has_else:
        return [f"{head} {body[0]}", *body[1:]]
    return [head, *indented(body)]


def indented(body: Iterable[str]) -> Iterator[str]:
    """The statements one level further in."""
    return (f"{INDENT}{line}" for line in body)
