"""How the items of a study are cut into pieces, and their answers put together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright.studies import run
from armwright.studies.run import Arrays

Compute = Callable[[NDArray[Any], int, "run.Report | None"], Arrays]
"""compute(rows, threads, report): the rows (m, ...) are those of the piece's items; arrays of (m, ...) come back. It
uses that many threads of the core (0: all), and raises Cancelled if ``report`` says so."""

piece_seconds = 1.0  # about as long as a piece takes: starting one costs some ms, losing one costs its time
_growth = 16  # a piece has at most so many times the items of the largest one that was measured
_most_bytes = 64_000_000  # of a piece's answer


def items_of(start: int, stop: int, count: int) -> NDArray[np.int64]:
    """The items of a piece. Neighbours are spread over all items (by the golden section), so that each piece is a fair
    sample: pieces of one size take about one time, and progress is told by the time that is left."""
    stride = max(1, round(count * 0.6180339887498949))
    while np.gcd(stride, count) != 1:
        stride += 1
    return (np.arange(start, stop, dtype=np.int64) * stride) % count


class Task(NamedTuple):
    """What is done to every item."""

    compute: Compute
    prepare: Callable[..., Compute]
    given: tuple[Any, ...]
    rows: NDArray[Any]

    def part(self, start: int, stop: int) -> NDArray[Any]:
        return self.rows[items_of(start, stop, len(self.rows))]


class Whole:
    """The answers so far, each where it belongs. What is of different length from item to item, a piece fills up with
    NaN (or 0) to the length of its own longest, and the whole to that of all."""

    def __init__(self, count: int):
        self.arrays: Arrays = {}
        self.count, self.done = count, 0

    def put(self, start: int, stop: int, arrays: Arrays) -> None:
        items = items_of(start, stop, self.count)
        for name, part in arrays.items():
            array = self.arrays.get(name)
            if array is None:
                array = np.empty((self.count, *part.shape[1:]), part.dtype)
            self.arrays[name] = array = _widened(array, part)
            array[items] = _widened(part, array)
        self.done += stop - start


def stacked(items: Sequence[Arrays]) -> Arrays:
    """The arrays of several items, (1, ...) each, put together; filled up as ``Whole`` does."""
    arrays: Arrays = {}
    for name in items[0]:
        widest = items[0][name]
        for item in items[1:]:
            widest = _widened(widest, item[name])
        arrays[name] = np.concatenate([_widened(item[name], widest) for item in items])
    return arrays


def _widened(array: NDArray[Any], other: NDArray[Any]) -> NDArray[Any]:
    """The array with room for what the other has: longer words, and longer axes after the first."""
    kind = np.promote_types(array.dtype, other.dtype)
    shape = (len(array), *map(max, array.shape[1:], other.shape[1:]))
    if shape == array.shape:
        return array.astype(kind, copy=False)
    wide = np.full(shape, np.nan if kind.kind == "f" else "" if kind.kind == "U" else 0, kind)
    wide[tuple(map(slice, array.shape))] = array
    return wide


class Cutter:
    """Cuts what is left into pieces of about ``piece_seconds``, by the rate of those that are done; smaller ones at the
    end, so that all workers end together."""

    def __init__(self, gaps: list[tuple[int, int]]):
        self.gaps = [gap for gap in reversed(gaps) if gap[0] < gap[1]]
        self.left = sum(stop - start for start, stop in gaps)
        self.items, self.seconds, self.largest, self.bytes_each = 0, 0.0, 0, 0.0

    def learn(self, items: int, seconds: float, arrays: Arrays) -> None:
        self.items, self.seconds, self.largest = self.items + items, self.seconds + seconds, max(self.largest, items)
        self.bytes_each = sum(array.nbytes for array in arrays.values()) / items

    def next(self, workers: int) -> tuple[int, int]:
        size = 1.0
        if self.items:
            size = piece_seconds * self.items / max(self.seconds, 1e-9)
            size = min(size, max(0.2 * size, self.left / (2 * workers)), _most_bytes / max(self.bytes_each, 1))
        start, stop = self.gaps.pop()
        end = min(stop, start + max(1, int(min(size, _growth * max(self.largest, 1 / _growth)))))
        if end < stop:
            self.gaps.append((end, stop))
        self.left -= end - start
        return start, end


def go_on(report: run.Report | None, done: int, total: int) -> None:
    answer = None if report is None else report(done, total)
    run.finished(answer is None or bool(answer))
