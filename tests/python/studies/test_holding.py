"""Holding: bounds against sampling, brakes and what comes of having none."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.described import positioner
from cases.stopping import SIZES, braked_arm, braked_cell

G = 9.80665
CELL = braked_cell()
HELD = CELL.holding()


def test_no_sampled_posture_is_worse() -> None:
    lower, upper = CELL.limits[:2]
    q = np.random.default_rng(2).uniform(lower, upper, (200_000, 6))
    worst = np.abs(CELL.gravity_torque(q)).max(axis=0)
    assert (worst <= HELD.torque_bound.values + 1e-9).all()
    assert (worst[1:3] > 0.9 * HELD.torque_bound.values[1:3]).all()
    at = np.abs(CELL.gravity_torque(HELD.worst_posture.values))
    np.testing.assert_allclose(np.diag(at), HELD.torque_found.values, atol=1e-9)
    assert (HELD.gap.values[:5] <= 0.005 + 1e-9).all()


def test_a_level_arm_by_hand() -> None:
    """Two links of 8 and 3 kg, all stretched level with 2 kg at the end."""
    cell = aw.Cell(positioner(0.0, 0.6, 0.5), load=aw.Load(2.0))
    held = cell.holding(time_limit=0.2)
    assert held.torque_found.values[1] == pytest.approx(G * (8 * 0.3 + 3 * 0.85 + 2 * 1.1), rel=1e-6)
    assert held.torque_found.values[2] == pytest.approx(G * (3 * 0.25 + 2 * 0.5), rel=1e-6)
    assert held.torque_found.values[0] < 1e-9 and held.holds.values[0]
    assert not held.holds.values[1] and np.isnan(held.factor.values[1])
    assert "no brake; without power it moves" in summary(held)


def test_brakes_at_their_axes() -> None:
    by_ratio = [ratio * brake for _, ratio, brake, _, _ in SIZES]
    np.testing.assert_allclose(HELD.brake_torque.values, by_ratio)
    np.testing.assert_allclose(HELD.brake_torque_driven_back.values, np.array(by_ratio) / 0.65)
    np.testing.assert_allclose(HELD.factor.values[1:], HELD.brake_torque.values[1:] / HELD.torque_bound.values[1:])
    assert np.isinf(HELD.factor.values[0]) and HELD.holds.values.all()
    assert (HELD.drop_end.values == "rest").all() and (HELD["drop"].values[1:] > 1e-3).all()
    weak = braked_arm(brake=aw.Brake(0.2, delay=0.05))
    slack = braked_cell(weak).holding()
    assert not slack.holds.values[1] and "does not hold" in summary(slack)


def test_the_drop_is_that_of_a_stop_at_rest() -> None:
    alone = CELL.stop(HELD.worst_posture.values[1], np.zeros(6))
    assert HELD["drop"].values[1] == pytest.approx(alone.tool_drop.item(), rel=1e-12)


