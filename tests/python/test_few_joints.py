"""Arms that are not six revolute joints: planar, SCARA, palletising and five-axis arms, gantries, a slide within,
a track under few joints. Postures come from the arms' own forward kinematics; closed forms are named beside."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.described import at, facing

PI = math.pi
TURN = (-PI, PI)


def arm(joints: str, placements: list[Any], axes: list[str], flange: Any = (0, 0, 0), stroke: float = 0.5) -> aw.Arm:
    """One letter a joint: R turns a whole turn, P slides from minus to plus ``stroke``. A link of 1 kg each."""
    described = [
        aw.Joint(f"axis {i + 1}", "prismatic" if kind == "P" else "revolute", place, axis,
                 (-stroke, stroke) if kind == "P" else TURN, 500.0)
        for i, (kind, place, axis) in enumerate(zip(joints, placements, axes, strict=True))
    ]  # fmt: skip
    links = [aw.Link(f"link {i + 1}", 1.0, (0.05, 0, 0)) for i in range(len(joints))]
    return aw.Arm(aw.ArmDescription(tuple(described), tuple(links), joints, flange=flange))


PLANAR_2R = arm("RR", [(0, 0, 0), (0.4, 0, 0)], ["z", "z"], (0.3, 0, 0))
PLANAR_3R = arm("RRR", [(0, 0, 0), (0.4, 0, 0), (0.3, 0, 0)], ["z", "z", "z"], (0.1, 0, 0))
PLANAR_4R = arm("RRRR", [(0, 0, 0), (0.4, 0, 0), (0.3, 0, 0), (0.2, 0, 0)], ["z"] * 4, (0.1, 0, 0))
SCARA = arm("RRPR", [(0, 0, 0.4), (0.35, 0, 0), (0.3, 0, 0), (0, 0, 0)], ["z", "z", "-z", "-z"])
SCARA_QUILL_LAST = arm("RRRP", [(0, 0, 0.4), (0.35, 0, 0), (0.3, 0, 0), (0, 0, 0)], ["z", "z", "z", "z"])
PALLETISER = arm("RRRR", [(0, 0, 0.3), (0.1, 0, 0.2), (0.5, 0, 0), (0.4, 0, 0)], ["z", "-y", "-y", "-y"], (0.1, 0, 0))
FIVE_AXIS = arm(
    "RRRRR",
    [(0, 0, 0.3), (0.1, 0, 0.2), (0.4, 0, 0), (0.35, 0, 0), (0.08, 0, 0)],
    ["z", "-y", "-y", "-y", "x"],
    at((0.1, 0, 0), facing((0, 0, 1), (1, 0, 0))),
)
GANTRY = arm(
    "PPPRRR", [(0, 0, 0)] * 4 + [(0, 0, 0.05), (0.04, 0, 0)], ["x", "y", "z", "z", "y", "x"], (0.1, 0.02, 0.03), 0.8
)
GANTRY_3 = arm("PPP", [(0, 0, 0)] * 3, ["x", "y", "z"], (0, 0, -0.2), 1.0)
SLIDE_LAST = arm(
    "RRRRRP",
    [(0, 0, 0.3), (0.1, 0, 0.2), (0.5, 0, 0), (0.2, 0.03, 0), (0.2, 0, 0.04), (0.05, 0, 0)],
    ["z", "-y", "-y", "x", "y", "z"],
)
TRACKED_FIVE = aw.Cell(FIVE_AXIS, track=aw.Track("x", ("-0.6 m", "0.6 m")), mount=(0, 0, 0.2))
TRACKED_PALLETISER = aw.Cell(PALLETISER, track=aw.Track("x", ("-0.6 m", "0.6 m")))

# Machine, and how many answers each of its random postures has; None: it depends
FAMILIES: dict[str, tuple[Any, int | None]] = {
    "planar 2R": (PLANAR_2R, 1),
    "planar 3R": (PLANAR_3R, 2),
    "SCARA": (SCARA, 2),
    "SCARA, quill last": (SCARA_QUILL_LAST, 2),
    "palletiser": (PALLETISER, 2),
    "five axes": (FIVE_AXIS, None),
    "gantry": (GANTRY_3, 1),
    "gantry with a wrist": (GANTRY, 2),
    "slide last": (SLIDE_LAST, None),
    "track, five axes": (TRACKED_FIVE, None),
    "track, palletiser": (TRACKED_PALLETISER, 2),
}


def postures(machine: Any, count: int) -> Any:
    rng = np.random.default_rng(11)
    limits = machine.limits
    return rng.uniform(limits.lower, limits.upper, (count, machine.joint_count))


def apart(machine: Any, a: Any, b: Any) -> Any:
    """The largest difference of any joint, turns less whole turns."""
    gap = a - b
    turns = np.array([joint.kind == "revolute" for joint in machine_joints(machine)])
    gap = np.where(turns, gap - 2 * PI * np.round(gap / (2 * PI)), gap)
    return np.abs(gap).max(axis=-1)


def machine_joints(machine: Any) -> list[Any]:
    if isinstance(machine, aw.Arm):
        return list(machine.description.joints)
    return [aw.Joint("track", "prismatic", range=(-1.0, 1.0)), *FIVE_AXIS.description.joints][: machine.joint_count]


@pytest.mark.parametrize("name", FAMILIES)
def test_the_posture_is_among_the_answers_and_every_answer_holds(name: str) -> None:
    machine, answers = FAMILIES[name]
    q = postures(machine, 200)
    poses = machine.tool_pose(q)
    found = machine.solve(poses, within_limits=False)
    assert len(machine._inverse.redundant) == 0, "the track is solved, not sampled"
    nearest = np.where(found.valid, apart(machine, found.q, q[:, None]), np.inf).min(axis=1)
    assert nearest.max() < 1e-6
    reached = machine.tool_pose(np.where(found.valid[..., None], found.q, 0.0))
    miss = np.abs(reached - poses[:, None])[found.valid]
    assert miss.max() < 1e-9
    if answers is not None:
        assert (found.count == answers).all()
    assert (found.free_joint[found.valid] == -1).all()
    within = machine.solve(poses)
    assert (within.count >= 1).all() and (within.count <= found.count).all()


@pytest.mark.parametrize("name", [name for name, (machine, _) in FAMILIES.items() if machine.joint_count < 6])
def test_poses_that_are_not_reached_exactly_have_no_answer(name: str) -> None:
    machine, _ = FAMILIES[name]
    poses = machine.tool_pose(postures(machine, 100))
    assert (machine.solve(poses, within_limits=False).count > 0).all()
    shifted = poses.copy()
    shifted[:, :3, 3] += (3e-8, -2e-8, 5e-8)
    tilted = poses @ at(
        (0, 0, 0), [[math.cos(1e-7), 0, math.sin(1e-7)], [0, 1, 0], [-math.sin(1e-7), 0, math.cos(1e-7)]]
    )
    far = poses.copy()
    far[:, :3, 3] += (5, 0, 0)
    for off in (shifted, tilted, far):
        found = machine.solve(off, within_limits=False)
        reached = machine.tool_pose(np.where(found.valid[..., None], found.q, 0.0))
        assert not found.valid.any() or np.abs(reached - off[:, None])[found.valid].max() < 1e-9
    # An arm in one plane reaches neither; a gantry of three slides reaches what is moved, not what is tilted.
    if machine.joint_count < 4:
        assert not machine.solve(tilted, within_limits=False).valid.any()
    if name.startswith("planar"):
        assert not machine.solve(shifted, within_limits=False).valid.any()


def test_two_links_closed_form() -> None:
    """x = 0.4 cos a + 0.3 cos(a + b), y likewise: both answers by hand, for the position with the attitude that goes
    with each (textbook: law of cosines)."""
    x, y = 0.45, 0.2
    for sign in (1, -1):
        b = sign * math.acos((x * x + y * y - 0.4**2 - 0.3**2) / (2 * 0.4 * 0.3))
        a = math.atan2(y, x) - math.atan2(0.3 * math.sin(b), 0.4 + 0.3 * math.cos(b))
        pose = at((x, y, 0), [[math.cos(a + b), -math.sin(a + b), 0], [math.sin(a + b), math.cos(a + b), 0], [0, 0, 1]])
        found = PLANAR_2R.solve(pose)
        assert int(found.count) == 1
        np.testing.assert_allclose(found.q[found.valid][0], (a, b), atol=1e-9)


def test_stretched_and_folded() -> None:
    """On the rim of the reach the two answers are one."""
    for q in ((0.3, 0.0, 0.4), (0.3, PI, 0.4)):
        found = PLANAR_3R.solve(PLANAR_3R.tool_pose(q))
        assert int(found.count) == 1
        assert apart(PLANAR_3R, found.q[found.valid], np.array(q)).max() < 1e-4


def test_a_joint_too_many_is_sampled() -> None:
    """Four axes in one plane: one is given, the others solved, a branch for each value."""
    assert len(PLANAR_4R._inverse.redundant) == 1
    q = np.array((0.0, 1.4, -2.0, 0.5))
    pose = PLANAR_4R.tool_pose(q)
    found = PLANAR_4R.solve(pose, samples=25)
    assert int(found.count) > 4
    np.testing.assert_allclose(
        PLANAR_4R.tool_pose(found.q[found.valid]), np.broadcast_to(pose, (int(found.count), 4, 4)), atol=1e-9
    )


def test_a_free_joint_is_named() -> None:
    """A gantry's wrist in line: axes 4 and 6 turn against one another."""
    straight = arm("PPPRRR", [(0, 0, 0)] * 6, ["x", "y", "z", "z", "y", "z"], (0, 0, 0.1))
    found = straight.solve(straight.tool_pose((0.1, 0.2, 0.3, 0.7, 0.0, 0.4)))
    assert (found.free_joint[found.valid] == 3).all() and int(found.count) == 1
    np.testing.assert_allclose(found.q[found.valid][0], (0.1, 0.2, 0.3, 0, 0, 1.1), atol=1e-7)


