"""Wrenches of joints, mount and carriage as methods: hand statics, a free body in motion, what is refused."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from cases.described import positioner, track_cell
from cases.momentum import bodies, momentum, weight

G = 9.80665
STILL = np.zeros(6)


def test_the_positioner_stretched_out_level() -> None:
    """8 kg at 0.3 m, 3 kg at 0.85 m, 2 kg carried at 1.1 m: 24 + 25 + 21.6 = 69.3 N m about axis 2 by hand."""
    foot = aw.Link("foot", 10.0, (0.05, 0, 0.02))
    cell = aw.Cell(replace(positioner(), base_link=foot), load=aw.Load(2.0), mount=(1, 2, 3))
    moment = G * (8 * 0.3 + 3 * 0.85 + 2 * 1.1)
    found = cell.joint_wrench(STILL, STILL, STILL)
    assert found.shape == (6, 6)
    np.testing.assert_allclose(found[1], [0, 0, 13 * G, 0, -moment, 0], atol=1e-9)
    np.testing.assert_allclose(found[2], [0, 0, 5 * G, 0, -G * (3 * 0.25 + 2 * 0.5), 0], atol=1e-9)
    np.testing.assert_allclose(
        cell.mount_wrench(STILL, STILL, STILL), [0, 0, -23 * G, 0, moment + 10 * G * 0.05, 0], atol=1e-9
    )
    nothing = cell.joint_wrench(STILL, STILL, STILL, aw.Load(1e-9))
    np.testing.assert_allclose(nothing[1, 2], 11 * G, atol=1e-6)


def test_a_level_turn_presses_outwards() -> None:
    """Level at 3 rad/s about the upright axis: the joint pulls each mass inwards with m w² r (centripetal)."""
    arm = aw.Arm(positioner())
    found = arm.joint_wrench(STILL, [3, 0, 0, 0, 0, 0], STILL)[0]
    np.testing.assert_allclose(found[:3], [-9 * (8 * 0.3 + 3 * 0.85), 0, 11 * G], atol=1e-9)


def test_a_spring_is_borne_by_the_joints_that_it_spans() -> None:
    """A coil that pulls by 500 N from the turret, straight above axis 2, to the upper arm: the shoulder's bearing takes
    its whole pull besides the weight, the wrist and the mount none of it."""
    cord = aw.Counterbalance(
        "coil", "link 1", (0, 0, 0.4), "upper arm", (0.3, 0, 0), rate=1000.0, free_length=0.4, preload=400.0
    )
    arm = positioner()
    bare, sprung = aw.Arm(arm), aw.Arm(replace(arm, counterbalances=(cord,)))
    pushed = sprung.joint_wrench(STILL, STILL, STILL) - bare.joint_wrench(STILL, STILL, STILL)
    force = pushed[1, :3]
    np.testing.assert_allclose(force, [300, 0, -400], atol=1e-9)
    np.testing.assert_allclose(pushed[[0, 2, 3, 4, 5]], 0, atol=1e-9)
    np.testing.assert_allclose(
        sprung.mount_wrench(STILL, STILL, STILL), bare.mount_wrench(STILL, STILL, STILL), atol=1e-9
    )
    np.testing.assert_allclose(
        sprung.joint_wrench(STILL, STILL, STILL)[1, 4] * -1, sprung.gravity_torque(STILL)[1], atol=1e-9
    )


def test_carriage_and_mount_on_a_track_by_momentum() -> None:
    """The force on rails and mount: weight less the change of momentum, by differences of poses."""
    carriage = aw.Link("carriage", 20.0, (0.1, 0, -0.05), np.diag([0.4, 0.5, 0.6]))
    foot = aw.Link("foot", 7.0, (0, 0.05, 0.1))
    cell = track_cell(track=aw.Track("x", ("0 m", "1 m"), (0, 0, 0.18), carriage), mount=(0.1, 0.05, 0.2))
    cell = aw.Cell.from_description(
        replace(cell.description, arm=replace(cell.description.arm, base_link=foot))
    )
    rng = np.random.default_rng(5)
    q, qd, qdd = rng.uniform(-0.8, 0.8, (3, 7))
    h = 1e-4
    parts = bodies(cell, cell.load)
    for found, chosen, frame in (
        (cell.carriage_wrench(q, qd, qdd), parts, cell.link_poses(q)[0]),
        (cell.mount_wrench(q, qd, qdd), parts[1:], cell.link_poses(q)[0] @ cell.description.mount),
    ):
        ends = [
            momentum(cell, chosen, q + t * qd + t * t / 2 * qdd, qd + t * qdd, frame[:3, 3]) for t in (-h, h)
        ]
        wanted = weight(cell, chosen, q, frame[:3, 3]) - (ends[1] - ends[0]) / (2 * h)
        in_frame = np.concatenate([frame[:3, :3].T @ wanted[:3], frame[:3, :3].T @ wanted[3:]])
        np.testing.assert_allclose(found, in_frame, rtol=0, atol=3e-5 * np.abs(wanted).max())


def test_the_feed_moves_the_base_link_too() -> None:
    """F = m a for all that rides on the carriage, the arm's foot among it."""
    foot = aw.Link("foot", 31.0)
    arm = replace(positioner(), base_link=foot)
    track = aw.Track("x", ("0 m", "1 m"), carriage=aw.Link("carriage", 24.0))
    cell = aw.Cell(arm, track)
    zero = np.zeros(7)
    force = cell.inverse_dynamics(zero, zero, [2.0, 0, 0, 0, 0, 0, 0])[0]
    assert force == pytest.approx(2.0 * (24 + 31 + 11))
    assert cell.carriage_wrench(zero, zero, [2.0, 0, 0, 0, 0, 0, 0])[0] == pytest.approx(-force)


def test_shapes_and_refusals() -> None:
    arm = aw.Arm(positioner())
    q = np.zeros((2, 3, 6))
    assert arm.joint_wrench(q, q, 0 * q).shape == (2, 3, 6, 6)
    assert arm.mount_wrench(q, 0.0 * q[0], q).shape == (2, 3, 6)
    assert track_cell().carriage_wrench(np.zeros((4, 7)), np.zeros(7), np.zeros(7)).shape == (4, 6)
    with pytest.raises(InputError, match="a cell with a track"):
        arm.carriage_wrench(q, q, q)
    with pytest.raises(InputError, match="shape"):
        arm.joint_wrench(np.zeros(5), np.zeros(5), np.zeros(5))
    with pytest.raises(InputError, match="a Load"):
        arm.mount_wrench(STILL, STILL, STILL, 3.0)  # type: ignore[arg-type]
