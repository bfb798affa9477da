"""Runs commands in a process that lacks what Python lacks on Windows: names as JSON lines.

Of the standard library's documentation: what it marks "Availability: Unix", and that processes are
only spawned. The library's own modules keep what they were given, so that it works; ours do not.
``python -m tests.strangers.lacking`` reads a list of commands, each a list of words, from its input
and prints a JSON object for each: status, out, err.
"""

from __future__ import annotations

import contextlib
import importlib
import io
import json
import multiprocessing
import os
import signal
import sys
import types

#: What keeps all of it, as it has its own ways on Windows.
LIBRARIES = ("jinja2", "manifold3d", "numpy", "subprocess", "tempfile")
MODULES = ("fcntl", "grp", "pty", "pwd", "resource", "syslog", "termios", "tty")
OF_OS = (
    *("chown", "fchmod", "fork", "forkpty", "getegid", "geteuid", "getgid", "getpgid", "getuid"),
    *("kill", "killpg", "lchown", "mkfifo", "nice", "pread", "pwrite", "sched_getaffinity"),
    *("setpgid", "setsid", "statvfs", "sysconf", "uname", "wait", "wait4"),
)
SIGNALS = ("SIGABRT", "SIGFPE", "SIGILL", "SIGINT", "SIGSEGV", "SIGTERM")


def without(module: types.ModuleType, names: set[str]) -> types.ModuleType:
    """A module as it is, less those names."""
    left = types.ModuleType(module.__name__)
    left.__dict__.update({name: of for name, of in vars(module).items() if name not in names})
    return left


def hide() -> None:
    """Take away what Windows lacks, from all that is imported after this."""
    for name in MODULES:
        sys.modules[name] = None  # type: ignore[assignment]
    lost = {name for name in vars(signal) if name.startswith("SIG") and name not in SIGNALS}
    lost -= {"SIG_DFL", "SIG_IGN"}
    sys.modules["signal"] = without(signal, lost)
    sys.modules["os"] = without(os, set(OF_OS))
    multiprocessing.get_all_start_methods = lambda: ["spawn"]


def answers(commands: list[list[str]]) -> None:
    """Each command, in turn."""
    from scadgen.cli.apart import hear_ends
    from scadgen.cli.main import main

    hear_ends()
    for words in commands:
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                status = main(words)
            except SystemExit as end:
                status = int(end.code or 0)
        told = {"status": status, "out": out.getvalue(), "err": err.getvalue()}
        print(json.dumps(told), flush=True)


if __name__ == "__main__":
    for library in LIBRARIES:
        importlib.import_module(library)
    hide()
    answers(json.load(sys.stdin))
