"""The few lines about what parts bear say the study's answers."""

from __future__ import annotations

import armwright as aw
from armwright.results import summary
from cases.described import positioner


def test_parts_cases_and_what_is_missing_are_told() -> None:
    cell = aw.Cell(positioner())
    found = cell.joint_wrenches()
    said = summary(found)
    moment = float(found.extreme.sel(part="axis 1", quantity="tilting moment", end="greatest"))
    assert f"tilting {moment:.3g} N·m" in said
    case = str(found.case.values[int(found.extreme_case.sel(part="axis 1", quantity="tilting moment", end="greatest"))])
    assert f'tilts most in "{case}"' in said
    assert "mount: along its axis -108 N" in said  # 11 kg
    assert f"{found.sizes['row_point']} rows in {found.sizes['case']} cases: {found.sizes['case']} of rest" in said
    assert "not looked at: no drives are described: no stops" in said
