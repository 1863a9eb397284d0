"""What tolerances mean, and what becomes of them: bands of sums, of samples, and shares of the variance."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BAND = (0.05, 0.95)
_NORMAL = 1.6448536269514722  # standard deviations from the middle to 95 % of a normal distribution
_POINTS = 8001  # of a sum's distribution function


@dataclass(frozen=True)
class Distribution:
    """What a tolerance says. ``deviation``: the standard deviation of a tolerance of 1."""

    name: str
    words: str
    deviation: float

    def of_share(self, share: Floats) -> Any:
        """Where, in tolerances from the middle, that share of all cases is below."""
        if self.name == "uniform":
            return 2 * share - 1
        from scipy.special import ndtri  # type: ignore[import-untyped, unused-ignore]

        # A share of exactly 0 would be infinitely far; a sequence may begin there.
        return self.deviation * ndtri(np.clip(share, 1e-12, 1 - 1e-12))


DISTRIBUTIONS = {
    "uniform": Distribution(
        "uniform", "a tolerance is the whole range, every value in it as likely as another (uniform)", 1 / math.sqrt(3)
    ),
    "normal": Distribution("normal", "a tolerance is two standard deviations (normal): 95 % are within", 0.5),
}


def deviation_of(spread: Floats, means: Distribution) -> float:
    """Standard deviation of a sum of independent numbers, each with that tolerance times its derivative."""
    return float(means.deviation * math.sqrt(float((spread**2).sum())))


def linear_band(spread: Floats, means: Distribution) -> float:
    """How far from the middle 5 % and 95 % of such a sum are: it is symmetric."""
    if means.name == "normal":
        return _NORMAL * deviation_of(spread, means)
    return uniform_sum(spread, BAND[1])


def uniform_sum(halves: Floats, share: float) -> float:
    """Below which value that share (a half or more) of all cases is of a sum of independent uniform numbers, each from
    minus to plus its own half width: the distribution function of the widest, averaged over each of the others in turn,
    on a grid. Good to 1e-6 of the sum's half width."""
    wide = np.sort(np.abs(halves))[::-1]
    total = float(wide.sum())
    if total == 0:
        return 0.0
    wide = wide[wide > 1e-6 * total]
    x = np.linspace(-total, total, _POINTS)
    below = np.clip((x + wide[0]) / (2 * wide[0]), 0.0, 1.0)
    step = x[1] - x[0]
    for half in wide[1:]:
        area = np.concatenate([[0.0], np.cumsum((below[1:] + below[:-1]) / 2 * step)])

        def upto(at: Floats, area: Floats = area) -> Floats:
            """The integral of the distribution function: beyond the grid it is 0, or 1."""
            return np.asarray(np.interp(at, x, area) + np.maximum(at - total, 0.0))

        below = (upto(x + half) - upto(x - half)) / (2 * half)
    return float(np.interp(share, below, x))


def quantiles(values: Floats) -> tuple[float, float, float]:
    """5 %, the median and 95 % of those that are known."""
    known = values[~np.isnan(values)]
    if not known.size:
        return math.nan, math.nan, math.nan
    method: Any = "hazen" if np.isfinite(known).all() else "inverted_cdf"  # infinite ones are not mixed with others
    low, middle, high = np.quantile(known, [BAND[0], 0.5, BAND[1]], method=method)
    return float(low), float(middle), float(high)


def shares(rows: Floats, values: Floats, noise: float = 1e-12) -> tuple[Floats, float]:
    """Of each number the share of the values' variance, by the squared standardised coefficients of a linear fit; and
    what the fit explains. NaN where there is no spread (but ``noise``, a share of the values), or too few values."""
    count = rows.shape[1]
    known = np.isfinite(values)
    x, y = rows[known], values[known]
    nothing = np.full(count, np.nan), math.nan
    if len(y) < count + 2:
        return nothing
    x, y = x - x.mean(axis=0), y - y.mean()
    all_of_it = float(y @ y)
    if all_of_it <= len(y) * (10 * noise * float(np.abs(values[known]).max())) ** 2:
        return nothing
    size = np.sqrt((x**2).sum(axis=0))
    scaled = x / np.where(size > 0, size, 1.0)
    coefficients = np.linalg.lstsq(scaled, y, rcond=None)[0]
    left = y - scaled @ coefficients
    return coefficients**2 / all_of_it, float(np.clip(1 - (left @ left) / all_of_it, 0.0, 1.0))
