"""Drives over a motion, for drives and motions of any kind: energy, means, the price of losses."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import armwright as aw
from cases.driven_cells import supply, swing

AXES = ("z", "-y", "x")


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@st.composite
def drives(draw: Any) -> aw.Drive:
    stages = tuple(
        aw.Stage("gear", draw(between(2, 15)) * draw(st.sampled_from((-1, 1))), draw(between(0.5, 1)),
                 draw(between(0.3, 1)), inertia=draw(between(0, 1e-4)))
        for _ in range(draw(st.integers(0, 3)))
    )  # fmt: skip
    motor = aw.Motor(50.0, max_speed=1e5, rotor_inertia=draw(between(1e-6, 1e-3)), winding_loss=draw(between(0.01, 5)))
    friction = aw.Friction((draw(between(0, 2)), draw(between(0, 2))), draw(between(0, 1)))
    return aw.Drive(motor, stages, friction=friction, motor_friction=aw.Friction((0.01, 0.02), draw(between(0, 1e-3))))


def arm(told: list[aw.Drive], springs: tuple[Any, ...] = ()) -> aw.Cell:
    joints = tuple(
        aw.Joint(f"axis {i + 1}", placement=(0.3 if i else 0, 0, 0), axis=AXES[i % 3], range=(-3, 3), drive=drive)
        for i, drive in enumerate(told)
    )
    links = tuple(aw.Link(f"link {i + 1}", 2.0, (0.15, 0, 0.02), np.diag([0.01, 0.02, 0.02])) for i in range(len(told)))
    return aw.Cell(aw.ArmDescription(joints, links, "any arm", counterbalances=springs))


SIX = st.lists(drives(), min_size=6, max_size=6)


def integrals(result: Any) -> dict[str, float]:
    time = result["time"].values
    names = ("electrical_power", "mechanical_power", "winding_power", "friction_power")
    return {
        name: float(np.trapezoid(result[name].values.reshape(len(time), -1).sum(axis=1), time)) for name in names
    }


@settings(max_examples=15, deadline=None)
@given(SIX, between(0.8, 4), between(0.1, 3))
def test_what_is_drawn_over_a_closed_cycle_is_what_is_lost(told: list[aw.Drive], seconds: float, mass: float) -> None:
    result = arm(told).power(swing(seconds, loads=aw.Load(mass, (0.1, 0, 0))), supply(), step=seconds / 2000)
    sums = integrals(result)
    size = float(np.trapezoid(np.abs(result["mechanical_power"].values).sum(axis=1), result["time"].values))
    assert sums["electrical_power"] == pytest.approx(sums["winding_power"] + sums["friction_power"], abs=1e-3 * size)
    assert np.all(result["friction_power"].values >= -1e-9 * (1 + size))
    assert result.attrs["mains_energy"] - result.attrs["resistor_energy"] == pytest.approx(
        sums["electrical_power"], abs=1e-3 * size + 1e-6
    )


@settings(max_examples=15, deadline=None)
@given(SIX, between(0.8, 4))
def test_means_are_those_of_plain_sampling(told: list[aw.Drive], seconds: float) -> None:
    cell, motion = arm(told), swing(seconds)
    checked, points = cell.drive_check(motion, step=0.002, factors=False), cell.setpoints(motion, 20000)
    torque, speed = points["motor_torque"].values, points["motor_speed"].values
    np.testing.assert_allclose(checked["motor_rms_torque"], np.sqrt(np.mean(torque**2, axis=0)), rtol=5e-3, atol=1e-4)
    np.testing.assert_allclose(checked["motor_rms_speed"], np.sqrt(np.mean(speed**2, axis=0)), rtol=5e-3, atol=1e-4)
    np.testing.assert_allclose(checked["motor_mean_speed"], np.mean(np.abs(speed), axis=0), rtol=5e-3, atol=1e-4)
    assert np.all(checked["motor_peak_torque"].values >= np.abs(torque).max(axis=0) * (1 - 5e-3))


@settings(max_examples=15, deadline=None)
@given(SIX, between(0.8, 4))
def test_without_losses_the_motors_give_joint_torque_and_inertia_alone(told: list[aw.Drive], seconds: float) -> None:
    ideal = [
        aw.Drive(drive.motor, tuple(aw.Stage("gear", s.ratio, 1.0, 1.0, inertia=s.inertia) for s in drive.stages))
        for drive in told
    ]
    cell = arm(ideal)
    points = cell.setpoints(swing(seconds), 500)
    for k, drive in enumerate(ideal):
        turns, reflected = 1.0, 0.0
        for stage in reversed(drive.stages):
            turns *= float(stage.ratio)
            reflected += float(stage.inertia or 0) * turns**2
        reflected += float(drive.motor.rotor_inertia) * turns**2
        expected = (points["joint_torque"].values[:, k] + reflected * points["qdd"].values[:, k]) / turns
        np.testing.assert_allclose(points["motor_torque"].values[:, k], expected, rtol=1e-9, atol=1e-9)


@settings(max_examples=10, deadline=None)
@given(SIX, between(1.5, 3), between(0.2, 1.5))
def test_greatest_load_and_speed_are_at_a_limit(told: list[aw.Drive], seconds: float, mass: float) -> None:
    cell, load = arm(told), aw.Load(mass, (0.1, 0, 0))
    attrs = cell.drive_check(swing(seconds, loads=load), step=0.01).attrs
    if 0 < attrs.get("load_factor", 0) < 1e5:
        grown = aw.Load(mass * attrs["load_factor"], (0.1, 0, 0))
        at = cell.drive_check(swing(seconds, loads=grown), step=0.01, factors=False).attrs
        assert at["weakest_share"] == pytest.approx(1, rel=1e-6)
        assert at["weakest"] == attrs["load_limit"]
