"""Intervals along the track and what a longer one brings: what is drawn is the data sets' numbers."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases.described import positioner

INCH = 0.0254


@pytest.fixture(scope="module")
def cell():
    points = tuple(aw.Target((x, 0.66, 0.0), f"at {x:g}") for x in (0.5, 3.0, 5.5))
    return aw.Cell(
        positioner(), aw.Track("x", (0.0, 6.0)), targets=(*points, aw.Target((3.0, 4.0, 0.0), "too far"))
    )


@pytest.fixture(scope="module")
def intervals(cell):
    return cell.track_intervals()


@pytest.fixture(scope="module")
def worth(cell):
    return cell.track_worth(prices=aw.TrackPrices(100.0, currency="EUR"))


@pytest.mark.parametrize(("units", "length"), [("si", 1.0), ("us", INCH)])
def test_bars_are_the_intervals(intervals, units, length):
    ax = pictures.track_intervals(intervals, units=units)
    bars = [patch for patch in ax.patches if patch.get_gid() == "interval"]
    assert len(bars) == int(np.isfinite(intervals.lower.values).sum())
    ends = sorted((bar.get_x() * length, (bar.get_x() + bar.get_width()) * length) for bar in bars)
    known = np.isfinite(intervals.lower.values)
    wanted = sorted(zip(intervals.lower.values[known], intervals.upper.values[known], strict=True))
    assert np.array(ends) == pytest.approx(np.array(wanted))
    (shaded,) = [patch for patch in ax.patches if patch.get_gid() == "stroke"]
    assert shaded.get_width() * length == pytest.approx(float(intervals.stroke_length[2]))
    assert [line.get_ydata()[0] for line in ax.lines if line.get_gid() == "not served"] == [3]
    marks = sorted(line.get_xdata()[0] * length for line in ax.lines if line.get_gid() == "parking")
    assert marks == pytest.approx(sorted(intervals.parking_position.values))
    assert ax.get_xlabel() == f"position along the track ({'m' if units == 'si' else 'in'})"
    assert "3 of 4 points" in next(text.get_text() for text in ax.texts if text.get_gid() == "note")


def test_a_stroke_of_ones_own_is_shaded_and_what_it_misses_is_pale(intervals):
    ax = pictures.track_intervals(intervals, stroke=(2.9, 3.1))
    bars = [patch for patch in ax.patches if patch.get_gid() == "interval"]
    assert sorted(bar.get_alpha() for bar in bars) == [0.45, 0.45, 1.0]
    assert "serving 1" in next(text.get_text() for text in ax.texts if text.get_gid() == "note")


def test_measures_are_the_numbers(worth):
    axes = pictures.track_worth(worth)
    drawn = {line.get_gid(): line for ax in axes for line in ax.lines}
    assert drawn["served_count"].get_ydata() == pytest.approx(worth.served_count.values[1:])
    assert drawn["cost"].get_xdata() == pytest.approx(worth.stroke.values[1:])
    assert drawn["moment"].get_ydata() == pytest.approx(worth.moment.values[1:])
    assert drawn["knee"].get_xdata()[0] == pytest.approx(worth.attrs["knee_stroke"])
    assert drawn["last gain"].get_xdata()[0] == pytest.approx(worth.attrs["last_gain_stroke"])
    labels = [ax.get_ylabel() for ax in axes]
    assert "cost (EUR)" in labels and "cycle (s)" not in labels and "moment, at rest (N·m)" in labels
    hollow = [line for line in axes[0].lines if line.get_gid() == "no track"]
    assert hollow[0].get_ydata() == pytest.approx(worth.served_count.values[:1])


def test_other_results_are_refused(intervals, worth):
    with pytest.raises(InputError, match="expected a result of track_intervals"):
        pictures.track_intervals(worth)
    with pytest.raises(InputError, match="expected a result of track_worth"):
        pictures.track_worth(intervals)
