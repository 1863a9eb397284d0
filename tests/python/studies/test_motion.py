"""The words of a cycle that is refused, and what the data set of a motion holds; more of it through Cell.motion in
test_motions.py."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright import _core
from armwright.studies import motion as study
from cases.described import track_cell
from cases.moving_cells import moving_arm, moving_cell


def refusal(problem: str, axis: int = 1, value: float = 0.1, allowed: float = 0.0, share: float = 0.25) -> Any:
    limit = _core.motion.MotionLimit.__members__["motor_torque"]
    return SimpleNamespace(problem=_core.motion.PlanProblem.__members__[problem], move=0, axis=axis, value=value,
                           allowed=allowed, share=share, limit=limit)  # fmt: skip


def told(problem: str, cell: aw.Cell | None = None, **more: Any) -> str:
    value, expected = study.why((cell or track_cell())._model, refusal(problem, **more))
    assert value and expected and "nan" not in value
    return f"{value}, expected {expected}"


@pytest.mark.parametrize("problem", sorted(set(_core.motion.PlanProblem.__members__) - {"none"}))
def test_every_cause_is_told(problem: str) -> None:
    assert told(problem)
    assert told(problem, axis=-1)  # the tool's, or nobody's


def test_by_how_much_in_the_unit_of_the_joint() -> None:
    assert told("joint_range", axis=0, value=0.0125).startswith("track past its limit by 12.5 mm at 25 % of the way")
    assert told("joint_range", axis=1, value=math.radians(7)).startswith("joint 1 past its limit by 7° at 25 %")
    assert told("not_closed", axis=1, value=math.radians(0.5)).startswith("joint 1 ends 0.5° off where the")
    assert told("too_much", value=1.2).startswith("motor torque of joint 1 20 % over its limit at 25 % of the way")
    assert "the tool" in told("too_much", axis=-1, value=1.2)
    heavy = told("cannot_stand", value=1.5, share=1.0)
    assert heavy.startswith("the arm cannot hold itself at 100 % of the way: motor torque of joint 1 50 % over")
    assert told("duration", value=2.5, allowed=1.0) == (
        "1 s asked, takes 2.5 s, held back by motor torque of joint 1, expected at least 2.5 s"
    )
    assert told("period", value=2.5, allowed=1.0) == (
        "takes 2.5 s, 1.5 s more than its period, expected a period of at least 2.5 s"
    )


def test_the_first_limit_that_is_missing_is_named_with_its_joints() -> None:
    def unlimited(**changes: Any) -> str:
        arm = moving_arm()
        joints = tuple(replace(joint, **changes) if k in (1, 4) else joint for k, joint in enumerate(arm.joints))
        return study.unlimited(aw.Cell(replace(arm, joints=joints))._model)

    assert unlimited(acceleration=math.inf, jerk=math.inf) == "no acceleration limit of axis 2, axis 5 is given"
    assert unlimited(jerk=math.inf) == "no jerk limit of axis 2, axis 5 is given"
    assert unlimited() == "no limit of its motion is given"


def test_the_place_of_a_refusal_is_that_in_the_users_list() -> None:
    """A move that the user tells may become several of the core's."""
    cell = moving_cell()
    approached = aw.JointMove("rack", via_approach=True)
    cycle = aw.Cycle((approached, aw.Dwell(0.1), aw.LineMove("rack", at="approach", duration=0.001)))
    assert len(cell.resolve(cycle).source) > len(cycle.moves)
    with pytest.raises(aw.InputError) as caught:
        cell.motion(cycle)
    (problem,) = caught.value.problems
    assert problem.key == "moves[2]" and problem.value.startswith("3: to approach of rack: 0.001 s asked")


def test_the_tools_speed_is_the_change_of_its_place() -> None:
    """Tool speed against the way between rows closer than the path bends: |Δp| / Δt, from forward kinematics alone."""
    cell = moving_cell()
    result = cell.motion(aw.Cycle((aw.JointMove("rack"), aw.LineMove("tub"), aw.JointMove("kiln"))), clearance=False)
    time, place, speed = (result[name].values for name in ("time", "tool_position", "tool_speed"))
    steps = np.diff(time)
    way = np.linalg.norm(np.diff(place, axis=0), axis=1)
    mean = (speed[1:] + speed[:-1]) / 2 * steps
    apart = steps > 1e-9
    assert apart.sum() > 50
    np.testing.assert_allclose(way[apart], mean[apart], atol=2e-4)
    assert way[~apart].max(initial=0.0) < 1e-9  # two rows at one time are at one place
    np.testing.assert_allclose(np.linalg.norm(result["tool_axis"].values, axis=1), 1)
    assert result.attrs["duration"] == pytest.approx(time[-1])
    assert "clearance" not in result and "move_clearance" not in result


def test_moves_follow_one_another_without_gaps() -> None:
    result = moving_cell().motion(aw.Cycle((aw.JointMove("rack"), aw.Dwell(0.3), aw.JointMove("tub"))))
    start, end = result["move_start"].values, result["move_end"].values
    assert start[0] == 0 and end[-1] == pytest.approx(result.attrs["duration"])
    assert start[1:] == pytest.approx(end[:-1])
    dwell = list(result["move"].values).index("2: dwell")
    assert end[dwell] - start[dwell] == pytest.approx(0.3)
    # what every row says of the move it belongs to
    for row, move in enumerate(result["move_index"].values):
        assert start[move] - 1e-9 <= result["time"].values[row] <= end[move] + 1e-9
