"""What the section on switches and safeguards says is what both results hold."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.guarding import GUARDING
from cases.reported import numbers, of, small_results, table


def test_ends_and_distances() -> None:
    results = small_results()
    switches, separation = results["switches"], results["separation"]
    section = GUARDING.section(of(results, "switches", "separation"))
    rows = table(section, "switches")
    for words, variable in (("soft limit", "soft_limit"), ("limit switch", "limit_switch"), ("hard stop", "hard_stop")):
        assert np.array_equal(numbers(rows, words), switches[variable].values.ravel(), equal_nan=True)
    made = table(section, "safeguards")
    assert numbers(made, "distance") == list(separation["distance"].values) and "ISO 13855" in made.note
    limited = np.isfinite(switches["hard_stop"].values).all(axis=1)
    stops = np.isfinite(switches["soft_limit"].values).all(axis=1)
    assert section.good is bool(not (limited & ~stops).any())
    assert [picture.name for picture in section.pictures] == ["switches"]
    assert switches.attrs["caution"] in section.cautions


def test_an_axis_that_does_not_stop() -> None:
    switches = small_results()["switches"].copy(deep=True)
    switches["soft_limit"][1] = np.nan
    section = GUARDING.section(of({"switches": switches}))
    assert section.good is False and str(switches["joint"].values[1]) in section.headline
    assert "NO STOP within the range" in section.headline
