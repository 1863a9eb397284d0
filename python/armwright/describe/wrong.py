"""A value that will not do: what was expected, what may have been meant, and how a message shows it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pydantic_core import PydanticCustomError

from armwright.errors import InputError


class Wrong(Exception):  # noqa: N818  caught in this room and turned into InputError
    """A value that is no such quantity: what was expected, and what may have been meant."""

    def __init__(self, expected: str, meant: str = ""):
        self.expected, self.meant = expected, meant
        super().__init__(expected)

    def at(self, key: str, value: object) -> InputError:
        return InputError.of(key, shown(value), self.expected, self.meant)


def told_to_pydantic(take: Callable[[object], Any]) -> Callable[[Any], Any]:
    """``take``, with Wrong turned into pydantic's error, which problems.py turns into a Problem."""

    def taken(value: Any) -> Any:
        try:
            return take(value)
        except Wrong as wrong:
            raise PydanticCustomError(
                "armwright", "{expected}", {"expected": wrong.expected, "meant": wrong.meant}
            ) from None

    return taken


def shown(value: object, limit: int = 80) -> str:
    """A value as an error message shows it."""
    text = f'"{value}"' if isinstance(value, str) else str(value) if isinstance(value, int | float) else repr(value)
    text = " ".join(text.split())
    return text if len(text) <= limit else text[: limit - 3] + "..."
