"""How wide the columns of a printed table are, by what stands in them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

PAGE = 66.0  # em of the table's letters between the margins of a printed page
_LETTER, _HEAD = 0.55, 0.62  # em, of a letter on average, and of a bold one
_GAP = 0.9  # em, left and right of an entry
_ASIDE = 22.0  # em, that a column of words has at first, where there is more in it
_BREAK = re.compile(r"[\s\u2013]+")


@dataclass(frozen=True)
class Words:
    """What stands in a column, under its ``head``. ``whole``: entries that stay on one line, as numbers do; ``broken``:
    those that may go over several."""

    head: str
    whole: Sequence[str]
    broken: Sequence[str]


def widths(columns: Sequence[Words]) -> list[float]:
    """Of each column, em: what its entries need, and its head on three lines, where all find room; else columns of long
    entries give way, down to their longest word. No word is broken before all have done so."""
    whole = [_length([*column.whole, *column.broken]) + _GAP for column in columns]
    least = [
        max(_length(column.whole), _length(_words(column.broken)), _length(column.head.split(), _HEAD)) + _GAP
        for column in columns
    ]
    liked = [
        max(low, min(full, _ASIDE), _length([column.head], _HEAD) / 3 + _GAP)
        for low, full, column in zip(least, whole, columns, strict=True)
    ]
    if sum(least) >= PAGE:
        return [round(width * PAGE / sum(least), 2) for width in least]
    if sum(liked) > PAGE:
        return _between(least, liked)
    return _between(liked, [max(like, full) for like, full in zip(liked, whole, strict=True)])


def _between(low: list[float], high: list[float]) -> list[float]:
    """As far from low to high as there is room."""
    more = sum(high) - sum(low)
    share = min(1.0, (PAGE - sum(low)) / more) if more > 0 else 0.0
    return [round(a + share * (b - a), 2) for a, b in zip(low, high, strict=True)]


def _length(texts: Iterable[str], letter: float = _LETTER) -> float:
    return letter * max((len(text) for text in texts), default=0)


def _words(texts: Iterable[str]) -> list[str]:
    return [word for text in texts for word in _BREAK.split(text)]
