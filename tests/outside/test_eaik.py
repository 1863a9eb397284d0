"""Source: eaik (closed-form inverse solutions by subproblem decomposition), for a spherical wrist, three parallel
axes, and the open arms ur3, ur5, ur10 of example-robot-data.

What is compared: the set of solutions of each pose, both ways, angles modulo whole turns. eaik's least-squares
answers, which do not reach the pose, are dropped, and so is an answer of eaik's that misses its pose by more than
1e-6 (near singular postures it loses digits). Tolerance: 1e-6 rad, and only for poses whose solutions all keep away
from singular postures (manipulability above 1e-4 of the arm's size), since there a rounding in the pose moves the
joints by its root."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

pytest.importorskip("eaik", reason="needs the peers: pip install 'armwright[peers]'")
from eaik.pybindings import EAIK

import armwright as aw
from cases.arms import puma560, spherical_arm, three_parallel_arm
from cases.chain import Chain, Link
from cases.described import described

COUNT = 1000  # poses an arm


def endless(chain: Chain) -> Chain:
    """Without joint limits: eaik knows none."""
    return replace(chain, links=tuple(replace(link, lower=-math.pi, upper=math.pi) for link in chain.links))


def from_data_set(file: str) -> Chain:
    """The kinematics of a data-set arm, as pinocchio reads it."""
    pin = pytest.importorskip("pinocchio")
    from cases.peer_arms import robots_folder

    model = pin.buildModelFromUrdf(str(robots_folder() / "ur_description" / "urdf" / file))
    axes = {"X": (1.0, 0, 0), "Y": (0, 1.0, 0), "Z": (0, 0, 1.0)}
    links = tuple(
        Link(model.jointPlacements[i].homogeneous, axes[model.joints[i].shortname()[-1]])
        for i in range(1, model.njoints)
    )
    return Chain(file.removesuffix(".urdf"), links, model.frames[model.getFrameId("ee_link")].placement.homogeneous)


ARMS = {
    "spherical": lambda: endless(spherical_arm()),
    "three parallel": lambda: endless(three_parallel_arm()),
    "puma 560": lambda: endless(puma560()),
    "ur3": lambda: from_data_set("ur3_robot.urdf"),
    "ur5": lambda: from_data_set("ur5_robot.urdf"),
    "ur10": lambda: from_data_set("ur10_robot.urdf"),
}


def apart(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Largest difference of joint angles, modulo whole turns, between each row of a and each of b."""
    return np.abs((a[:, None] - b[None] + math.pi) % (2 * math.pi) - math.pi).max(axis=2)


def distinct(rows: np.ndarray) -> np.ndarray:
    kept: list[np.ndarray] = []
    for row in rows:
        if not kept or apart(row[None], np.array(kept)).min() > 1e-6:
            kept.append(row)
    return np.array(kept).reshape(-1, rows.shape[1])


def theirs(robot: Any, chain: Chain, pose: np.ndarray) -> np.ndarray:
    answer = robot.calculate_IK(pose)
    rows = np.array(answer.Q).reshape(-1, 6)[~np.array(answer.is_LS, bool)]
    good = [row for row in rows if np.abs(chain.tool_pose(row) - pose).max() < 1e-6]
    return distinct(np.array(good).reshape(-1, 6))


