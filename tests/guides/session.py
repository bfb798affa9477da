"""A reader who follows one page, block by block, in a copy of the checkout."""

from __future__ import annotations

import contextlib
import functools
import io
import os
import shutil
import sys
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from scadgen.coupons.results import load_results
from scadgen.jobs.job import JobError, load_job
from scadgen.product.reading import load_product
from scadgen.proof.fleet.reading import load_population
from scadgen.sizing.wish import load_wish
from scadgen.strength.materials import load_material
from tests.engine import QUICK, run
from tests.guides.blocks import Block, blocks
from tests.guides.commands import Shell
from tests.guides.lighter import dim, few_sided
from tests.support import ROOT

#: What a checkout holds, of which a reader may use any; pictures and meshes are left out.
_COPIED = ("library", "README.md", "DEVELOPERS.md", "pyproject.toml")
#: What only a reader who writes a family of their own changes; what was compiled of it is there.
_CODE = ("scadgen", "tests")
_BY_HAND = (".toml", ".scad", ".py")
_LEFT_OUT = shutil.ignore_patterns("web", "*.pyc.*")  # these are being written


class PageError(Exception):
    """What a page says does not come true."""


@dataclass
class Session:
    """The state of a reader: where they work, and what their Python knows.

    openscad: whether what needs OpenSCAD is run, too.
    outputs: for each ``text`` block that follows a block that was run, by its line, what came.
    """

    page: str
    folder: Path
    openscad: bool = True
    names: dict[str, Any] = field(default_factory=lambda: {"__name__": "__page__"})
    outputs: dict[int, str] = field(default_factory=dict)

    def follow(self, text: str) -> Iterator[Block]:
        """Do what each block of the page's text says and yield it then. Raises PageError."""
        came: str | None = None
        for block in blocks(text):
            if block.language == "text" and came is not None and not block.remarks:
                self.outputs[block.line] = came
                came = None
            else:
                with dim():
                    came = self._done(block)
            yield block

    def _done(self, block: Block) -> str | None:
        """What running the block printed; None for one that prints nothing."""
        if "not run" in block.remarks:
            return None
        if "file" in block.remarks:
            self._save(block)
        elif "from" in block.remarks:
            self._excerpt(block)
        elif block.language == "sh":
            needs = block.remarks.get("needs") == "openscad"
            return self._shell(block) if self.openscad or not needs else None
        elif block.language == "python":
            return self._python(block)
        if block.language == "toml":
            self._load(block)
        if block.language == "scad" and "from" not in block.remarks and self.openscad:
            self._render(block)
        return None

    def _shell(self, block: Block) -> str:
        status, printed = self._bash.run(block.code)
        wanted = int(block.remarks.get("exits", 0))
        if status != wanted:
            self._fail(block, f"exits {status}, not {wanted}:\n{printed}")
        return printed

    @functools.cached_property
    def _bash(self) -> Shell:
        bin_folder = Path(sys.executable).parent
        environment = {
            "PATH": f"{bin_folder}{os.pathsep}{os.environ['PATH']}",
            "PYTHONPATH": str(self.folder if (self.folder / "scadgen").is_dir() else ROOT),
            "HOME": str(self.folder / "home"),
            "COLUMNS": "80",
            "NO_COLOR": "1",
            "LC_ALL": "C.UTF-8",
            "OPENBLAS_NUM_THREADS": "1",  # see tests/conftest.py
            **QUICK,
        }
        return Shell(self.page, self.folder, environment)

    def _python(self, block: Block) -> str:
        out = io.StringIO()
        code = compile(block.code, f"{self.page}:{block.line}", "exec")
        with contextlib.chdir(self.folder), contextlib.redirect_stdout(out):
            exec(code, self.names)
        return out.getvalue()

    def _save(self, block: Block) -> None:
        name = block.remarks["file"]
        if f"`{name}`" not in block.above:
            self._fail(block, f"the text above does not tell the reader to save it as `{name}`")
        path = self.folder / name
        self._bash.ours &= not name.startswith("scadgen/")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(block.code, encoding="utf-8")

    def _excerpt(self, block: Block) -> None:
        whole = (self.folder / block.remarks["from"]).read_text(encoding="utf-8")
        if block.code not in whole:
            self._fail(block, f"{block.remarks['from']} holds no such lines")

    def _render(self, block: Block) -> None:
        """Draw it with the real OpenSCAD, where the reader would have saved it."""
        path = self.folder / block.remarks.get("file", f"block_{block.line}.scad")
        path.write_text(block.code, encoding="utf-8")
        with few_sided(path, *self.folder.glob("*/*.scad")):
            done = run(path, self.folder)
        if done.code or done.trouble or done.empty:
            self._fail(block, done.messages)

    def _load(self, block: Block) -> None:
        """Read a TOML block as what it is: a mistake in it raises JobError."""
        path = self.folder / block.remarks.get("file", "block.toml")
        path.write_text(block.code, encoding="utf-8")
        refused = block.remarks.get("refused")
        try:
            _reader(tomllib.loads(block.code))(path)
        except JobError as error:
            if error.key != refused:
                raise
        else:
            if refused:
                self._fail(block, "it is not refused")

    def _fail(self, block: Block, words: str) -> None:
        raise PageError(f"{self.page}:{block.line}: {block.first!r}: {words}")


def _reader(found: Mapping[str, Any]) -> Callable[[Path], object]:
    """What reads a TOML file of that content."""
    if "steps" in found:
        return load_results
    if "modulus" in found:
        return load_material
    if "growth" in found:
        return load_population
    if "bodies" in found:
        return load_product
    return load_job if "family" in found and "part" not in found else load_wish


def copy_checkout(folder: Path, page: str) -> Path:
    """A copy of the checkout for a reader of a page's text to work in.

    The code is copied where the page has the reader add to it, and is the checkout's own elsewhere.
    """
    saved = (block.remarks.get("file", "") for block in blocks(page))
    code = _CODE if any(name.startswith(_CODE) for name in saved) else ()
    for name in (*_COPIED, *code):
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=_LEFT_OUT)
        else:
            shutil.copy(source, folder / name)
    (folder / "gallery").mkdir()
    for path in (ROOT / "gallery").iterdir():
        if path.suffix in _BY_HAND:
            shutil.copy(path, folder / "gallery")
    (folder / "home").mkdir()
    return folder
