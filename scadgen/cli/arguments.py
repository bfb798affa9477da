"""What argparse lacks: it tells no arguments, and takes lists such as -90,90 for options."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

#: A number below 0, or numbers of which the first is: -0.5, -90,90.
_BELOW_ZERO = re.compile(r"-[\d.][\d.,eE+-]*")


def joined(given: Sequence[str]) -> list[str]:
    """The words of a command line, ``--swing -90,90`` made ``--swing=-90,90``.

    argparse knows plain negative numbers as values; it takes a list of them for an option.
    """
    words: list[str] = []
    for index, word in enumerate(given):
        before = words[-1] if words else ""
        if before == "--":  # whatever follows is no option
            return words + list(given[index:])
        if re.fullmatch(r"--[^=]+", before) and _BELOW_ZERO.fullmatch(word):
            words[-1] = f"{before}={word}"
        else:
            words.append(word)
    return words


class Parser(argparse.ArgumentParser):
    """A parser that tells its own arguments and those of its commands.

    Those of a group are not told: the flags that exclude each other.
    """

    def __init__(self, *args: Any, **options: Any) -> None:
        self.arguments: list[argparse.Action] = []
        self.commands: Mapping[str, Parser] = {}
        super().__init__(*args, **options)

    def add_argument(self, *args: Any, **options: Any) -> argparse.Action:
        """As argparse's; the argument is told, too."""
        action = super().add_argument(*args, **options)
        self.arguments.append(action)
        return action

    def everything(self) -> Iterator[argparse.Action]:
        """Every argument of its own and of the commands below it."""
        yield from self.arguments
        for command in self.commands.values():
            yield from command.everything()
