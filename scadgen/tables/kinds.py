"""Kinds of values: what a key may hold, and the refusal of what it may not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol, runtime_checkable

from scadgen.tables.documents import JobError
from scadgen.tables.hints import closest, did_you_mean
from scadgen.tables.limits import Limits, is_number
from scadgen.text.quoting import toml

#: Longest text, in characters.
LONGEST = 10_000


class Kind(Protocol):
    """A kind of value. ``key`` is the dotted key that a message names."""

    def rule(self, key: str) -> str:
        """What must stand there, as it ends a message: "it must be ...", without a full stop."""

    def read(self, key: str, value: Any) -> Any:
        """The value as the package uses it. Raises JobError for one that is not of the kind."""


@runtime_checkable
class Described(Protocol):
    """A kind that says itself what a JSON Schema says of it."""

    def schema(self) -> dict[str, Any]:
        """What it accepts, as a JSON Schema."""


def refusal(kind: Kind, key: str, value: object, hint: str = "") -> JobError:
    """The error for a value that is not of a kind; ``hint``: whole sentences for its end."""
    return JobError(f"{key} = {toml(value)}; {kind.rule(key)}. {hint}".rstrip(), key)


@dataclass(frozen=True)
class Number:
    """A number within limits."""

    limits: Limits

    def rule(self, key: str) -> str:
        return f"it must be a number, {self.limits.extent}"

    def read(self, key: str, value: Any) -> float:
        if not self.limits.accepts(value):
            raise JobError(self.limits.refusal(key, value), key)
        return int(value) if self.limits.whole else float(value)


class AnyNumber(Number):
    """A number whose range depends on other values: whoever knows these holds it against that."""

    def read(self, key: str, value: Any) -> float:
        return value if is_number(value) else super().read(key, value)


@dataclass(frozen=True)
class Text:
    """Text: ``what`` it must be in words; not blank if ``filled``; printable if on ``one_line``."""

    what: str = "text in quotes"
    filled: bool = False
    one_line: bool = False

    def rule(self, key: str) -> str:
        return f"it must be {self.what}"

    def read(self, key: str, value: Any) -> str:
        if not isinstance(value, str) or (self.filled and not value.strip()):
            raise refusal(self, key, value)
        if self.one_line and not value.isprintable():
            raise refusal(self, key, value)
        if len(value) > LONGEST:
            words = f"{len(value)} characters; it must be at most {LONGEST}"
            raise JobError(f"{key}: {words}. Put the rest into a file of its own.", key)
        return value


@dataclass(frozen=True)
class OneOf:
    """One of a few words; ``note`` explains them."""

    options: Sequence[str]
    note: str = ""

    def rule(self, key: str) -> str:
        return f"it must be one of {', '.join(self.options)}{self.note and ': '}{self.note}"

    def read(self, key: str, value: Any) -> str:
        if isinstance(value, str) and value in self.options:
            return value
        rule = self.rule(key)
        if question := did_you_mean(closest(str(value), self.options)):
            rule = f"{question} {rule[0].upper()}{rule[1:]}"
        raise JobError(f"{key} = {toml(value)}; {rule}.", key)


@dataclass(frozen=True)
class ListOf:
    """A list of one or more values of a kind: ``what`` it must be in words; ``usual`` works."""

    kind: Kind
    what: str
    usual: Sequence[Any] = ()

    def rule(self, key: str) -> str:
        return f"it must be {self.what}"

    def read(self, key: str, value: Any) -> tuple[Any, ...]:
        if not isinstance(value, list) or not value:
            hint = f"This works: {toml(list(self.usual))}." if self.usual else ""
            raise refusal(self, key, value, hint)
        return tuple(self.kind.read(key, inner) for inner in value)


class AnyTable:
    """A table whose keys are not declared, because they depend on the rest of the file."""

    def rule(self, key: str) -> str:
        return f"it must be a table, headed by [{key}]"

    def read(self, key: str, value: Any) -> dict[str, Any]:
        if not isinstance(value, dict):
            raise JobError(f"{key}: {self.rule(key)}.", key)
        return value
