"""The tilt cone of work points in cycles: used where it has to be, as little as can be, and told."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import armwright as aw
from cases.described import at, facing
from cases.moving_cells import moving_arm, moving_cell

# Upper arm level along x, forearm straight down: the tool's axis lies along the forearm where axis 5 stands at 0, so
# that axis 5 turns by the angle between both. The other elbow's forearm is further off what is asked here.
FOREARM_DOWN = (0.6, 0.0, -0.5)
TOOL = aw.Tool(at((0, 0, 0), facing((0, 0, -1), (1, 0, 0))))


def leaning(degrees: float) -> Any:
    return (0.0, math.sin(math.radians(degrees)), -math.cos(math.radians(degrees)))


def cell(range_5: float, *targets: aw.Target, **more: Any) -> aw.Cell:
    limit = math.radians(range_5)
    values: dict[str, Any] = {"tool": TOOL, "targets": targets, "fixtures": (), "load": None}
    return aw.Cell(moving_arm(axis_5=(-limit, limit)), **(values | more))


def point(tilt: str, **more: Any) -> aw.Target:
    return aw.Target.pointing(FOREARM_DOWN, leaning(60), "aside", tilt=tilt, **more)


def test_the_cone_is_used_where_it_has_to_be_and_no_further() -> None:
    """60° between forearm and what is asked, 40° in axis 5: 20° at least; rings of the cone lie 3.75° apart."""
    cycle = aw.Cycle([aw.JointMove("aside")])
    result = cell(40, point("30 deg")).motion(cycle)
    assert np.degrees(result.move_tilt.values) == pytest.approx([22.5])
    assert np.abs(result.q.values[-1, 4]) <= math.radians(40)
    asked = np.array(leaning(60))
    assert result.tool_axis.values[-1] @ asked == pytest.approx(math.cos(math.radians(22.5)))
    told = result.attrs["assumptions"]
    assert "leans from a work point's attitude" in told and '"1: to aside" by 22.5°' in told
    plain = cell(61, point("30 deg")).motion(cycle)
    assert plain.move_tilt.values[0] == 0 and "leans" not in plain.attrs.get("assumptions", "")


def test_a_cone_too_narrow_is_refused() -> None:
    """60° are asked, 40° and 15° are there: 5° are missing."""
    told = r'^moves\[0\].to: got "aside": axis 5 past its limit by 5.0\d?°, expected a point that the tool reaches'
    with pytest.raises(aw.InputError, match=told):
        cell(40, point("15 deg")).motion(aw.Cycle([aw.JointMove("aside")]))


def test_a_line_ends_as_upright_as_it_can() -> None:
    near = (0.6 * math.cos(0.2), 0.6 * math.sin(0.2), -0.5)  # axis 1 turned: the forearm hangs there too
    for own, told in ((10.0, 22.5), (39.0, 21.0), (30.0, 22.5)):  # the second: as it starts, 21° off what is asked
        start = aw.Target.pointing(near, leaning(own), "start", spin=0)
        cycle = aw.Cycle([aw.JointMove("start"), aw.LineMove("aside")], repeats=False)
        result = cell(40, start, point("30 deg")).motion(cycle)
        assert np.degrees(result.move_tilt.values) == pytest.approx([0, told]), own
    with pytest.raises(aw.InputError, match="a line that one posture follows"):
        cell(40, start, point("15 deg")).motion(cycle)


def test_what_stands_in_the_way_is_leant_past() -> None:
    """A ball where the hand would be: the hand's centre lies on the tool's axis before the point."""
    free = aw.Target.pointing((0.6, 0.2, 0.1), "down", "spot", tilt="35 deg")
    tool = aw.Tool(at((0.2, 0, 0), facing((0, 0, -1), (1, 0, 0))))
    ball = aw.Sphere(0.05, (0.6, 0.2, 0.1 + 0.2 + 0.02), "ball")
    cycle = aw.Cycle([aw.JointMove("spot")])
    bare = aw.Cell(moving_arm(), tool=tool, targets=[free]).motion(cycle)
    assert bare.move_tilt.values[0] == 0
    result = aw.Cell(moving_arm(), tool=tool, targets=[free], fixtures=[ball]).motion(cycle)
    lean = float(result.move_tilt.values[0])
    assert 0 < lean <= math.radians(35) and result.move_clearance.values[0] >= 0
    # The hand is a ball of 50 mm too: both centres at least 100 mm apart, hand on a sphere of 200 mm about the point.
    least = math.acos((0.2**2 + 0.22**2 - 0.1**2) / (2 * 0.2 * 0.22))
    assert least <= lean <= least + math.radians(3.75)


def test_moves_to_no_work_point_tell_no_lean_and_tolerances_are_told() -> None:
    targets = (aw.Target.pointing((0.7, 0.1, 0.2), "down", "rough", position_tolerance="5 mm"),)
    cycle = aw.Cycle([aw.JointMove("rough"), aw.Dwell(0.1), aw.JointMove([0.1] * 6)], repeats=False)
    result = moving_cell(targets=targets).motion(cycle)
    assert list(np.isnan(result.move_tilt.values)) == [False, True, True] and result.move_tilt.values[0] == 0
    assert 'the middle of the position tolerance of "rough"' in result.assumptions


@settings(max_examples=40, deadline=None)
@given(
    place=st.tuples(st.floats(0.2, 1.0), st.floats(-0.5, 0.5), st.floats(-0.6, 0.7)),
    axis=st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1)).filter(lambda v: np.linalg.norm(v) > 0.1),
    tilt=st.floats(0, 1.0),
    spin=st.one_of(st.none(), st.floats(-3, 3)),
    limit=st.floats(10, 100),
)
def test_what_the_target_check_serves_a_cycle_goes_to(
    place: Any, axis: Any, tilt: float, spin: float | None, limit: float
) -> None:
    target = aw.Target.pointing(place, axis, "p", spin, tilt=tilt)
    floor = aw.HalfSpace((0, 0, -0.4), name="floor")
    machine = cell(limit, target, fixtures=(floor,), track=aw.Track("y", (-0.2, 0.5)))
    if not bool(machine.check_targets()["served"][0]):
        return
    found = machine.resolve(aw.Cycle([aw.JointMove("p")]))
    pose = machine.tool_pose(np.array(found.spec.start))
    assert pose[:3, 3] == pytest.approx(np.array(place), abs=1e-8)
    asked = np.array(axis) / np.linalg.norm(axis)
    assert math.acos(np.clip(pose[:3, 2] @ asked, -1, 1)) <= tilt + 1e-6
    assert found.tilts[0] == pytest.approx(math.acos(np.clip(pose[:3, 2] @ asked, -1, 1)), abs=1e-5)
    assert machine.is_clear(np.array(found.spec.start)) and machine.limit_margin(np.array(found.spec.start)) >= 0
