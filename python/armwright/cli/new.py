"""The command new: a small cell to start from, in files with a comment at every key."""

from __future__ import annotations

import argparse
from importlib import resources
from pathlib import Path
from typing import Any

from armwright.cli.common import make_folder
from armwright.errors import InputError
from armwright.results.whole_file import whole_file

FILES = ("cell.toml", "arm.toml", "parts.toml", "cycle.toml")


def add(command: Any) -> None:
    """The command and its options."""
    sub = command("new", new, "A small cell to start from, in files with comments, with invented figures.", file=False)
    sub.add_argument("folder", type=Path, help="where; no file that is there is written over")


def new(options: argparse.Namespace) -> None:
    there = [name for name in FILES if (options.folder / name).exists()]
    if there:
        found = f"{options.folder} with {', '.join(there)} in it"
        raise InputError.of("folder", found, "a folder without them, as a new one: nothing is written over")
    make_folder(options.folder)
    starter = resources.files("armwright.cli") / "starter"
    for name in FILES:
        with whole_file(options.folder / name) as part:
            part.write_text((starter / name).read_text(encoding="utf-8"), encoding="utf-8")
        print(f"wrote {options.folder / name}")
    print("All figures in them are invented: put your own in their place.")