def test_studies_of_a_four_axis_arm() -> None:
    """A palletiser reaches a target that is level, in its own plane, and no other attitude."""
    cell = aw.Cell(PALLETISER)
    q = (0.6, 0.9, -1.1, 0.2)
    pose = cell.tool_pose(q)
    rolled = pose @ at((0, 0, 0), [[1, 0, 0], [0, 0, -1], [0, 1, 0]])
    beyond = pose.copy()
    beyond[:3, 3] *= 3
    checked = cell.check_targets([aw.Target(pose, "level"), aw.Target(rolled, "rolled"), aw.Target(beyond, "far")])
    assert checked["served"].values.tolist() == [True, False, False]
    np.testing.assert_allclose(cell.tool_pose(checked["q"].values[0]), pose, atol=1e-9)
    rolled_reason, far_reason = (str(reason) for reason in checked["reason"].values[1:])
    assert rolled_reason.startswith("cannot be reached in this attitude")
    assert far_reason.startswith("out of reach by")
    reach = cell.reach_map("400 mm", directions=6, spins=2)
    index = reach["reach_index"].values
    # What the index says is what solving each pose says: none of these attitudes, to the digit, is one of the arm's.
    # The positions are reached all the same.
    assert index.max() == 0 and reach.attrs["reachable_volume"] > 0
    assert "manipulability" not in reach