@pytest.mark.parametrize("name", ARMS)
def test_the_same_solutions(name: str, tmp_path: Path) -> None:
    chain = ARMS[name]()
    arm = aw.load_arm(chain.write_urdf(tmp_path), tool="tool")
    H, P, R = chain.eaik_numbers()
    robot = EAIK.Robot(H.T, P.T, R, [], True)
    assert robot.has_known_decomposition()
    q = np.random.default_rng(5).uniform(-math.pi, math.pi, (COUNT, 6))
    poses = arm.tool_pose(q)
    answer = arm.solve(poses)
    size = float(np.abs(np.linalg.det(arm.jacobian(q))).max())
    compared = 0
    for i in range(COUNT):
        ours = answer.q[i][answer.valid[i]]
        reference = theirs(robot, chain, poses[i])
        everything = np.concatenate([ours, reference])
        if np.abs(np.linalg.det(arm.jacobian(everything))).min() < 1e-4 * size:
            continue
        compared += 1
        gaps = apart(ours, reference)
        assert len(ours) == len(reference), f"pose {i}: {len(ours)} solutions, eaik has {len(reference)}"
        assert gaps.min(axis=0).max() < 1e-6 and gaps.min(axis=1).max() < 1e-6
    assert compared > 0.9 * COUNT


@pytest.mark.parametrize("name", ARMS)
def test_the_generating_posture_and_only_right_answers(name: str, tmp_path: Path) -> None:
    """No source but the definition: the posture that made a pose is found, and every answer reproduces the pose to
    1e-9."""
    chain = ARMS[name]()
    arm = aw.load_arm(chain.write_urdf(tmp_path), tool="tool")
    q = np.random.default_rng(6).uniform(-math.pi, math.pi, (20_000, 6))
    poses = arm.tool_pose(q)
    answer = arm.solve(poses)
    gap = np.abs((answer.q - q[:, None] + math.pi) % (2 * math.pi) - math.pi).max(axis=2)
    assert (np.where(answer.valid, gap, np.inf).min(axis=1) < 1e-5).all()
    again = arm.tool_pose(np.where(answer.valid[..., None], answer.q, 0.0))
    assert np.abs(again - poses[:, None])[answer.valid].max() < 1e-9


@pytest.mark.parametrize("name", ["spherical", "puma 560", "ur5", "ur10"])
def test_track_intervals_against_dense_sampling(name: str) -> None:
    """The arm on a track: positions from which a pose is reached within ranges of 1 to 3 rad, told as intervals,
    against eaik asked at every 2 mm of the track and at every 0.1 mm within 3 mm of each interval's end. Not compared:
    0.15 mm about each end, and answers of eaik's within 1e-6 rad of a limit."""
    rng = np.random.default_rng(17)
    endless_chain = ARMS[name]()
    H, P, R = endless_chain.eaik_numbers()
    robot = EAIK.Robot(H.T, P.T, R, [], True)
    compared = changes = 0
    for _ in range(8):
        lower, upper = -rng.uniform(1, 3, 6), rng.uniform(1, 3, 6)
        links = tuple(  # without shapes: eaik knows of none
            replace(link, lower=a, upper=b, capsules=())
            for link, a, b in zip(endless_chain.links, lower, upper, strict=True)
        )
        arm = described(replace(endless_chain, links=links))
        pose = endless_chain.tool_pose(rng.uniform(lower, upper))
        cell = aw.Cell(arm, aw.Track("y", (-1.0, 1.0)), targets=aw.Target(pose, name="point"))
        told = cell.track_intervals()
        begins, ends = told.lower.values[0], told.upper.values[0]
        assert begins[0] <= 0 <= ends[-1]  # the posture that made the pose, from the middle
        changes += 2 * len(begins)
        tried = np.linspace(-1, 1, 1001)
        for end in [*begins, *ends]:
            tried = np.append(tried, np.clip(end + np.arange(-30, 31) * 1e-4, -1, 1))
        for at in tried:
            if min(np.abs(begins - at).min(), np.abs(ends - at).min()) < 1.5e-4:
                continue
            moved = pose.copy()
            moved[1, 3] -= at
            rows = theirs(robot, endless_chain, moved)
            slack = np.minimum(rows - lower, upper - rows).min(axis=1).max(initial=-1)
            if abs(slack) < 1e-6:
                continue
            assert (slack > 0) == bool(((begins <= at) & (at <= ends)).any()), f"{at} m"
            compared += 1
    assert compared > 8000 and changes > 16
