"""Writing where a maker may have edited what was written before: no edit is ever lost.

A file that is still as written is replaced. One that was edited, or that scadgen never wrote,
stays, and the new one is put beside it (``lid.scad``, ``lid.new.scad``). Meshes go with the text of
their name: where that stays, they stay. An edited file that is replaced because somebody says so is
put beside the new one (``lid.old.scad``).
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path

from scadgen.hinge.family import Hinge
from scadgen.keeping import record
from scadgen.keeping.customizer import carried, family_of
from scadgen.keeping.differences import has_all, three_way
from scadgen.keeping.files import WriteError, check_names, only_writer, put
from scadgen.keeping.fingerprint import is_as_written, stated, unsealed
from scadgen.keeping.record import Record, Version, text_of


@dataclass(frozen=True)
class Kept:
    """An edited file that stayed as it is.

    ``beside``: where the new one was put, None if that brings nothing new; ``ours``: whether
    scadgen wrote the file before it was edited; ``difference``: in words, empty for binary files;
    ``follows``: the edited text that a mesh stayed with, which was not edited itself.
    """

    path: Path
    beside: Path | None
    ours: bool
    difference: str
    follows: str = ""


@dataclass(frozen=True)
class Replaced:
    """An edited file that was replaced because somebody said so, and where it is now."""

    path: Path
    backup: Path


@dataclass(frozen=True)
class Written:
    """What was done: ``paths`` that were written, offers beside edited files among them."""

    paths: list[Path]
    kept: list[Kept]
    replaced: list[Replaced] = field(default_factory=list)


class ValueNotKept(ValueError):  # noqa: N818 - a refusal, told in words
    """An edited value that can't be carried over; nothing was changed."""


def write_keeping(
    folder: str | Path,
    files: Mapping[str, bytes],
    *,
    accept: Collection[str] = (),
    keep_values: bool = False,
) -> Written:
    """Write the named files into ``folder``, all or none, and keep what somebody has edited.

    Files named by ``accept`` are replaced even so, and put beside the new ones. With
    ``keep_values``, what was set in the Customizer section of an edited file is carried over; where
    nothing else was edited the file is then replaced. Raises WriteError, and ValueNotKept where
    such a value makes no sound hinge; nothing is changed then.
    """
    folder = Path(folder)
    check_names(folder, files)
    with only_writer(folder):
        return _write(folder, files, accept, keep_values)


def _write(
    folder: Path, files: Mapping[str, bytes], accept: Collection[str], keep_values: bool
) -> Written:
    old = record.load(folder)
    texts = {
        name: _step(folder, old, name, data, name in accept, keep_values)
        for name, data in files.items()
    }
    steps = [_with_text(folder, old, step, texts, accept) for step in texts.items()]
    backups = {step.backup: step.was for step in steps if step.backup}
    check_names(folder, backups)
    data = backups | {step.name: step.data for step in steps if step.name}
    known = {name: kept for name, kept in old.files.items() if (folder / name).exists()}
    during = known | {step.name: (*step.before, *step.after) for step in steps if step.name}
    after = known | {step.name: step.after for step in steps if step.name}
    written = put(folder, {record.NAME: Record(during).to_bytes()} | data)
    with suppress(WriteError):  # the record knows too much then, which does no harm
        put(folder, {record.NAME: Record(after).to_bytes()})
    for name, step in zip(files, steps, strict=True):
        offer = folder / _offered(name, "new")
        if step.name != offer.name and offer.name in old.files and _is_ours(old, offer):
            with suppress(OSError):  # an offer that no longer stands
                offer.unlink()
    replaced = [Replaced(folder / s.name, folder / s.backup) for s in steps if s.backup]
    paths = written[1 + len(backups) :]
    return Written(paths, [step.kept for step in steps if step.kept], replaced)


@dataclass(frozen=True)
class _Step:
    """One file: where its data goes (nowhere: ""), and what is kept.

    For the record: the versions that may be in place ``before`` it is, and those ``after``. An
    edited file that is replaced goes to ``backup`` as it ``was``.
    """

    name: str
    data: bytes
    before: tuple[Version, ...]
    after: tuple[Version, ...]
    kept: Kept | None = None
    backup: str = ""
    was: bytes = b""


#: Endings of files that are drawn from a text of the same stem.
_DRAWN = (".stl", ".3mf")


