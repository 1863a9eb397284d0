"""Files that appear whole or not at all."""

from __future__ import annotations

import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from armwright.errors import InputError


def file_path(path: str | os.PathLike[str], *suffixes: str, example: str = "") -> Path:
    """Refuses, before any work, a path that no file can be written to; with ``suffixes``, a name that ends in none of
    them. ``example``: a name such as is expected."""
    target = Path(path)
    if target.is_dir():
        such = f', such as "{example}"' if example else ""
        raise InputError.of("path", str(target), f"the name of a file{such}{', ' if such else ' and '}not of a folder")
    if suffixes and target.suffix.lower() not in suffixes:
        raise InputError.of("path", str(target), f"a name that ends in {suffixes[0]}", f"{target.stem}{suffixes[0]}")
    if not target.parent.is_dir():
        raise InputError.of("path", str(target), f"a file in a folder that exists: make {target.parent} first")
    return target


@contextmanager
def whole_file(target: Path) -> Iterator[Path]:
    """A name beside ``target`` to write to; it takes the target's place when all is written. What stood there stays
    until then, and whatever ends the writing."""
    part = target.with_name(f".{uuid.uuid4().hex}.part{target.suffix}")
    try:
        yield part
        part.replace(target)
    except OSError as error:
        wanted = f"a folder that can be written to, with room for the file ({error})"
        raise InputError.of("path", str(target), wanted) from error
    finally:
        part.unlink(missing_ok=True)
