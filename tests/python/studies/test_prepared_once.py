"""What the inverse of a cell needs is prepared once, however many studies ask."""

from __future__ import annotations

from typing import Any

import pytest

import armwright as aw
from armwright import _core
from cases.arms import general_arm
from cases.described import described


@pytest.mark.parametrize("track", [None, aw.Track("x", 1.0)])
def test_studies_share_one_preparation(monkeypatch: pytest.MonkeyPatch, track: aw.Track | None) -> None:
    asked: list[Any] = []
    prepare = _core.kinematics.prepare_inverse

    def counted(model: _core.model.Model) -> _core.kinematics.ArmInverse:
        asked.append(model)
        return prepare(model)

    monkeypatch.setattr(_core.kinematics, "prepare_inverse", counted)
    cell = aw.Cell(described(general_arm()), track=track)
    few: dict[str, Any] = {"directions": 2, "spins": 1, "bounds": ((0.4, -0.2, 0.2), (0.8, 0.2, 0.6))}
    cell.reach_map(0.4, **few)
    cell.reach_map(0.2, **few)
    cell.check_targets(aw.Target((0.5, 0.1, 0.6), free_spin=True))
    cell.solve(cell.tool_pose([0.1] * cell.joint_count))
    if track is not None:
        cell.track_intervals(aw.Target((0.5, 0.1, 0.6)))
    assert len(asked) == 1
