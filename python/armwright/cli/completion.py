"""The command completion: a script by which a shell completes commands, options and files."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from armwright.errors import InputError

SHELLS = ("bash", "zsh", "fish")


def add(command: Any, parser: argparse.ArgumentParser) -> None:
    """The command and its options; ``parser`` is what is completed."""
    def completion(options: argparse.Namespace) -> None:
        print(script(parser, options.shell))

    sub = command("completion", completion, "A script by which a shell completes commands, options and files with the "
                  "tab key.", file=False)  # fmt: skip
    sub.add_argument("shell", choices=SHELLS, help="which shell")


def script(parser: argparse.ArgumentParser, shell: str) -> str:
    """The script's text. Needs shtab, which is installed with armwright."""
    try:
        import shtab
    except ModuleNotFoundError:
        raise InputError.of("shtab", "no such package", "shtab in the environment: pip install shtab") from None
    if shell not in shtab.SUPPORTED_SHELLS:
        newer = f"shtab that knows {shell}: pip install --upgrade shtab"
        raise InputError.of("shtab", f"one for {', '.join(shtab.SUPPORTED_SHELLS)}", newer)
    for action in _actions(parser):
        if action.type is Path:
            is_folder = action.dest == "folder" or (action.dest == "output" and action.default is not None)
            action.complete = shtab.DIRECTORY if is_folder else shtab.FILE  # type: ignore[attr-defined]
    return str(shtab.complete(parser, shell=shell))


def _actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Of a parser and of those below it."""
    for action in parser._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for sub in action.choices.values():
                yield from _actions(sub)
