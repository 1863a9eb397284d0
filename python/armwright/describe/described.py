"""What all description classes share: constant, compared by content, with a digest, copied without cost."""

from __future__ import annotations

import dataclasses
import difflib
import functools
import hashlib
import struct
from collections import Counter
from collections.abc import Callable
from enum import Enum
from typing import Any, TypeVar

import numpy as np

from armwright.describe.toleranced import tolerance_of
from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem

T = TypeVar("T")


class Described:
    """Base of the frozen dataclasses of this room. Equal content makes equal objects and equal digests; fields with
    ``compare=False`` (where something came from, notes) do not count."""

    def digest(self) -> str:
        """sha256, in hex, of the content in its canonical form."""
        known = self.__dict__.get("_digest")
        if known is None:
            parts: list[bytes] = []
            for name in _compared(type(self)):  # type: ignore[arg-type]
                parts.append(f"|{name}=".encode())
                _add_canonical(getattr(self, name), parts)
            known = hashlib.sha256(b"".join(parts)).hexdigest()
            object.__setattr__(self, "_digest", known)
        return str(known)

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        return self is other or (isinstance(other, Described) and self.digest() == other.digest())

    def __hash__(self) -> int:
        return hash(self.digest())

    def __copy__(self: T) -> T:
        return self

    def __deepcopy__(self: T, memo: dict[int, Any]) -> T:
        return self

    def __setstate__(self, state: dict[str, Any]) -> None:
        for name, value in state.items():
            if isinstance(value, np.ndarray):
                value.flags.writeable = False
            object.__setattr__(self, name, value)


@functools.cache
def _compared(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in dataclasses.fields(kind) if field.compare)


def _add_canonical(value: object, parts: list[bytes]) -> None:
    """The content as bytes: each part with its type and length before it, so that no two contents share them. A
    description stands as its digest, which it remembers: a design with one number changed tells only that part anew."""
    if isinstance(value, Described):
        parts.append(f"<{type(value).__name__} {value.digest()}>".encode())
    elif isinstance(value, float):
        parts.append(b"f" + struct.pack("<dd", value + 0.0, getattr(value, "tolerance", 0.0)))
    elif isinstance(value, str) and not isinstance(value, Enum):
        parts.append(f"s{len(value)}:{value}".encode("utf-8", "surrogatepass"))
    elif isinstance(value, np.ndarray):
        parts.append(f"a{value.dtype.str}{value.shape}".encode())
        parts.append((value + 0).tobytes())  # + 0: no negative zeros
        if (tolerance := tolerance_of(value)) is not None:
            parts.append(b"t" + tolerance.tobytes())
    elif isinstance(value, Enum):
        parts.append(f"e{value.value}".encode())
    elif isinstance(value, bool | int | None):
        parts.append(f"i{value}".encode())
    elif isinstance(value, tuple):
        parts.append(f"({len(value)}".encode())
        for item in value:
            _add_canonical(item, parts)
    else:
        raise TypeError(f"no canonical form of {type(value).__name__}")


class Checks:
    """Collects everything wrong with one object, and raises it at once."""

    def __init__(self, owner: object):
        self.owner = owner if isinstance(owner, str) else type(owner).__name__
        self.problems: list[Problem] = []

    def key(self, name: str) -> str:
        return f"{self.owner}.{name}" if self.owner else name

    def wrong(self, name: str, value: object, expected: str, meant: str = "") -> None:
        self.problems.append(Problem(self.key(name), str(value), expected, meant))

    def take(self, name: str, read: Callable[[str, Any], T], value: Any, otherwise: Any) -> T:
        """``read(key, value)``; its problems are kept and ``otherwise`` stands in."""
        try:
            return read(self.key(name), value)
        except InputError as error:
            self.problems.extend(error.problems)
            return otherwise  # type: ignore[no-any-return]

    def word(self, name: str, value: Any, choices: tuple[str, ...], expected: str = "") -> bool:
        """Whether the value is one of the words; if not, that is a problem, told with the nearest."""
        if isinstance(value, str) and value in choices:
            return True
        near = difflib.get_close_matches(value, choices, 1, 0.6) if isinstance(value, str) else []
        self.wrong(name, shown(value), expected or "one of " + ", ".join(choices), f'"{near[0]}"' if near else "")
        return False

    def flag(self, name: str, value: Any) -> bool:
        """The value, if it is True or False; if not, that is a problem."""
        if not isinstance(value, bool | np.bool_):
            self.wrong(name, shown(value), "True or False")
            return False
        return bool(value)

    def done(self) -> None:
        if self.problems:
            raise InputError(self.problems)


def put(owner: object, **values: Any) -> None:
    """Sets fields of a frozen dataclass while it is made."""
    for name, value in values.items():
        if isinstance(value, np.ndarray):
            value.flags.writeable = False
        object.__setattr__(owner, name, value)


def take_all(key: str, value: Any, kind: type) -> tuple[Any, ...]:
    """The items of a list, all of one class."""
    if isinstance(value, kind):
        value = (value,)
    if isinstance(value, str | dict) or not hasattr(value, "__iter__"):
        raise InputError.of(key, shown(value), f"a list of {kind.__name__}")
    items = tuple(value)
    for i, item in enumerate(items):
        if not isinstance(item, kind):
            raise InputError.of(f"{key}[{i}]", shown(item), f"a {kind.__name__}")
    return items


def check_names(checks: Checks, key: str, names: list[str]) -> None:
    for name, count in Counter(names).items():
        if count > 1:
            checks.wrong(key, f"{count} named {shown(name)}", "a different name for each")
