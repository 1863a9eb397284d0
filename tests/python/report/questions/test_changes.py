"""What the section on changes says is what changes holds."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.changes import CHANGES
from cases.reported import column, numbers, of, small_cell, table


def test_gains_and_alternatives() -> None:
    ranked = small_cell().changes(
        ["tool.mass"], {"tool.mass": ["0.4 kg", "3 kg"]}, prices={"0.4 kg": 70.0}, currency="EUR"
    )
    section = CHANGES.section(of({"changes": ranked}))
    by = list(ranked["answer"].values).index(ranked.attrs["ranked_by"])
    made = table(section, "alternatives")
    order = np.argsort(ranked["rank"].values)
    assert column(made, "alternative") == list(ranked["alternative"].values[order])
    assert np.array_equal(numbers(made, "price (EUR)"), ranked["price"].values[order], equal_nan=True)
    assert np.allclose(numbers(made, "better by"), ranked["alternative_gain"].values[order, 0], equal_nan=True)
    gains = table(section, f"gains_{by + 1}")
    assert numbers(gains, "gains") == [ranked["gain"].values[0, by]] and column(gains, "better") == ["less"]
    told = table(section, "changes_answers")
    assert np.allclose(numbers(told, "value"), ranked["answer_value"].values, equal_nan=True)
    first = int(np.argmin(ranked["rank"].values))
    assert str(ranked["alternative"].values[first]) in section.headline and section.good is None
