"""Things that stand over each other in a plan, told together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

_MOST = 6  # names


def stacks(low: NDArray[Any], high: NDArray[Any], share: float = 0.5) -> list[list[int]]:
    """Boxes of a plan (n, 2) by which of them cover each other, as lists of their numbers, in order: two are together
    where their common part is at least ``share`` of the smaller one, and what is together with one is so with all."""
    group = list(range(len(low)))
    for i in range(len(low)):
        for j in range(i):
            sides = np.minimum(high[i], high[j]) - np.maximum(low[i], low[j])
            smaller = min(np.prod(high[i] - low[i]), np.prod(high[j] - low[j]))
            if (sides >= 0).all() and np.prod(sides) >= share * smaller:
                group = [group[i] if one == group[j] else one for one in group]
    return [[i for i, one in enumerate(group) if one == first] for first in dict.fromkeys(group)]


def told_together(names: Sequence[str]) -> str:
    """Names that begin with the same words, told once.

    >>> from armwright.pictures.stacks import told_together
    >>> told_together(["rack, shelf 1", "rack, shelf 2", "rack, back"])
    'rack: shelf 1, shelf 2, back'
    """
    if len(names) == 1:
        return names[0]
    words = [name.split() for name in names]
    same = 0
    while all(len(one) > same + 1 and one[same] == words[0][same] for one in words):
        same += 1
    rest = [" ".join(one[same:]) for one in words]
    if len(rest) > _MOST:
        rest = [*rest[: _MOST - 1], f"{len(rest) - _MOST + 1} others"]
    start = " ".join(words[0][:same]).rstrip(",:")
    return (f"{start}: " if start else "") + ", ".join(rest)
