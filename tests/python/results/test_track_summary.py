"""The words on tracks: numbers of the data sets, and what cannot be done named."""

from dataclasses import replace

import armwright as aw
from cases.described import positioner


def cell(*points: tuple[float, float]) -> aw.Cell:
    targets = tuple(aw.Target((x, y, 0.0), f"at {x:g}") for x, y in points)
    return aw.Cell(positioner(), aw.Track("x", (0.0, 6.0)), targets=targets)


def test_points_served_from_one_place_need_no_stroke() -> None:
    words = cell((2.0, 0.66), (2.6, 0.66)).track_intervals().armwright.summary()
    assert "2 of 2 work points are served from the track between 0.000 m and 6.000 m" in words
    assert "2 of them from one position" in words and "stroke" not in words.split("\n", 1)[1]


def test_points_apart_need_a_stroke_or_parking() -> None:
    told = cell((0.5, 0.66), (5.5, 0.66), (3.0, 4.0)).track_intervals()
    words = told.armwright.summary()
    assert "at 3: from nowhere" in words
    begin = float(told.stroke_lower[1])
    assert f"all 2 with a stroke of 3.240 m, from {begin:.3f} to {begin + 3.24:.3f} m" in words
    first, second = told.parking_position.values
    assert f"parking only: 2 positions, at {first:.3f} m, {second:.3f} m" in words


def test_nothing_served_is_said() -> None:
    words = cell((3.0, 4.0)).track_intervals().armwright.summary()
    assert "0 of 1 work points" in words and "at 3: from nowhere" in words


def test_worth_of_a_track_in_a_sentence() -> None:
    there = cell((0.5, 0.66), (5.5, 0.66))
    words = there.track_worth([1.0, 4.0, 6.0], prices=aw.TrackPrices(10.0, 5.0, currency="EUR")).armwright.summary()
    assert "A track of 4 m serves 2 of 2 points, against 1 with the base fixed at its best" in words
    assert "beyond 4 m nothing is gained" in words
    assert "4 m (from " in words and "45 EUR" in words and "no track (at " in words
    near = replace(there.description, targets=there.description.targets[:1])
    assert "A track gains nothing here" in aw.Cell.from_description(near).track_worth([1.0]).armwright.summary()
