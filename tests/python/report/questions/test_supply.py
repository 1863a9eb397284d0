"""What the section on the supply says is what power holds."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.supply import SUPPLY
from cases.reported import column, driven_results, numbers, of, table


def test_every_figure_of_the_result_has_its_row() -> None:
    power = driven_results()["power"]
    section = SUPPLY.section(of({"power": power}))
    rows = table(section, "supply")
    wanted = {name: value for name, value in power.attrs.items()
              if isinstance(value, float | np.floating) and name not in ("duration", "step")}  # fmt: skip
    assert set(wanted.values()) <= set(numbers(rows, "value"))
    assert "greatest mains current in a line, rms of the sine" in column(rows, "figure")
    assert section.good is bool(power.attrs["branch_share"] <= 1)
    assert f"{power.attrs['electrical_peak']:.0f} W" in section.headline and power.attrs["caution"] in section.cautions
    currents = table(section, "currents")
    known = numbers(currents, "rms")
    assert np.array_equal(known, power["motor_current_rms"].values, equal_nan=True)


def test_too_much_for_the_branch_circuit() -> None:
    power = driven_results()["power"].copy()
    power.attrs["branch_share"] = 1.4
    section = SUPPLY.section(of({"power": power}))
    assert (
        section.good is False and section.headline.startswith("TOO MUCH") and "140 % of the branch" in section.headline
    )
