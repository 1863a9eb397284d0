"""Several aims at once: what no other beats in all of them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SAME = 0.01


def not_dominated(values: Floats) -> NDArray[np.bool_]:
    """Rows (n, k), more being better, that no other row beats: as good in all and better in one. Of equal rows the
    first stays. NaN is worse than anything."""
    told = np.where(np.isnan(values), -np.inf, values)
    order = np.lexsort(tuple(-told[:, k] for k in reversed(range(told.shape[1]))))
    kept: list[int] = []
    for row in order:  # whatever beats a row stands before it
        before = told[kept]
        if not kept or not (before >= told[row]).all(axis=1).any():
            kept.append(int(row))
    out = np.zeros(len(told), dtype=bool)
    out[kept] = True
    return out


def scaled(values: Floats) -> Floats:
    """Each column from 0 (its least finite value) to 1; infinite ones at its ends. A column that varies by less than a
    hundredth of its greatest value is all the same."""
    told = np.where(np.isnan(values), -np.inf, values)
    finite = np.where(np.isfinite(told), told, np.nan)
    known = np.isfinite(told).any(axis=0)
    low, high = np.zeros(told.shape[1]), np.zeros(told.shape[1])
    if known.any():
        low[known], high[known] = np.nanmin(finite[:, known], axis=0), np.nanmax(finite[:, known], axis=0)
    varies = high - low > _SAME * np.maximum(np.abs(high), np.abs(low))
    at = (np.clip(told, low, high) - low) / np.where(varies, high - low, 1.0)
    return np.where(told == np.inf, 1.0, np.where(varies, at, told > -np.inf))


def spread_out(values: Floats, count: int) -> Ints:
    """So many rows, spread over all: the best in each column, then again and again the row farthest from all chosen."""
    at = scaled(values)
    chosen = list(dict.fromkeys(int(np.argmax(at[:, k])) for k in range(at.shape[1])))[:count]
    away = np.min([np.linalg.norm(at - at[row], axis=1) for row in chosen], axis=0)
    while len(chosen) < min(count, len(at)) and away.max() > 0:
        chosen.append(int(np.argmax(away)))
        away = np.minimum(away, np.linalg.norm(at - at[chosen[-1]], axis=1))
    return np.array(chosen, dtype=np.int64)


def balanced(values: Floats) -> int:
    """The row whose worst column, each from 0 to 1 over the rows, is best."""
    at = scaled(values)
    return int(np.lexsort((-at.sum(axis=1), -at.min(axis=1)))[0])
