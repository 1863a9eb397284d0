"""What the section on the track says is what track_worth and track_intervals hold."""

from __future__ import annotations

import numpy as np

from armwright.report.document import Verdict
from armwright.report.questions.track import TRACK
from cases.reported import FAR, NEAR, column, numbers, of, small_results, table


def test_strokes_and_intervals() -> None:
    results = small_results()
    worth, intervals = results["track_worth"], results["track_intervals"]
    section = TRACK.section(of(results, "track_worth", "track_intervals"))
    rows = table(section, "track_worth")
    assert numbers(rows, "stroke") == list(worth["stroke"].values)
    assert numbers(rows, "points served") == list(worth["served_count"].values)
    assert np.array_equal(numbers(rows, "moment at rest"), worth["moment"].values, equal_nan=True)
    made = table(section, "track_intervals")
    known = ~np.isnan(intervals["lower"].values)
    assert [value for value in numbers(made, "from") if not np.isnan(value)] == list(intervals["lower"].values[known])
    assert "no position" in column(made, "from") and column(made, "work point")[0] == NEAR
    served = table(section, "served_by_stroke")
    assert [head.words for head in served.columns] == ["stroke", NEAR, FAR]
    for row, good in zip(served.rows, worth["served"].values, strict=True):
        assert [entry.good for entry in row[1:] if isinstance(entry, Verdict)] == list(good)
    assert section.headline.startswith("A track ") and len(section.pictures) == 2


def test_intervals_alone() -> None:
    section = TRACK.section(of(small_results(), "track_intervals"))
    assert section.headline.startswith("1 of 2 work points are served from the track between")
