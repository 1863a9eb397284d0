from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.cycles import limited
from cases.described import at
from cases.moving_cells import DOWN, moving_cell

HOME = (0.2, 0.4, -0.8, 0.0, 0.9, 0.0)


def test_moves_become_the_core_s() -> None:
    cell = moving_cell()
    cycle = aw.Cycle((
        aw.JointMove("rack", via_approach=True, speed=0.5),
        aw.PickUp(),
        aw.JointMove("tub", through=(HOME, "kiln"), blend="50 mm", timing="jerk-limited", name="over"),
        aw.Dwell("0.5 s"),
        aw.SetDown(),
        aw.ArcMove(at((0.6, 0.4, 0.2), DOWN), via=(0.55, 0.5, 0.2), tool_speed=0.2),
    ), start=HOME, repeats=False, limits=aw.CycleLimits(speed=0.8, tool_speed=0.5, tool_jerk=30))  # fmt: skip
    found = cell.resolve(cycle)
    kinds = [move.kind.name for move in found.spec.moves]
    assert kinds == ["joints", "line", "joints", "joints", "joints", "dwell", "arc"]
    assert found.source == (0, 0, 2, 2, 2, 3, 5)
    assert found.names[0] == "1: to rack, approach" and found.names[2:5] == ("over, by 1", "over, by 2", "over")
    assert [move.load for move in found.spec.moves] == [-1, -1, 0, 0, 0, 0, -1]
    assert [move.blend for move in found.spec.moves] == [0, 0, 0.05, 0.05, 0, 0, 0]
    assert [move.speed_share for move in found.spec.moves] == [0.5, 0.5, 0.8, 0.8, 0.8, 1, 0.8]
    assert [move.tool.speed for move in found.spec.moves if move.kind.name != "dwell"] == [0.5] * 5 + [0.2]
    assert found.spec.moves[-1].tool.jerk == 30 and found.spec.moves[3].timing.name == "jerk_limited"
    assert tuple(found.spec.start) == HOME and tuple(found.spec.moves[2].q) == HOME
    assert found.spec.moves[5].duration == 0.5 and found.spec.loads[0].mass == 2
    rack = cell.targets[0].pose
    approach = cell.tool_pose(np.array(found.spec.moves[0].q))
    assert approach[:3, 3] == pytest.approx(rack[:3, 3] - 0.1 * rack[:3, 2])
    assert found.spec.moves[1].to == pytest.approx(rack)
    assert cell.resolve(cycle) is found and cell.resolve(replace(cycle, name="x")) is not found


def test_the_lower_limit_counts() -> None:
    cell = moving_cell().description
    limits = aw.CycleLimits(
        joint_speed={"axis 1": 1.5, "axis 2": 3}, joint_acceleration={"axis 3": "57.29577951308232 deg/s^2"}
    )
    told = limited(cell, aw.Cycle(aw.Dwell(1), limits=limits))  # type: ignore[arg-type]
    assert [joint.speed for joint in told.arm.joints[:3]] == [1.5, 2, 2]
    assert told.arm.joints[2].acceleration == pytest.approx(1) and told.load is None


def refused(*moves: Any, **more: Any) -> str:
    with pytest.raises(aw.InputError) as caught:
        moving_cell().resolve(aw.Cycle(moves, **({"repeats": False} | more)))
    return str(caught.value)


def test_refusals() -> None:
    assert 'moves[0].to: got "rak", expected the name of a work point: "rack"' in refused(aw.JointMove("rak"))
    assert 'did you mean "rack"' in refused(aw.JointMove("rak"))
    assert "moves[1].through[0]" in refused(aw.Dwell(1), aw.JointMove("rack", through="rak", blend=0.1))
    assert 'retract of "tub", expected a work point with a length of retract' in refused(
        aw.LineMove("tub", at="retract")
    )
    assert "moves[0].to: got 2 values, expected 6: axis 1" in refused(aw.JointMove((1, 2)))
    assert "moves[0].to[1]: got 0.1 m, expected an angle: axis 2" in refused(aw.JointMove((0, "100 mm", 0, 0, 0, 0)))
    assert "moves[0].to[1]: got 4 rad, axis 2 past its limit by 0.858 rad" in refused(aw.JointMove((0, 4, 0, 0, 0, 0)))
    assert 'moves[0].load: got "pan", expected the name of a load: "pot"' in refused(aw.PickUp("pan"), aw.Dwell(1))
    assert "moves[0].track_to: got 1 m, expected no track_to" in refused(aw.LineMove("rack", track_to=1))
    assert "a line that one posture follows" in refused(aw.JointMove("rack"), aw.LineMove(at((3, 0, 0.2), DOWN)))
    assert "three points that tell a circle" in refused(
        aw.JointMove("rack"), aw.ArcMove(at((0.7, 0.3, 0.2), DOWN), via=(0.7, 0.2, 0.2)))  # fmt: skip
    limits = aw.CycleLimits(joint_speed={"axis 7": 1})
    assert 'limits.joint_speed.axis 7: got "axis 7"' in refused(aw.Dwell(1), limits=limits)
    limits = aw.CycleLimits(joint_speed={"axis 1": "1 m/s"})
    assert "a unit of a joint that turns" in refused(aw.Dwell(1), limits=limits)
    with pytest.raises(aw.InputError, match="cycle: got str"):
        moving_cell().resolve("cycle.toml")  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match=r"moves\[0\].load: got nothing"):
        moving_cell(load=None).resolve(aw.Cycle((aw.PickUp(), aw.Dwell(1)), repeats=False))
