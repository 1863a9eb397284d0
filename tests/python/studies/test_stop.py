"""Stops as a user asks for them."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from armwright.studies import run
from armwright.studies.stop import followed, options_of, words_of
from cases.described import track_cell
from cases.stopping import braked_arm, braked_cell

CELL = braked_cell()
Q = np.array([0.3, 0.4, -0.6, 0.3, 0.5, 0.2])
QD = np.array([1.0, 1, -1, 1, 1, 1])


def test_a_stop_by_the_brakes() -> None:
    found = CELL.stop(Q, QD)
    assert found.end.item() == "rest" and found.power_off.item() == 0
    assert (found.travel.values[:2] > 0.05 * 0.9).all(), "the delay at about the speed that it had"
    assert found.position.values[0].tolist() == Q.tolist() and found.speed.values[0].tolist() == QD.tolist()
    assert not found.speed.values[-1].any() and found.time.values[-1] == found.stop_time.item()
    np.testing.assert_array_equal(found.position.values[-1], found.stopped_at.values)
    np.testing.assert_allclose(found.tool_position.values, CELL.tool_pose(found.position.values)[:, :3, 3], atol=1e-12)
    moved = np.linalg.norm(found.tool_position.values[-1] - found.tool_position.values[0])
    assert found.tool_travel.item() == pytest.approx(moved)
    assert found.tool_path.item() >= moved - 1e-9
    low = found.tool_position.values[:, 2]
    assert found.tool_drop.item() >= low[0] - low.min() - 1e-9
    np.testing.assert_allclose(found.brake_energy_share.values, found.brake_energy.values / 100.0)
    assert "rest" in summary(found) and "category 0" in summary(found)


def test_a_controlled_stop() -> None:
    """Each axis from 1 rad/s by 6 rad/s²: a sixth of a second, a twelfth of a radian, then the sag of the delay."""
    found = CELL.stop(Q, QD, 1)
    assert found.power_off.item() == pytest.approx(1 / 6)
    late = np.searchsorted(found.time.values, 0.165)
    np.testing.assert_allclose(found.position.values[late], Q + QD * (0.165 - 3 * 0.165**2), atol=1e-6)
    assert (found.travel.values >= 1 / 12 - 1e-9).all()
    assert found.saturated.item() is False
    slower = CELL.stop(Q, QD, 1, deceleration=2.0)
    assert slower.power_off.item() == pytest.approx(1 / 2)
    later = CELL.stop(Q, QD, 1, reaction="100 ms")
    assert later.power_off.item() == pytest.approx(1 / 6 + 0.1)
    pushed = CELL.stop(Q, 3 * QD, 1, deceleration=500.0)
    assert pushed.saturated.item() is True


def test_held_while_the_brakes_close_the_tool_does_not_sag() -> None:
    """Brakes of 50 ms, well able to hold: with as much of holding, nothing moves after all stand."""
    end = Q + QD / 12  # from 1 rad/s by 6 rad/s²
    for hold in (0.05, "0.2 s"):
        found = CELL.stop(Q, QD, 1, hold_after=hold)
        assert found.end.item() == "rest" and found.stop_time.item() == pytest.approx(1 / 6)
        assert found.power_off.item() == pytest.approx(1 / 6 + (0.05 if hold == 0.05 else 0.2))
        np.testing.assert_allclose(found.stopped_at.values, end, atol=1e-7)
        assert "until the brakes have closed" in summary(found)
    still = CELL.stop(Q, 0 * QD, 1, hold_after="50 ms")
    assert still.tool_drop.item() == 0 and still.tool_path.item() == 0
    let_go = CELL.stop(Q, 0 * QD, 1)
    short = CELL.stop(Q, 0 * QD, 1, hold_after="20 ms")
    assert let_go.tool_drop.item() > short.tool_drop.item() > 1e-4
    assert "the arm sags" in summary(let_go) and "slowest brake takes 0.05 s: the arm sags" in summary(short)
    assert let_go.attrs["hold_after"] == 0 and let_go.attrs["greatest_closing_delay"] == pytest.approx(0.05)


def test_motors_that_cannot_hold_are_told() -> None:
    arm = braked_arm()
    weak = replace(arm.joints[1].drive, motor=aw.Motor(continuous=0.2, peak=0.3, max_speed=600.0))
    joints = [arm.joints[0], replace(arm.joints[1], drive=weak), *arm.joints[2:]]
    found = braked_cell(replace(arm, joints=tuple(joints))).stop(Q, 0 * QD, 1, hold_after="0.2 s")
    assert found.saturated.item() and found.power_off.item() > 0.5, "it sinks meanwhile"
    assert "TOO WEAK" in summary(found)
    assert "TOO WEAK" not in summary(CELL.stop(Q, 0 * QD, 1, hold_after="0.2 s"))


def test_without_brakes_nothing_holds_in_the_end() -> None:
    found = braked_cell(braked_arm(brake=None)).stop(Q, QD, 1, hold_after="0.2 s")
    assert "no brakes" in summary(found) and "greatest_closing_delay" not in found.attrs


def test_many_stops_are_each_alone() -> None:
    rng = np.random.default_rng(5)
    q, qd = rng.uniform(-1, 1, (2, 2, 3, 6))
    found = CELL.stop(q, qd, threads=2)
    assert found.travel.shape == (2, 3, 6) and "time" not in found
    for i in np.ndindex(2, 3):
        alone = CELL.stop(q[i], qd[i], threads=1)
        assert alone.stop_time.item() == found.stop_time.values[i]
        np.testing.assert_array_equal(alone.travel.values, found.travel.values[i])
        assert "time" in alone
    with pytest.raises(aw.InputError, match=r"^progress: got 5"):
        CELL.stop(q, qd, progress=5)  # type: ignore[arg-type]


def test_no_stops_are_no_stops() -> None:
    found = CELL.stop(np.zeros((0, 6)), np.zeros((0, 6)))
    assert found.travel.shape == (0, 6) and found.stop_time.shape == (0,)


def test_an_arm_without_brakes_falls_to_the_end_of_its_range() -> None:
    arm = braked_arm(brake=None)
    joints = [
        replace(joint, drive=replace(joint.drive, stages=(), friction=aw.Friction(0.0)), range=(-1.0, 1.0))
        for joint in arm.joints
    ]
    falling = braked_cell(replace(arm, joints=tuple(joints))).stop(np.zeros(6), np.zeros(6), time_limit=3.0)
    assert falling.impact_speed.values[1] > 1 and falling.impact_time.values[1] < 1
    assert falling.tool_drop.item() > 0.1
    assert "meets the end of its range" in summary(falling)


def test_a_track_runs_on_and_hits_its_end() -> None:
    cell = track_cell()
    q, qd = np.zeros(7), np.array([2.0, 0, 0, 0, 0, 0, 0])
    found = cell.stop(q, qd, time_limit=0.6)
    assert found.impact_speed.values[0] > 0 and found.impact_time.values[0] < 0.6


@pytest.mark.parametrize(("arguments", "words"), [
    ({"category": 2}, r"^category: got 2, expected 0 \(power off at once\) or 1"),
    ({"deceleration": 0}, r"^deceleration: got 0.0, expected more than 0"),
    ({"deceleration": [1, 2]}, r"^deceleration: got an array of shape \(2,\), expected one number, or 6"),
    ({"reaction": -1}, r"^reaction: "),
    ({"hold_after": -1, "category": 1}, r"^hold_after: got -1, expected a time with its unit, .* at least 0 s"),
    ({"hold_after": 0.2}, r"^hold_after: got 0.2 s in category 0, expected none"),
    ({"time_limit": 0}, r"^time_limit: "),
    ({"q": Q + 7}, r"^q: got .* for joint \d, expected .* its range"),
    ({"q": np.zeros(5)}, r"^q, qd: got arrays of shapes \(5,\) and \(6,\)"),
    ({"load": "4 kg"}, r"^load: got '4 kg'"),
    ({"row_step": 1e-9}, r"^row_step: got 1e-09 s, up to 10,000,000,000 rows in 10 s, expected at most 2,000,000 rows"),
])  # fmt: skip
def test_what_cannot_be_asked(arguments: dict[str, Any], words: str) -> None:
    with pytest.raises(aw.InputError, match=words):
        CELL.stop(**({"q": Q, "qd": QD} | arguments))


def test_a_controlled_stop_wants_to_know_how_each_axis_brakes() -> None:
    free = aw.Cell(replace(braked_arm(), joints=tuple(
        replace(joint, drive=None, torque_continuous=np.inf, torque_peak=np.inf, acceleration=np.inf)
        for joint in braked_arm().joints)))  # fmt: skip
    with pytest.raises(aw.InputError, match=r"^deceleration: got none for joint 1"):
        free.stop(Q, QD, 1)
    found = free.stop(Q, QD, 1, deceleration=4.0, time_limit=0.5)
    assert found.power_off.item() == pytest.approx(0.25)


def endless() -> aw.Cell:
    """The arm with joints that turn without end."""
    arm = braked_arm()
    return braked_cell(replace(arm, joints=tuple(replace(j, range=(-np.inf, np.inf)) for j in arm.joints)))


def test_brakes_beyond_all_measure_stop_it_at_once() -> None:
    strong, stronger = (braked_cell(braked_arm(brake=aw.Brake(t, delay=0.05))).stop(Q, QD) for t in (1e6, 1e9))
    assert stronger.end.item() == "rest" and stronger.stop_time.item() == pytest.approx(0.05, abs=1e-6)
    np.testing.assert_allclose(stronger.stopped_at.values, strong.stopped_at.values, atol=1e-5)


def test_one_long_stop_is_cancelled_within() -> None:
    """At a million radians a second it would take some seconds of the processor."""
    cell, before = endless(), time.process_time()
    with pytest.raises(run.Cancelled):
        cell.stop(Q, 1e6 * QD, progress=lambda done, total: False, threads=1)
    assert time.process_time() - before < 1.5


def test_what_is_given_up_is_said() -> None:
    model = CELL._model
    options = options_of(model, 0, deceleration=None, reaction=0.0, time_limit=10.0)
    spun = followed(model, [model.load], Q[None], 1e200 * QD[None], options, 1, None, "stops")
    assert words_of(spun).tolist() == ["given up"]
    found = CELL.stop(Q, QD)
    assert "given up" not in summary(found)
    found["end"] = found.end.copy(data=np.array("given up"))
    assert "given up: too many steps" in summary(found)


def test_a_stop_needs_inertia() -> None:
    arm = braked_arm()
    bare = replace(arm, joints=tuple(replace(joint, drive=None) for joint in arm.joints),
                   links=tuple(aw.Link(link.name) for link in arm.links))  # fmt: skip
    with pytest.raises(aw.InputError, match=r"no mass that it moves"):
        aw.Cell(bare).stop(Q, QD)
