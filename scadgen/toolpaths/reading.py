"""G-code read as layers of lines, one layer at a time.

RepRap, Marlin and Klipper: G0 to G3, G20, G21, G90 to G92, M82, M83, M200, M221, T; others that
move are refused (``commands``). Source: RepRap wiki "G-code" and Marlin's documentation (from
memory).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from scadgen.tables.documents import JobError
from scadgen.toolpaths.arcs import chords
from scadgen.toolpaths.blocks import Piece, pieces
from scadgen.toolpaths.commands import CURVES, ENDING, MODAL, SHIFTS, UNFOLLOWED, shifts, word_of
from scadgen.toolpaths.gathering import Gathered
from scadgen.toolpaths.lines import Laid
from scadgen.toolpaths.roles import role_of
from scadgen.toolpaths.settings import Settings, area_of_filament, settings_of

INCH = 25.4
#: Heights nearer to each other than this, mm, are the same.
LEVEL = 1e-4
#: What is laid below this, mm, may be a line that cleans the nozzle before the print starts lower.
PURGED = 1.0
#: Layers that a program may count and then leave out, as nothing in them is as wide as a line.
EMPTY = 1
_WORD = re.compile(rb"([A-Za-z])\s*([-+]?(?:\d+\.?\d*|\.\d+))")
_COMMAND = re.compile(rb"\s*(?:N\d+\s*)?([GMTgmt]\d+(?:\.\d+)?)(.*)", re.DOTALL)
_REMARK = re.compile(rb"\([^)]*\)")
_LAYER = re.compile(rb";\s*LAYER:-?\d+|;\s*(?:LAYER_CHANGE|CHANGE_LAYER)")


def laid_layers(path: Path, filament: float | None = None) -> Iterator[Laid]:
    """The layers of a file, from the bed up.

    filament: its diameter, mm, where the file tells none. Raises JobError, before or on the way,
    for a file that ends too early or that cannot be laid as layers.
    """
    settings = settings_of(path)
    _refuse_cut_off(path, settings)
    yield from _Reader(path, settings, filament).layers()


@dataclass
class _Reader:
    path: Path
    settings: Settings
    filament: float | None
    at: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])
    moved: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])  # by G92, mm
    e: float = 0.0
    unit: float = 1.0
    relative: bool = False
    relative_e: bool = False
    tool: int = 0
    volumetric: bool = False
    flow: float = 1.0
    seen: int = 0  # layers that comments count
    line: int = 0
    begun: bool = False  # whether plastic was laid
    ended: str = ""  # by which command
    drawn_back: float = 0.0  # of the filament, in units of E

    def __post_init__(self) -> None:
        self.gathered = Gathered(self.settings.rectangular)
        self._section = self._filament_section()

    def layers(self) -> Iterator[Laid]:
        first = True
        for piece in pieces(self.path):
            self.line, raw = piece.number, piece.text
            if piece.lines > 1:
                ready = self._run(piece)
            elif raw[:3] in (b"G1 ", b"G0 "):
                ready = self._quick(raw)
            elif raw[:1] == b";":
                ready = None
                self._comment(raw)
            else:
                ready = self._slow(raw)
            if ready is not None and not self._purging(ready, first):
                first = False
                yield ready
        rest = self.gathered.taken()
        if rest is not None:
            yield rest
        count = self.settings.layers
        if count is not None and self.seen and self.seen < count - EMPTY:
            raise _cut_off(self.path, f"it has {self.seen} of the {count} layers that it tells of")
        if first and rest is None:
            raise JobError(f"{self.path}: no plastic is laid in it; it must be the G-code of FDM.")

    def _purging(self, done: Laid, first: bool) -> bool:
        """Whether a layer was laid before the print began below it; refuses one that goes down."""
        if self.at[2] > done.z - LEVEL:
            return False
        if first and done.z <= PURGED:
            self.gathered.below = 0.0
            return True
        words = f"line {self.line} goes down from z = {done.z:.3g} to {self.at[2]:.3g} mm to print"
        rule = "objects printed one after another are not covered. Print them layer by layer"
        raise JobError(f"{self.path}: {words}; {rule}.")

    def _run(self, piece: Piece) -> Laid | None:
        """Plain moves that lay plastic, all at once; or one by one where some are none."""
        import numpy as np

        moves = piece.moves
        if self.unit != 1:
            moves *= self.unit
        points, pushed = np.empty((piece.lines + 1, 2)), moves[:, 2]
        points[0] = self.at[:2]
        np.add(moves[:, :2], self.moved[:2], out=points[1:])
        if not self.relative_e:
            pushed = pushed.copy()
            pushed[1:] -= moves[:-1, 2]
            pushed[0] -= self.e
        still = (points[1:] == points[:-1]).all(axis=1).any()
        if self.relative or still or pushed.min() <= 0:
            return self._one_by_one(piece)
        if piece.remark:
            self.gathered.remark(piece.remark.partition(b";")[2].strip())
        done = self._ended_below()
        self.drawn_back = 0.0
        self.gathered.add_run(points, pushed * self._volume_of_e(), piece.number)
        self.at = [*points[-1].tolist(), self.at[2]]
        self.e = self.e + float(pushed.sum()) if self.relative_e else float(moves[-1, 2])
        return done

    def _one_by_one(self, piece: Piece) -> Laid | None:
        done = None
        for number, raw in enumerate(piece.text.splitlines(keepends=True), piece.number):
            self.line = number
            done = self._quick(raw) or done
        return done

    def _quick(self, raw: bytes) -> Laid | None:
        """A straight move written as all programs do: words apart by blanks."""
        words, _, remark = raw.partition(b";")
        x = y = z = e = None
        try:
            for word in words.split()[1:]:
                letter = word[0]
                if letter == 88:
                    x = float(word[1:])
                elif letter == 89:
                    y = float(word[1:])
                elif letter == 69:
                    e = float(word[1:])
                elif letter == 90:
                    z = float(word[1:])
                elif letter > 90 or letter == 71:  # small letters, another G
                    return self._slow(raw)
        except ValueError:
            return self._slow(raw)
        if remark and e is not None:
            self.gathered.remark(remark.strip())
        return self._move(x, y, z, e)

    def _move(
        self, x: float | None, y: float | None, z: float | None, e: float | None
    ) -> Laid | None:
        at, before = self.at, self.at
        if x is not None or y is not None or z is not None:
            at = self.at = [
                old if new is None else self._placed(axis, old, new)
                for axis, (old, new) in enumerate(zip(before, (x, y, z), strict=True))
            ]
        pushed = 0.0
        if e is not None:
            e *= self.unit
            pushed = e if self.relative_e else e - self.e
            self.e += pushed
        if pushed <= 0 or (at[0] == before[0] and at[1] == before[1]):
            if pushed:
                self._still(pushed)
            if at is not before:
                self.gathered.broken = True
            return None
        if abs(at[2] - before[2]) > LEVEL:
            raise self._rises()
        return self._lay((before[0], before[1]), (at[0], at[1]), pushed)

    def _placed(self, axis: int, old: float, new: float) -> float:
        if self.relative:
            return old + new * self.unit
        return new * self.unit + self.moved[axis]

    def _lay(
        self, start: tuple[float, float], end: tuple[float, float], pushed: float
    ) -> Laid | None:
        done = self._ended_below()
        self.drawn_back = 0.0
        self.gathered.add(start, end, pushed * self._volume_of_e(), self.line)
        return done

    def _still(self, pushed: float) -> None:
        """Filament that is drawn back, or pushed while the nozzle stands."""
        self.drawn_back -= pushed
        if self.drawn_back < 0:
            if self.begun:
                volume = -self.drawn_back * self._volume_of_e()
                self.gathered.stand((self.at[0], self.at[1]), volume, self.line)
            self.drawn_back = 0.0

    def _ended_below(self) -> Laid | None:
        """The layer below, if what is laid now begins a new one."""
        gathered, z = self.gathered, self.at[2]
        done = gathered.taken() if gathered.any and abs(z - gathered.z) > LEVEL else None
        gathered.z = z
        if not gathered.width and self._section is None:
            raise self._unknown_width()
        if self.ended:
            words = f"line {self.line} lays plastic after {self.ended} has ended the print"
            raise JobError(f"{self.path}: {words}. Take out what follows it, or that command.")
        self.begun = True
        return done

    def _volume_of_e(self) -> float:
        return self.flow * (1.0 if self.volumetric else self._section or 0.0)

    def _comment(self, raw: bytes) -> None:
        if raw[:6] == b";TYPE:" or raw[:10] == b"; FEATURE:":
            self.gathered.role = role_of(raw.partition(b":")[2].decode("utf-8", "replace").strip())
        elif raw[:7] == b";WIDTH:" or raw[:13] == b"; LINE_WIDTH:":
            self.gathered.width = self._told(raw)
        elif raw[:8] == b";HEIGHT:" or raw[:15] == b"; LAYER_HEIGHT:":
            self.gathered.height = self._told(raw)
        elif _LAYER.match(raw):
            self.seen += 1

    def _told(self, raw: bytes) -> float:
        try:
            value = float(raw.partition(b":")[2])
        except ValueError:
            value = math.nan
        if not 0 < value < 10:
            text = raw.decode("utf-8", "replace").strip()
            raise JobError(f"{self.path}: line {self.line}: {text}; it must be above 0, in mm.")
        return value

    def _slow(self, raw: bytes) -> Laid | None:
        code, _, remark = raw.partition(b";")
        found = _COMMAND.match(_REMARK.sub(b"", code).partition(b"*")[0])
        if found is None:
            if MODAL.match(code):
                raise self._unread("a move without a command (G1)")
            self._word(code)
            return None
        command = found[1].decode().upper()
        words = {w[1].decode().upper(): float(w[2]) for w in _WORD.finditer(found[2])}
        whole, _, part = command[1:].partition(".")
        command = command[0] + str(int(whole)) + (f".{part}" if part.strip("0") else "")
        if command[0] != "M" and "G" in words:
            raise self._unread("two commands in one line")
        if remark and "E" in words:
            self.gathered.remark(remark.strip())
        if command in ("G0", "G1"):
            return self._move(words.get("X"), words.get("Y"), words.get("Z"), words.get("E"))
        if command in ("G2", "G3"):
            return self._arc(words, command == "G2")
        self._set(command, words)
        return None

    def _arc(self, words: dict[str, float], clockwise: bool) -> Laid | None:
        old = self.at
        new = [
            self._placed(axis, old[axis], words[letter]) if letter in words else old[axis]
            for axis, letter in enumerate("XYZ")
        ]
        pushed = 0.0
        if "E" in words:
            e = words["E"] * self.unit
            pushed = e if self.relative_e else e - self.e
            self.e += pushed
        scaled = {letter: words[letter] * self.unit for letter in "IJR" if letter in words}
        try:
            points = chords((old[0], old[1]), (new[0], new[1]), scaled, clockwise)
        except ValueError as error:
            raise JobError(f"{self.path}: line {self.line}: {error}.") from None
        self.at = new
        if pushed <= 0:
            self._still(pushed)
            self.gathered.broken = True
            return None
        if abs(new[2] - old[2]) > LEVEL:
            raise self._rises()
        done, here = None, (old[0], old[1])
        for there in points:
            ready = self._lay(here, there, pushed / len(points))
            done, here = done or ready, there
        return done

    def _set(self, command: str, words: dict[str, float]) -> None:
        """A command that changes how the following moves are read."""
        if command in ("G20", "G21"):
            self.unit = INCH if command == "G20" else 1.0
        elif command in ("G90", "G91"):
            self.relative = command == "G91"
            if not self.settings.own_e:
                self.relative_e = self.relative
        elif command in ("M82", "M83"):
            self.relative_e = command == "M83"
        elif command == "G92":
            self._reset(words)
        elif command in ("G18", "G19"):
            raise JobError(f"{self.path}: line {self.line}: {command}; arcs must lie level (G17).")
        elif command == "G28":
            axes = [axis for axis, letter in enumerate("XYZ") if letter in words] or [0, 1, 2]
            self.at = [0.0 if axis in axes else old for axis, old in enumerate(self.at)]
        elif command == "M200":
            self.volumetric = words.get("D", 1.0) > 0
        elif command == "M221":
            self.flow = words.get("S", 100 * self.flow) / 100
        elif command in UNFOLLOWED or command.partition(".")[0] in UNFOLLOWED:
            raise JobError(f"{self.path}: line {self.line}: {command}; {CURVES}.")
        elif shifts(command, frozenset(words)):
            self._refuse_shift(command)
        elif command in ENDING:
            self.ended = self.ended or command if self.begun else ""
        elif command[0] == "T":
            self.tool = int(command[1:])
            self._section = self._filament_section()

    def _word(self, code: bytes) -> None:
        """A command that is a word."""
        shift, end, word = word_of(code)
        if shift:
            self._refuse_shift(word)
        elif end and self.begun:
            self.ended = self.ended or word

    def _refuse_shift(self, command: str) -> None:
        if self.begun:
            raise JobError(f"{self.path}: line {self.line}: {command}; {SHIFTS}.")

    def _reset(self, words: dict[str, float]) -> None:
        for axis, letter in enumerate("XYZ"):
            if letter in words:
                self.moved[axis] = self.at[axis] - words[letter] * self.unit
        if "E" in words or not any(letter in words for letter in "XYZ"):
            self.e = words.get("E", 0.0) * self.unit

    def _filament_section(self) -> float | None:
        told = self.settings.filaments
        diameter = self.filament
        if diameter is None and told:
            diameter = told[min(self.tool, len(told) - 1)]
        if self.settings.flag("use_volumetric_e"):
            return 1.0
        return None if diameter is None else area_of_filament(diameter)

    def _rises(self) -> JobError:
        words = f"line {self.line} rises while it lays plastic"
        return JobError(f"{self.path}: {words}; it must be printed in level layers, not as a vase.")

    def _unread(self, what: str) -> JobError:
        return JobError(f"{self.path}: line {self.line}: {what}; each needs a line of its own.")

    def _unknown_width(self) -> JobError:
        words = f"line {self.line}: nothing tells how wide its lines are"
        rule = "there must be ;WIDTH: comments, or the diameter of the filament"
        return JobError(f"{self.path}: {words}; {rule}. This works: --filament 1.75.")


def _refuse_cut_off(path: Path, settings: Settings) -> None:
    """Raise JobError where the end of a file is not what its program writes there."""
    with path.open("rb") as file:
        if not path.stat().st_size:
            raise JobError(f"{path}: it is empty.")
        file.seek(-1, 2)
        if file.read(1) not in b"\n\r":
            raise _cut_off(path, "its last line has no end")
    maker = settings.generator.lower()
    if "prusaslicer" in maker and settings.said.get("prusaslicer_config") != "end":
        raise _cut_off(path, "the settings that PrusaSlicer writes at its end are not there")
    if maker.startswith("slic3r") and "layer_height" not in settings.said:
        raise _cut_off(path, "the settings that Slic3r writes at its end are not there")


def _cut_off(path: Path, why: str) -> JobError:
    return JobError(f"{path}: it is cut off: {why}. Write it again.")
