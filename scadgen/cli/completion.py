"""Completion of the command line in shells, read from its parser."""

from __future__ import annotations

from typing import Any

#: The shells, and where a person puts the script or how it is read at every start.
SHELLS = {
    "bash": 'eval "$(scadgen completion bash)" in ~/.bashrc',
    "zsh": 'eval "$(scadgen completion zsh)" in ~/.zshrc, after compinit',
    "fish": "scadgen completion fish > ~/.config/fish/completions/scadgen.fish",
}


def completion_script(shell: str) -> str:
    """The script that makes ``shell`` (one of SHELLS) complete commands, options and arguments.

    Arguments are known by how the help names them: FAMILY by the families that there are, DIR by
    folders, FILE and JOB.toml by files.
    """
    import shtab

    from scadgen.cli.main import parser
    from scadgen.hinge.family import all_families

    whole = parser()
    kinds: dict[str, Any] = {"DIR": shtab.DIRECTORY, "FILE": shtab.FILE, "JOB.toml": shtab.FILE}
    for action in whole.everything():
        if action.metavar == "FAMILY":
            action.choices = list(all_families())
        elif action.metavar in kinds:
            action.complete = kinds[str(action.metavar)]  # type: ignore[attr-defined]
    return str(shtab.complete(whole, shell))
