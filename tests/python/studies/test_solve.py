from __future__ import annotations

import gc
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright.studies import cutting
from armwright.studies.solve import redundant_values
from armwright.studies.subject import Subject
from cases.arms import spherical_arm
from cases.described import track_cell
from cases.in_pieces import assert_same_array
from cases.stopping import braked_cell

BRAKED = braked_cell()
POSES = BRAKED.tool_pose(np.random.default_rng(3).uniform(-1, 1, (5, 4, 6)))


def test_solutions_of_many_poses_in_pieces(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cutting, "piece_seconds", 1e-5)
    alone = BRAKED.solve(POSES)
    with ThreadPoolExecutor(2) as executor:
        spread_out = BRAKED.solve(POSES, executor=executor, store=tmp_path / "store")
    again = BRAKED.solve(POSES, store=tmp_path / "store")
    for found in (spread_out, again):
        for name in ("q", "valid", "free_joint"):
            assert_same_array(getattr(found, name), getattr(alone, name))
    with pytest.raises(aw.InputError, match="poses: got"):
        BRAKED.solve(POSES[:1], store=tmp_path / "store")


def test_values_of_redundant_joints_reach_both_ends() -> None:
    """The track from 0 to 1 m."""
    assert redundant_values(Subject(track_cell().description), 5) == [[0.0], [0.25], [0.5], [0.75], [1.0]]
    assert redundant_values(Subject(BRAKED.description), 5) == [[]]


def spherical(folder: Path) -> aw.Arm:
    return aw.load_arm(spherical_arm().write_toml(folder))


def test_results_share_no_memory_and_outlive_their_arm(tmp_path: Path) -> None:
    """Memory of large answers is used again once they are gone, never before."""
    arm = spherical(tmp_path)
    q = np.random.default_rng(3).uniform(-1, 1, (9, 2000, 6))
    poses = [arm.tool_pose(rows) for rows in q]
    kept = [arm.solve(some, within_limits=False) for some in poses[:3]]
    before = [(one.q.copy(), one.valid.copy()) for one in kept]
    view = arm.solve(poses[3], within_limits=False).q[1700]  # all but a part is let go
    part = view.copy()
    for some in poses[4:]:
        arm.solve(some, within_limits=False)
    del arm
    gc.collect()
    for (values, valid), one in zip(before, kept, strict=True):
        assert np.array_equal(values, one.q, equal_nan=True) and np.array_equal(valid, one.valid)
    assert np.array_equal(part, view, equal_nan=True)
    assert not np.shares_memory(kept[0].q, kept[1].q)
    kept[0].q[:] = 0  # theirs to write to


@pytest.mark.parametrize("entry", [(0, 3), (1, 1), (2, 3)])
@pytest.mark.parametrize("value", [np.nan, np.inf])
def test_a_pose_without_a_number_is_refused_wherever_it_stands(
    entry: tuple[int, int], value: float, tmp_path: Path
) -> None:
    arm = spherical(tmp_path)
    poses = arm.tool_pose(np.random.default_rng(4).uniform(-1, 1, (9, 6)))
    poses[7][entry] = value
    with pytest.raises(aw.InputError, match="poses"):
        arm.solve(poses)
