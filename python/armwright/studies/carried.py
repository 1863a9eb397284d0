"""Rows that each carry a load of their own, as plain numbers that travel to other processes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from armwright import _core
from armwright.studies.run import Floats, Ints

COLUMNS = 13  # of a load: mass, centre, tensor


def load_row(load: _core.model.Inertia) -> Floats:
    """A load in the last joint frame: mass kg, centre m, tensor kg m², (13,)."""
    return np.concatenate([[load.mass], load.centre, np.ravel(load.tensor)])


def load_table(loads: Sequence[_core.model.Inertia], of_row: Any) -> Floats:
    """The load of every row, (rows, 13), by its place in ``loads``; -1: nothing."""
    table = np.array([*(load_row(load) for load in loads), np.zeros(COLUMNS)])
    return table[np.asarray(of_row, dtype=np.int64)]


def by_load(carried: Floats, answer: Callable[[_core.model.Inertia, Ints], Floats]) -> Floats:
    """``answer(load, rows)`` of the rows that carry each load, put together in the order of the rows. ``rows``: their
    places."""
    loads, which = np.unique(carried, axis=0, return_inverse=True)
    out: Floats | None = None
    for k, load in enumerate(loads):
        rows = np.flatnonzero(which.ravel() == k)
        some = answer(_core.model.Inertia(float(load[0]), load[1:4], load[4:].reshape(3, 3)), rows)
        if out is None:
            out = np.empty((len(carried), *some.shape[1:]))
        out[rows] = some
    return np.empty(0) if out is None else out
