"""What the section on a failing supply says is what holding, stop and stop_table hold."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.failure import FAILURE
from cases.reported import column, numbers, of, small_cell, small_results, table


def test_holding_and_stops() -> None:
    results = small_results()
    holding, stops = results["holding"], results["stop_table"]
    section = FAILURE.section(of(results, "holding", "stop_table"))
    assert section.good is bool(holding["holds"].values.all())
    rows = table(section, "holding")
    assert numbers(rows, "at worst, proven") == list(holding["torque_bound"].values)
    assert np.array_equal(numbers(rows, "factor"), holding["factor"].values, equal_nan=True)
    made = table(section, "stops")
    assert len(made.rows) == stops["stop_time"].size and made.shown == stops.sizes["axis"] * stops.sizes["category"]
    assert sorted(numbers(made, "time")) == sorted(stops["stop_time"].values.ravel())
    worst = stops.isel(speed_share=-1, load_share=-1, extension_share=-1)
    assert sorted(numbers(made, "time")[: made.shown]) == sorted(worst["stop_time"].values.ravel())
    assert column(made, "axis")[0] == stops["axis"].values[0]


def test_an_axis_that_is_not_held_stands_first() -> None:
    holding = small_results()["holding"].copy(deep=True)
    holding["holds"][2] = False
    section = FAILURE.section(of({"holding": holding}))
    assert section.good is False and section.headline.startswith(
        f"NOT HELD without power: {holding['joint'].values[2]} "
    )


def test_a_single_stop() -> None:
    cell = small_cell()
    stop = cell.stop(np.linspace(0.3, 0.1, cell.joint_count), np.full(cell.joint_count, 0.2))
    section = FAILURE.section(of({"stop": stop}))
    made = table(section, "stop")
    assert np.allclose(numbers(made, "travel"), stop["travel"].values) and section.good is None
    assert [picture.name for picture in section.pictures] == ["stop"]
