from __future__ import annotations

from typing import Any

import pytest

import armwright as aw


def test_no_track_costs_nothing() -> None:
    prices = aw.TrackPrices(800.0, 1200.0, 400.0)
    assert prices.of(0.0) == 0.0
    assert prices.of(1.5) == 1200.0 + 400.0 + 1.5 * 800.0


@pytest.mark.parametrize("value", [-1, "5 EUR", float("nan"), True])
def test_prices_are_amounts(value: Any) -> None:
    with pytest.raises(aw.InputError, match=r"^TrackPrices.per_metre: got"):
        aw.TrackPrices(value)


def test_a_currency_is_a_text() -> None:
    with pytest.raises(aw.InputError, match=r"^TrackPrices.currency: got 3"):
        aw.TrackPrices(currency=3)  # type: ignore[arg-type]
