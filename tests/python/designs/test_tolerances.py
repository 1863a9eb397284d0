"""Which numbers have a tolerance."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

import armwright as aw
from armwright.designs.tolerances import take_tolerances
from cases.described import positioner


def test_what_stands_for_others_counts_once() -> None:
    arm = positioner()
    joints = list(arm.joints)
    joints[1] = replace(joints[1], torque_continuous="160 N*m ± 10 %", torque_peak=None)
    joints[2] = replace(joints[2], placement=("600 mm ± 1 mm", 0, 0))
    cell = aw.CellDescription(replace(arm, joints=tuple(joints)), track=aw.Track("x", "2 m ± 3 mm"))

    def paths(told: Any = None) -> set[str]:
        return {number.path for number in take_tolerances(cell, told)}

    torque = {"arm.joints[axis 2].torque_continuous"}
    assert paths() == torque | {"arm.joints[axis 3].placement.x", "track.stroke.upper"}
    assert paths({"arm.links[upper arm].length": "2 mm", "track.stroke": 0.01}) == torque | {
        "arm.links[upper arm].length", "track.stroke",
    }  # fmt: skip
    with pytest.raises(aw.InputError, match="one of the two"):
        paths({"arm.links[upper arm].length": "2 mm", "arm.joints[axis 3].placement.x": "1 mm"})


@pytest.mark.parametrize(
    ("told", "amount"),
    [("10 %", 0.3), ("± 10 %", 0.3), ("+-10%", 0.3), ("+/- 0.5 kg", 0.5), ("200 g", 0.2), (0.25, 0.25)],
)
def test_a_tolerance_is_a_share_or_an_amount(told: Any, amount: float) -> None:
    path = "arm.links[forearm].mass"
    [number] = take_tolerances(aw.CellDescription(positioner()), {path: told})
    assert number == aw.DesignNumber(path, 3.0, "kg", pytest.approx(amount))  # type: ignore[arg-type]


def test_a_share_of_a_number_without_unit_and_of_an_angle() -> None:
    cell = aw.CellDescription(positioner(), fixtures=(aw.Box((1, 1, 1), name="crate"),), mount=(0, 0, 1))
    told = {"mount.roll": "1 deg", "mount.z": "1 %", "arm.joints[axis 1].range.upper": "1 %"}
    found = {number.path: number.tolerance for number in take_tolerances(cell, told)}
    assert found == pytest.approx({"mount.roll": math.radians(1), "mount.z": 0.01,
                                   "arm.joints[axis 1].range.upper": math.pi / 100})  # fmt: skip


def test_a_tolerance_leaves_a_design_at_both_ends() -> None:
    cell = aw.CellDescription(positioner(), tool=aw.Tool(mass="0.9 kg"))
    with pytest.raises(aw.InputError) as told:
        take_tolerances(cell, {"tool.mass": "500 %"})
    problem = told.value.problems[0]
    assert problem.key == "tolerances[tool.mass]" and problem.value == '"500 %", which makes it -3.6 kg'
    assert problem.expected.startswith("a tolerance that leaves a mass") and problem.expected.endswith("at least 0 kg")
    assert take_tolerances(cell, {"tool.mass": "100 %"})[0].tolerance == pytest.approx(0.9)
