"""Bands and shares, against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from armwright.designs.plan import unit_samples
from armwright.designs.spread import DISTRIBUTIONS, deviation_of, linear_band, quantiles, shares, uniform_sum

UNIFORM, NORMAL = DISTRIBUTIONS["uniform"], DISTRIBUTIONS["normal"]


def test_one_uniform_number() -> None:
    assert uniform_sum(np.array([2.0]), 0.95) == pytest.approx(1.8)
    assert uniform_sum(np.array([0.0, 0.0]), 0.95) == 0
    assert uniform_sum(np.array([2.0, 0.0, 1e-9]), 0.5) == pytest.approx(0)


def test_two_uniform_numbers() -> None:
    """The triangle of two alike: 1 - F = (s - x)² / (2 s²) with s = 2 a. The trapezium of two unlike, a > b, in its
    falling flank: 1 - F = (a + b - x)² / (8 a b)."""
    assert uniform_sum(np.array([1.0, 1.0]), 0.95) == pytest.approx(2 * (1 - math.sqrt(0.1)), abs=2e-6)
    assert uniform_sum(np.array([0.5, 2.0]), 0.95) == pytest.approx(2.5 - math.sqrt(0.05 * 8), abs=3e-6)
    # in its flat: F = 1/2 + x / (2 a)
    assert uniform_sum(np.array([0.05, 2.0]), 0.95) == pytest.approx(1.8, abs=3e-6)


def test_three_alike() -> None:
    """Irwin-Hall, n = 3, in its last piece: 1 - F = (3 - u)³ / 6 of the sum u of three from 0 to 1."""
    u = 3 - (6 * 0.05) ** (1 / 3)
    assert uniform_sum(np.array([1.0, 1.0, 1.0]), 0.95) == pytest.approx(2 * u - 3, abs=4e-6)


def test_many_are_normal() -> None:
    """The central limit: 60 alike, 95 % at 1.6449 standard deviations (less by the kurtosis, 0.1 %)."""
    spread = np.full(60, 0.3)
    assert uniform_sum(spread, 0.95) == pytest.approx(1.6449 * deviation_of(spread, UNIFORM), rel=2e-3)


def test_bands_by_what_a_tolerance_means() -> None:
    spread = np.array([3.0, 4.0])
    assert deviation_of(spread, NORMAL) == pytest.approx(2.5)
    assert deviation_of(spread, UNIFORM) == pytest.approx(5 / 3**0.5)
    assert linear_band(spread, NORMAL) == pytest.approx(1.6448536269514722 * 2.5)
    assert linear_band(spread, UNIFORM) == uniform_sum(spread, 0.95)


@pytest.mark.parametrize("means", [UNIFORM, NORMAL])
def test_samples_are_spread_as_they_say(means: object) -> None:
    points = means.of_share(unit_samples("sobol", 3, 4096, 1))  # type: ignore[attr-defined]
    assert points.mean(axis=0) == pytest.approx(np.zeros(3), abs=2e-3)
    assert points.std(axis=0) == pytest.approx(np.full(3, means.deviation), rel=2e-3)  # type: ignore[attr-defined]
    within = np.abs(points).max() <= 1
    assert within == (means is UNIFORM)
    if means is NORMAL:  # two standard deviations: 95.45 %
        assert np.mean(np.abs(points) <= 1) == pytest.approx(0.9545, abs=2e-3)


def test_quantiles_of_what_is_known() -> None:
    values = np.concatenate([np.arange(101.0), [np.nan] * 7])
    assert quantiles(values) == pytest.approx((5, 50, 95), abs=0.6)
    assert np.isnan(quantiles(np.array([np.nan]))).all()
    low, middle, high = quantiles(np.array([1.0] * 8 + [np.inf] * 2))
    assert (low, middle, high) == (1, 1, math.inf)


def test_shares_of_a_straight_line() -> None:
    """y = 2 a - 3 b + 0 c of independent numbers of one deviation: shares 4/13, 9/13, 0, and all explained."""
    rows = UNIFORM.of_share(unit_samples("sobol", 3, 1024, 2)) + 5
    found, explained = shares(rows, rows @ np.array([2.0, -3.0, 0.0]) + 7)
    assert found == pytest.approx([4 / 13, 9 / 13, 0], abs=3e-3) and explained == pytest.approx(1)


def test_shares_of_a_curve_say_how_little_they_explain() -> None:
    """y = x² about 0 has no straight part."""
    rows = UNIFORM.of_share(unit_samples("sobol", 2, 1024, 2))
    found, explained = shares(rows, rows[:, 0] ** 2)
    assert explained < 0.01 and found.max() < 0.01


def test_no_spread_or_too_few_have_no_shares() -> None:
    rows = UNIFORM.of_share(unit_samples("sobol", 2, 64, 2))
    few = np.where(np.arange(64) < 3, 1.0, np.nan)
    for values in (np.full(64, 3.0), np.full(64, 3.0) + 1e-14, few, np.full(64, np.inf)):
        found, explained = shares(rows, values)
        assert np.isnan(found).all() and math.isnan(explained)
