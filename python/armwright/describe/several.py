"""One number or several, lists of numbers, and points in a plane: readers as Checks.take wants them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from armwright.describe.number_text import DECIMAL_COMMA
from armwright.describe.units import LENGTH, Kind, Measured, VectorOf
from armwright.describe.wrong import Wrong, shown
from armwright.errors import InputError

most_numbers = 200
Numbers = tuple[Measured, ...]


def is_several(value: Any) -> bool:
    """Whether a value is a list, or a text of numbers with commas between them ("1,5 kN" is one number, written with a
    decimal comma, and is refused as such)."""
    if isinstance(value, str):
        return "," in value and not DECIMAL_COMMA.fullmatch(value)
    plain = getattr(value, "magnitude", value)
    return hasattr(plain, "__len__") and getattr(plain, "ndim", 1) > 0


def one_or_two(kind: Kind) -> Callable[[str, Any], Measured | Numbers | None]:
    """A reader of one number, or of two; None stays None."""

    def read(key: str, value: Any) -> Measured | Numbers | None:
        if value is None:
            return None
        return VectorOf(kind, 2).si_value(key, value) if is_several(value) else kind.si_value(key, value)

    return read


def two(value: Any) -> tuple[float, float] | None:
    """What ``one_or_two`` read as two plain numbers; one told holds for both."""
    if value is None:
        return None
    return (float(value[0]), float(value[1])) if isinstance(value, tuple) else (float(value), float(value))


def list_of(kind: Kind, most: int = most_numbers) -> Callable[[str, Any], Numbers]:
    """A reader of one number or more."""

    def read(key: str, value: Any) -> Numbers:
        if not is_several(value):
            return (kind.si_value(key, value),)
        count = value.count(",") + 1 if isinstance(value, str) else len(getattr(value, "magnitude", value))
        if not 1 <= count <= most:
            raise InputError.of(key, f"{count} numbers", f"1 to {most}")
        try:
            return VectorOf(kind, count).from_python(value)
        except Wrong as wrong:
            raise wrong.at(key, value) from None

    return read


def points_in_plane(least: int) -> Callable[[str, Any], tuple[Numbers, ...] | None]:
    """A reader of points x, y (m), at least so many; None stays None."""

    def read(key: str, value: Any) -> tuple[Numbers, ...] | None:
        if value is None:
            return None
        expected = f'{least} or more points, as [["0 mm", "120 mm"], ...]'
        if isinstance(value, str | dict) or not hasattr(value, "__len__") or not least <= len(value) <= most_numbers:
            raise InputError.of(key, shown(value), expected)
        points = tuple(VectorOf(LENGTH, 2).si_value(f"{key}[{i}]", point) for i, point in enumerate(value))
        for i, point in enumerate(points):
            if point in points[:i]:
                raise InputError.of(f"{key}[{i}]", shown(list(map(float, point))), "another place than the others")
        return points

    return read


def no_bare_numbers(kind: Kind, value: Any) -> None:
    """Refuses a number without a unit, anywhere in a value of a file."""
    if isinstance(value, list):
        for item in value:
            no_bare_numbers(kind, item)
    elif not isinstance(value, str):
        kind.from_file(value)
