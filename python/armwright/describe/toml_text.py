"""TOML text: read with every failure as InputError, and the line on which a key stands."""

from __future__ import annotations

import errno
import re
import stat
import sys
from pathlib import Path
from typing import Any

from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem

if sys.version_info >= (3, 11):
    import tomllib
else:
    import tomli as tomllib  # type: ignore[import-not-found,unused-ignore]

# Tables of which there may be several.
_LISTS = ("target", "fixture", "joint", "move", "motor", "stage", "brake", "counterbalance", "lifting", "service")
_BYTES_LIMIT = 4 * 1024 * 1024
Path_ = tuple[str | int, ...]


def size_of(path: Path) -> int:
    """A file's size in bytes. OSError for what is no plain file: a pipe or a device may have no end, or never begin."""
    known = path.stat()
    if not stat.S_ISREG(known.st_mode):
        raise OSError(errno.EINVAL, "Is a directory" if stat.S_ISDIR(known.st_mode) else "Is a pipe or a device")
    return known.st_size


def read_text(path: Path) -> str:
    """The file's text; InputError if there is none."""
    file = str(path)
    try:
        size = size_of(path)
        data = path.read_bytes() if size <= _BYTES_LIMIT else b""
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError.of("file", reason, "a file that can be read", file=file) from None
    if size > _BYTES_LIMIT:
        raise InputError.of("file", f"{size} bytes", f"a file of at most {_BYTES_LIMIT} bytes", file=file)
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError([Problem("file", "bytes that are not UTF-8", "text in UTF-8", file=file, line=line)]) from None


def parse(text: str, file: str) -> dict[str, Any]:
    """The document; broken syntax as InputError with its line."""
    try:
        document: dict[str, Any] = tomllib.loads(text)
        return document
    except RecursionError:
        raise InputError.of("file", "tables or lists nested too deep", "TOML", file=file) from None
    except ValueError as error:  # tomllib's own error, and int()'s on absurd numbers
        message = str(error)
        match = re.search(r"\s*\(at line (\d+), column \d+\)|\s*\(at end of document\)", message)
        line = int(match[1]) if match and match[1] else (text.count("\n") + 1 if match else None)
        plain = message[: match.start()] if match else message
        twice = re.search(r"Cannot declare \('(\w+)',\) twice", plain)
        meant = f"[[{twice[1]}]], with two brackets at each of them" if twice and twice[1] in _LISTS else ""
        value = f"broken TOML: {shown(plain, 120).strip(chr(34))}"
        raise InputError([Problem("file", value, "TOML syntax", meant, file, line)]) from None


# How a statement may begin; some lines inside long strings look so too, and then the text before them does not parse.
_STATEMENT = re.compile(r"\s*(\[|[A-Za-z0-9_\"'-][^=]*=)")
_PARSES = 300  # at most, for one file: lines are a help, not worth a wait


class Lines:
    """Finds lines by parsing growing beginnings of the text, since TOML readers tell none."""

    def __init__(self, text: str):
        self._lines = text.split("\n")
        self._starts = [number for number, line in enumerate(self._lines) if _STATEMENT.match(line)]
        self._known: dict[int, dict[str, Any] | None] = {}

    def find(self, path: Path_) -> int | None:
        """The 1-based line of the statement in which ``path``, or as much of it as there is, first stands."""
        document = self._beginning(len(self._lines))
        while path and not _has(document, path):
            path = path[:-1]
        if not path:
            return None
        low, high = 0, len(self._starts)  # statements: the path is not in those before low, and in those before high
        while high - low > 1:
            middle = (low + high) // 2
            cut = middle
            while cut > low and self._beginning(self._starts[cut]) is None:
                cut -= 1
            if cut > low and _has(self._beginning(self._starts[cut]), path):
                high = cut
            else:
                low = middle  # where no beginning parses, no statement ends
            if len(self._known) > _PARSES:
                return None
        # The statement begins at or before `low`, after the last beginning that parses.
        while low > 0 and self._beginning(self._starts[low]) is None:
            low -= 1
        return self._starts[low] + 1

    def _beginning(self, count: int) -> dict[str, Any] | None:
        if count not in self._known:
            try:
                self._known[count] = tomllib.loads("\n".join(self._lines[:count]))
            except (ValueError, RecursionError):
                self._known[count] = None
        return self._known[count]


def _has(document: Any, path: Path_) -> bool:
    for step in path:
        known = step in document if isinstance(document, dict) else isinstance(document, list)
        try:
            document = document[step] if known else None
        except (IndexError, TypeError):
            return False
    return document is not None


def key_text(path: Path_) -> str:
    """("joint", 2, "range") as "joint[2].range"."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def key_path(text: str) -> Path_:
    """The reverse of key_text."""
    return tuple(
        int(number) if number else name for name, number in re.findall(r"([^.\[\]]+)(?![^\[]*\])|\[(\d+)\]", text)
    )
