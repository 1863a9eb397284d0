"""Small work for tests of pieces, importable by workers; and what tells two results apart."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import xarray as xr

import armwright as aw

Arrays = dict[str, Any]
Compute = Callable[[Any, int, Any], Arrays]


def squares(seconds: float = 0.0) -> Compute:
    """What depends on the row alone, of every kind of number, and words of many lengths."""

    def compute(rows: Any, threads: int, report: Any) -> Arrays:
        time.sleep(seconds * len(rows))
        return {
            "square": rows**2,
            "odd": rows % 2 == 1,
            "root": np.where(rows % 5 == 0, np.nan, np.sqrt(rows)),
            "word": np.array(["w" * int(row % 7) for row in rows]),
            "table": np.stack([rows, -rows], axis=1).astype(np.int8),
            "nothing": np.empty((len(rows), 0)),
        }

    return compute


def refusing(at: int) -> Compute:
    def compute(rows: Any, threads: int, report: Any) -> Arrays:
        if at in rows:
            raise aw.InputError.of("joint", "row " + str(at), "another row")
        return {"row": rows}

    return compute


def dying(at: int, times: str) -> Compute:
    """Kills its own process at a row, while the file ``times`` is there."""

    def compute(rows: Any, threads: int, report: Any) -> Arrays:
        time.sleep(0.01)
        if at in rows and os.path.exists(times):
            os.unlink(times)
            os.kill(os.getpid(), signal.SIGKILL)
        return {"row": rows}

    return compute


def waiting(seconds: float) -> Compute:
    """As the core does: a look at ``report`` now and then."""

    def compute(rows: Any, threads: int, report: Any) -> Arrays:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            time.sleep(0.02)
            if report is not None and report(0, 1) is False:
                raise aw.Cancelled("stopped")
        return {"row": rows}

    return compute


def assert_same_bits(a: xr.Dataset, b: xr.Dataset) -> None:
    assert a.attrs == b.attrs
    assert set(a.variables) == set(b.variables)
    for name in a.variables:
        assert_same_array(a[name].values, b[name].values)


def assert_same_array(x: Any, y: Any) -> None:
    assert x.dtype == y.dtype and x.shape == y.shape
    assert x.tobytes() == y.tobytes()
