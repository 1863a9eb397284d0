"""What the section on reach says is what check_targets, reach_map and outlines hold."""

from __future__ import annotations

import numpy as np

from armwright.report.document import Verdict
from armwright.report.questions.reach import REACH
from cases.reported import FAR, NEAR, column, numbers, of, small_cell, small_results, table


def test_points_with_margins_and_postures() -> None:
    results = small_results()
    checked = results["check_targets"]
    section = REACH.section(
        of(results, "check_targets", "reach_map", "outlines", scene=small_cell().scene(checked=checked))
    )
    assert section.good is False
    assert section.answers[0].startswith(f"1 of 2 work points are served. Not served: {FAR} (out of reach by ")
    assert section.headline == f"1 of 2 work points are served; NOT SERVED: {FAR}."
    points = table(section, "work_points")
    assert column(points, "work point") == [FAR, NEAR]  # what is not served first
    assert column(points, "served") == [Verdict("NO", False), Verdict("yes", True)]
    for words, variable in (("room to joint limits", "limit_margin"), ("holds", "payload")):
        assert np.array_equal(numbers(points, words), checked[variable].values[::-1], equal_nan=True)
    assert column(points, "gives out first")[1] == ", ".join(
        str(checked[name].values[0]) for name in ("payload_joint", "payload_part") if checked[name].values[0]
    )
    postures = table(section, "postures")
    for k, joint in enumerate(checked["joint"].values):
        assert np.array_equal(numbers(postures, str(joint)), checked["q"].values[:, k], equal_nan=True)
    volume = results["reach_map"].attrs["reachable_volume"]
    assert any(line.startswith(f"Reachable volume {volume:.3g} ±") for line in section.answers)
    assert numbers(table(section, "ranges"), "to") == list(results["outlines"]["joint_upper"].values)
    assert [picture.name for picture in section.pictures] == ["work_points", "reach_section", "reach_plan", "outlines"]
    assert any("directions" in line for line in section.assumptions)


def test_all_served_and_no_points() -> None:
    results = small_results()
    near = results["check_targets"].isel(target=[0])
    section = REACH.section(of({"check_targets": near}))
    assert section.good is True and section.headline == "All 1 work points are served."
    none = REACH.section(of({"check_targets": results["check_targets"].isel(target=[])}))
    assert none.good is None and none.headline == "There are no work points." and none.tables == ()
    bare = REACH.section(of(results, "reach_map"))
    assert bare.good is None and bare.headline.startswith("Reachable volume ")
