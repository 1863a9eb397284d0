from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from cases.driven_cells import driven_arm, swing, thirds, turntable
from cases.moving_cells import moving_cell


def test_a_turntable_by_hand() -> None:
    # 90° in 0.6 s in thirds, then 0.6 s of rest, by 100 : 1, with 10 000 counts a turn
    points = turntable().setpoints(thirds(np.pi / 2, 0.6, 0.6), 100)
    assert points.sizes["time_point"] == 121
    assert points["time"].values == pytest.approx(np.arange(121) / 100)
    assert points["q"].values[20, 0] == pytest.approx(np.pi / 8)
    # half of the first third: a t² / 2 and a t, with a = (3/4) π / 0.6 / 0.2
    a = 0.75 * np.pi / 0.6 / 0.2
    assert points["q"].values[10, 0] == pytest.approx(a * 0.1**2 / 2)
    assert points["qd"].values[10, 0] == pytest.approx(a * 0.1)
    assert points["qdd"].values[10, 0] == pytest.approx(a)
    assert points["motor_speed"].values[10, 0] == pytest.approx(100 * a * 0.1)
    assert points["motor_position"].values[-1, 0] == pytest.approx(50 * np.pi)
    assert points["motor_counts"].values[-1, 0] == 250_000  # 25 turns of 10 000
    assert points["greatest_pulse_rate"].item() == pytest.approx(3750 / 60 * 10000)


def test_counts_are_whole_and_within_half_a_count() -> None:
    cell, rate = driven_arm(), 250.0
    points = cell.setpoints(swing(), rate)
    counts = points["motor_counts"].values
    assert (counts == np.round(counts)).all()
    assert np.abs(counts - points["motor_position"].values * 131072 / (2 * np.pi)).max() <= 0.5
    # no step between two rows is faster than the greatest rate told, and the fastest of them is close to it
    steps = np.abs(np.diff(counts, axis=0)).max(axis=0) * rate
    greatest = points["greatest_pulse_rate"].values
    assert (steps <= greatest + rate).all() and (steps > 0.99 * greatest).all()


def test_the_last_row_is_the_end_and_times_begin_at_0() -> None:
    motion = thirds(np.pi / 2, 0.6, 0.05)
    later = aw.TimedMotion(motion.time + 7.0, motion.q, motion.qd, motion.qdd)
    for told in (motion, later):
        points = turntable().setpoints(told, 10)
        assert points["time"].values == pytest.approx([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.65])
        assert points["q"].values[-1, 0] == pytest.approx(np.pi / 2)
        assert points.attrs["rate"] == 10 and points.attrs["duration"] == pytest.approx(0.65)


def test_without_an_encoder_there_are_no_counts() -> None:
    points = moving_cell().setpoints(aw.Cycle((aw.JointMove("rack"), aw.JointMove("tub"))), 50)
    assert np.isnan(points["motor_counts"]).all() and np.isnan(points["greatest_pulse_rate"]).all()
    assert np.isfinite(points["motor_position"]).all()


@pytest.mark.parametrize("rate", [0, -1, float("nan"), float("inf"), "fast", [100.0]])
def test_what_is_no_rate(rate: object) -> None:
    with pytest.raises(aw.InputError, match=r"^rate: got"):
        turntable().setpoints(thirds(1, 1, 0.1), rate)  # type: ignore[arg-type]


def test_too_many_rows() -> None:
    with pytest.raises(aw.InputError, match=r"^rate: got 1e\+09 1/s, which makes 1,100,000,000 rows, expected at most "
                                            "20,000,000"):  # fmt: skip
        turntable().setpoints(thirds(1, 1, 0.1), 1e9)
