"""A mechanism: named bodies, the joints between them, and the pieces that leave the bed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.contact import Contact
    from scadgen.mechanism.joint import Joint


@dataclass(frozen=True, eq=False)
class Body:
    """A rigid part of a mechanism. ``name`` is its key, ``title`` what people read.

    ``draw`` gives its solid (mm) as it prints; it is drawn once, and only if it is looked at.
    """

    name: str
    title: str
    draw: Callable[[], Manifold]

    @cached_property
    def solid(self) -> Manifold:
        """Its solid as it prints, mm."""
        return self.draw()


@dataclass(frozen=True, eq=False)
class Piece:
    """What leaves the bed in one piece: a body, or several that a joint fuses by design."""

    title: str
    solid: Manifold
    bodies: tuple[str, ...]

    @property
    def said(self) -> str:
        """Its title in a sentence: a numbered one goes without an article."""
        return self.title if self.title[-1].isdigit() else f"the {self.title}"


@dataclass(frozen=True, eq=False)
class Mechanism:
    """Bodies and the joints between them, drawn as they print.

    name: of what it is, for the verdict. whole: the one piece in which joints fuse their bodies,
    where there is one; fused: further such pieces. loose: names of bodies that are meant to be held
    by nothing. contacts: places in which bodies are meant to touch. order: the pairs of bodies in
    the order in which their joints are told to move, one after another, each left turned; empty for
    one at a time, all others as they print; None for all at once.

    Raises ValueError for a name that is there twice, or not at all.
    """

    name: str
    bodies: tuple[Body, ...]
    joints: tuple[Joint, ...] = ()
    whole: Piece | None = None
    loose: tuple[str, ...] = ()
    contacts: tuple[Contact, ...] = ()
    order: tuple[tuple[str, str], ...] | None = None
    fused: tuple[Piece, ...] = ()

    def __post_init__(self) -> None:
        names = [body.name for body in self.bodies]
        if len(set(names)) < len(names):
            raise ValueError(f"{self.name}: two bodies of one name in {names}; name them apart.")
        told = [*self.loose, *(name for joint in self.joints for name in joint.pair)]
        for name in told:
            if name not in names:
                raise ValueError(f"{self.name}: no body is called {name!r}; there are {names}.")

    def body(self, name: str) -> Body:
        """The body of that name. Raises KeyError for another."""
        return {body.name: body for body in self.bodies}[name]

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """What leaves the bed: pieces of several bodies, then others in the order of the bodies."""
        several = (*((self.whole,) if self.whole else ()), *self.fused)
        fused = {name for piece in several for name in piece.bodies}
        apart = (body for body in self.bodies if body.name not in fused)
        return (*several, *(Piece(body.title, body.solid, (body.name,)) for body in apart))

    @property
    def unheld(self) -> tuple[Body, ...]:
        """The bodies that no joint holds, and of which nobody said that they are loose."""
        held = {name for joint in self.joints for name in joint.pair} | set(self.loose)
        return tuple(body for body in self.bodies if body.name not in held)

    def meant(self, pair: tuple[str, str]) -> tuple[Contact, ...]:
        """The contacts that are meant between two bodies."""
        return tuple(each for each in self.contacts if (each.fixed, each.moving) == pair)

    def carried(self, joint: Joint) -> frozenset[str]:
        """The bodies that move along when one joint moves and all others stay as they are.

        Other joints between the same two bodies move with it. A loop of joints carries the fixed
        body, too: then nothing can move alone.
        """
        return self.reached(joint.moving, joint)

    def reached(self, name: str, without: Joint) -> frozenset[str]:
        """The bodies that hang together with one by joints, but for one pair's joints."""
        links = [other.pair for other in self.joints if set(other.pair) != set(without.pair)]
        reached = {name}
        while True:
            more = {b for pair in links if reached & set(pair) for b in pair} - reached
            if not more:
                return frozenset(reached)
            reached |= more

    def at(self, position: float, joint: Joint | None = None) -> Iterator[tuple[Piece, Manifold]]:
        """Each piece with its solid when a joint, by default the first, has moved to a position.

        What a joint cannot carry stays as it prints.
        """
        joint = joint or next(iter(self.joints), None)
        for piece in self.pieces:
            if joint is None or not position:
                yield piece, piece.solid
            elif joint.fuses and set(joint.pair) <= set(piece.bodies):
                yield piece, joint.bent(position)
            elif not self.moves(piece, joint):
                yield piece, piece.solid
            elif joint.posed and piece.bodies == (joint.moving,):
                yield piece, joint.posed(position)
            else:
                yield piece, joint.moved(piece.solid, position) or piece.solid

    def moves(self, piece: Piece, joint: Joint) -> bool:
        """Whether a joint carries a piece while the body in which it moves stays."""
        return bool(self.carried(joint) & set(piece.bodies)) and joint.fixed not in piece.bodies


def titled(mechanism: Mechanism, names: Iterable[str]) -> str:
    """The titles of some bodies in a row: "body 1 and body 3"."""
    return " and ".join(mechanism.body(name).title for name in names)
