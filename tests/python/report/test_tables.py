from __future__ import annotations

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.report import targets_table
from cases import sample_results as sample


def rows(checked: xr.Dataset) -> dict[str, str]:
    """The lines of the table by their first words, the name of the work point."""
    lines = targets_table(checked).splitlines()
    width = lines[1].index("  ")
    return {line[:width].strip(): line[width:].strip() for line in lines}


def changed(**values: float) -> dict[str, str]:
    checked = sample.check_targets().copy(deep=True)
    for name, value in values.items():
        checked[name].values[0] = value
    return rows(checked)


def test_a_line_for_each_work_point_and_what_it_says() -> None:
    table = rows(sample.check_targets())
    assert list(table)[2:-1] == list(sample.TARGETS)
    assert table["work point"].split("  ")[0] == "served" and "track" in table["work point"]
    assert table["rack-left top"].split() == ["yes", "40", "%", "50", "mm", "7.2", "kg", "0.40", "m"]
    assert table["kiln back"].startswith("NO") and table["kiln back"].endswith("out of reach by 38 mm")
    assert targets_table(sample.check_targets()).endswith("5 of 7 work points served")


def test_in_us_units() -> None:
    lines = targets_table(sample.check_targets(), "us").splitlines()
    row = next(line for line in lines if line.startswith("rack-left top"))
    # 50 mm, 7.2 kg rounded down in pounds (1 lb = 0.45359237 kg), 0.4 m
    assert row.split()[-8:] == ["40", "%", "2.0", "in", "15.8", "lb", "15.7", "in"]
    assert any(line.endswith("out of reach by 1.5 in") for line in lines)


def test_columns_stand_under_their_heads() -> None:
    lines = targets_table(sample.check_targets()).splitlines()
    for head in ("served", "to limits", "clearance", "holds", "track", "remark"):
        at = lines[0].index(head)
        assert lines[1][at] == "-" and lines[1][at - 1] == " "
        assert all(line[at - 2 : at] == "  " for line in lines[2:-1] if len(line) > at)


@pytest.mark.parametrize(("mass", "told"), [(7.29, "7.2 kg"), (7.2, "7.2 kg"), (6.999, "6.9 kg"), (0.04, "0.0 kg")])
def test_what_is_held_is_never_told_too_high(mass: float, told: str) -> None:
    assert told in changed(payload=mass)["rack-left top"]


def test_no_bound_is_said_in_words() -> None:
    row = changed(payload=np.inf, clearance=np.inf)["rack-left top"]
    assert "no limit" in row and "nothing near" in row and "inf" not in row
    assert "nan" not in "".join(changed(payload=np.nan, clearance=np.nan, limit_margin=np.nan).values())


def test_what_is_nearest_is_named_where_it_is_served() -> None:
    fixtures = (aw.Box((0.1, 0.1, 0.1), (0.6, 0.35, 0.3), "post"),)
    from cases.described import positioner

    cell = aw.Cell(positioner(), fixtures=fixtures, targets=(
        aw.Target((0.6, 0.2, 0.3), "shelf", free_spin=True), aw.Target((3, 0, 0), "far away", free_spin=True),
    ))  # fmt: skip
    table = rows(cell.check_targets())
    assert "track" not in table["work point"]
    assert table["shelf"].startswith("yes") and table["shelf"].endswith("nearest: post")
    assert table["far away"].startswith("NO") and "out of reach by 1900 mm" in table["far away"]


def test_another_result_is_refused() -> None:
    with pytest.raises((aw.InputError, KeyError, ValueError)):
        targets_table(sample.reach_map(0.5))
