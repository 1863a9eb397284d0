from __future__ import annotations

import pytest

import armwright as aw
from armwright.errors import InputError
from cases.described import positioner, track_cell

POINTS = [aw.Target.pointing((x, 0.45, 0.4), "down", f"point {i}") for i, x in enumerate((-0.5, 1.5, 9.0))]


def test_stroke_and_its_price_are_those_of_the_intervals() -> None:
    cell = track_cell(targets=POINTS)
    told = cell.track_intervals()
    length = float(told.stroke_length[int(told.served.sum()) - 1])
    asked = aw.ask.stroke().ask(cell)
    assert asked.value == length > 0 and asked.where == f"{int(told.served.sum())} of 3 points"
    assert aw.ask.stroke(["point 0"]).ask(cell).value == 0
    prices = aw.TrackPrices(per_metre=1000, fixed=50, motor=20, currency="EUR")
    cost = aw.ask.track_cost(prices)
    assert cost.unit == "EUR" and cost.better == "less"
    assert cost.ask(cell).value == pytest.approx(70 + 1000 * length)
    assert aw.ask.track_cost(prices, ["point 0"]).ask(cell).value == 0  # no stroke, no track


def test_no_answer_without_a_track_or_a_point_served() -> None:
    assert aw.ask.stroke().ask(aw.Cell(positioner(), targets=POINTS)).reason == "no track"
    far = track_cell(targets=aw.Target.pointing((0, 9, 0), "down", "far"))
    assert aw.ask.stroke().ask(far).reason == "no point is served"
    assert not aw.ask.track_cost(aw.TrackPrices(1)).ask(far).known
    with pytest.raises(InputError, match="TrackPrices"):
        aw.ask.track_cost(800)  # type: ignore[arg-type]
    assert "pont" in aw.ask.stroke(["pont 0"]).ask(far).reason