def test_a_spin_that_the_arm_must_choose() -> None:
    """Five axes point the tool anywhere near, but the spin about it is not theirs to choose: a free spin is found,
    not guessed."""
    for cell in (aw.Cell(FIVE_AXIS), TRACKED_FIVE):
        q = postures(cell, 6)
        poses = cell.tool_pose(q) @ at(
            (0, 0, 0), [[math.cos(1), -math.sin(1), 0], [math.sin(1), math.cos(1), 0], [0, 0, 1]]
        )
        kinds = [aw.Target(pose, f"point {i}", free_spin=True) for i, pose in enumerate(poses)]
        checked = cell.check_targets(kinds)
        assert checked["served"].values.all()
        reached = cell.tool_pose(checked["q"].values)
        np.testing.assert_allclose(reached[:, :3, 2:], poses[:, :3, 2:], atol=1e-9)


def test_a_track_that_is_solved() -> None:
    """The reach map of a track arm of few joints: its track is no sample, so there is no interval of it."""
    cell = TRACKED_PALLETISER
    q = (0.25, 0.6, 0.9, -1.1, 0.2)
    checked = cell.check_targets(aw.Target(cell.tool_pose(q), "level"))
    assert bool(checked["served"].item())
    np.testing.assert_allclose(cell.tool_pose(checked["q"].values[0]), cell.tool_pose(q), atol=1e-9)
    reach = cell.reach_map("500 mm", directions=4, spins=1)
    assert np.isfinite(reach["reach_index"]).all()
    # Asked for positions alone the track is tried, not solved, so that its stretch is told.
    assert np.isfinite(reach["track_lower"].values[reach["reachable"].values]).all()