def _with_text(
    folder: Path,
    old: Record,
    planned: tuple[str, _Step],
    steps: Mapping[str, _Step],
    accept: Collection[str],
) -> _Step:
    """The step of a file; a mesh is only offered where the text of its name stays as edited."""
    name, step = planned
    text = Path(name).with_suffix(".scad").as_posix()
    leader = steps.get(text) if name.endswith(_DRAWN) else None
    stays = leader is not None and leader.kept is not None and name not in accept
    if not stays or step.kept or step.data == _bytes(folder / name):
        return step
    offer = _offer(folder, old, name, step.data, nothing_new=False)
    return replace(offer, kept=offer.kept and replace(offer.kept, follows=text))


def _step(
    folder: Path, old: Record, name: str, data: bytes, accepted: bool, keep_values: bool
) -> _Step:
    path = folder / name
    there = _bytes(path)
    put = _Step(name, data, _before(old, name, there), (Version.of(data),))
    if there is None or _as_written(old, there):
        return put
    if accepted:
        same = unsealed(text_of(there) or "") == unsealed(text_of(data) or "")
        if there == data or (same and text_of(there) is not None):
            return put
        backup = next(place for place in _places(name, "old") if not _is_there(folder / place))
        return replace(put, backup=backup, was=there)
    edited, new = text_of(there), text_of(data)
    if edited is None or new is None:
        return _offer(folder, old, name, data, old.files.get(name) == put.after)
    base = old.base(name, edited)
    cls = family_of(new)
    if keep_values and cls:
        new, whole = _carried(path, cls, base, edited, new)
        if whole:
            return replace(put, data=new.encode())
    if unsealed(edited) == unsealed(data.decode()):
        return put
    nothing_new = unsealed(edited) == unsealed(new) or (
        base is not None and has_all(base, edited, new)
    )
    difference = three_way(path, base, edited, new)
    step = _offer(folder, old, name, new.encode(), nothing_new, difference)
    return replace(step, after=tuple(dict.fromkeys((*step.after, *put.after))))


def _offer(
    folder: Path, old: Record, name: str, data: bytes, nothing_new: bool, difference: str = ""
) -> _Step:
    """Keep the file and put the new one beside it, if it brings anything."""
    there = _bytes(folder / name) or b""
    ours = name in old.files or any(stated(text_of(there) or ""))
    if nothing_new:
        return _Step("", b"", (), (), Kept(folder / name, None, ours, difference))
    beside = next(place for place in _places(name, "new") if _is_free(old, folder / place))
    before = _before(old, beside, _bytes(folder / beside))
    kept = Kept(folder / name, folder / beside, ours, difference)
    return _Step(beside, data, before, (Version.of(data),), kept)


def _carried(
    path: Path, cls: type[Hinge], base: str | None, edited: str, new: str
) -> tuple[str, bool]:
    try:
        result = carried(cls, base, edited, new)
    except ValueError as error:
        raise ValueNotKept(f"{path}: {error} Nothing was changed.") from None
    return result.text, result.whole


def _before(old: Record, name: str, there: bytes | None) -> tuple[Version, ...]:
    """What may be in place until a file is replaced: itself, or what it was before its edits."""
    if there is None:
        return ()
    return (Version.of(there),) if _as_written(old, there) else old.files.get(name, ())


def _as_written(old: Record, data: bytes) -> bool:
    """Whether a file is as it was written. A text with its line is judged by that alone."""
    text = text_of(data)
    if text is not None and any(stated(text)):
        return is_as_written(text)
    return old.has(data)


def _is_free(old: Record, path: Path) -> bool:
    return not _is_there(path) or _is_ours(old, path)


def _is_there(path: Path) -> bool:
    return path.exists() or path.is_symlink()


def _is_ours(old: Record, offer: Path) -> bool:
    """Whether an offer is as it was put there, with kept values in it or without."""
    data = _bytes(offer)
    return data is not None and (_as_written(old, data) or old.has(data))


def _places(name: str, what: str) -> Iterator[str]:
    return (_offered(name, f"{what}{k if k > 1 else ''}") for k in itertools.count(1))


def is_backup(path: Path) -> bool:
    """Whether a name is of the form that replaced files are put beside the new ones by."""
    return re.fullmatch(r".*\.old\d*", path.stem) is not None


def _offered(name: str, what: str) -> str:
    path = Path(name)
    return path.with_name(f"{path.stem}.{what}{path.suffix}").as_posix()


def _bytes(path: Path) -> bytes | None:
    try:
        return path.read_bytes() if path.is_file() else None
    except OSError as error:
        raise WriteError(path, error.strerror or str(error)) from error
