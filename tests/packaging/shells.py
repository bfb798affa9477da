"""What real shells complete: each is started anew with the script and asked about one line."""

from __future__ import annotations

import os
import pty
import select
import shlex
import subprocess
from pathlib import Path

PATIENCE = 60  # s, for a shell that says nothing


def bash(script: Path, line: str, folder: Path) -> list[str]:
    """The words that bash offers for the last word of a line."""
    *before, last = line.split(" ")
    words = shlex.join([*before, last])
    ask = f"""
        source {shlex.quote(str(script))}
        COMP_WORDS=({words}) COMP_CWORD={len(before)} COMP_LINE={shlex.quote(line)}
        complete -p scadgen >/dev/null || exit 3
        _shtab_scadgen
        printf '%s\\n' "${{COMPREPLY[@]}}"
    """
    return _said(["bash", "--norc", "--noprofile", "-uc", ask], folder)


def fish(script: Path, line: str, folder: Path) -> list[str]:
    """The words that fish offers for the last word of a line."""
    ask = f"source {shlex.quote(str(script))}; complete -C {shlex.quote(line)}"
    return [said.partition("\t")[0] for said in _said(["fish", "--no-config", "-c", ask], folder)]


def zsh(script: Path, line: str, folder: Path) -> str:
    """The line as zsh leaves it after one press of the tab key."""
    setup = f"""
        PS1=; unsetopt zle_bracketed_paste beep; autoload -U compinit; compinit -D -u
        eval "$(cat {shlex.quote(str(script))})"
        say() {{ print -r -- "<<$BUFFER>>"; exit }}
        zle -N say; bindkey '^X' say; bindkey '^I' complete-word
        print ready
    """
    master, slave = pty.openpty()
    environment = {**os.environ, "TERM": "dumb", "HOME": str(folder)}
    shell = subprocess.Popen(
        ["zsh", "-f", "-i"], stdin=slave, stdout=slave, stderr=slave, cwd=folder, env=environment
    )
    os.close(slave)
    try:
        os.write(master, (setup.replace("\n", ";") + "\n").encode())
        said = _read(master, "ready\r\n")
        os.write(master, f"{line}\t\x18".encode())
        said = _read(master, ">>")
        return said[said.rindex("<<") + 2 : said.rindex(">>")]
    finally:
        os.close(master)
        shell.wait(PATIENCE)


def _said(command: list[str], folder: Path) -> list[str]:
    environment = {**os.environ, "HOME": str(folder)}
    done = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, ""), done
    return done.stdout.splitlines()


def _read(master: int, end: str) -> str:
    """What comes out of the terminal until ``end`` does."""
    said = ""
    while end not in said:
        assert select.select([master], [], [], PATIENCE)[0], f"no {end!r} in {said!r}"
        said += os.read(master, 4096).decode(errors="replace")
    return said
