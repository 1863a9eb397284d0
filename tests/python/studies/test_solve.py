from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright.studies import cutting
from armwright.studies.solve import redundant_values
from armwright.studies.subject import Subject
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
