"""Torques, speeds and working points: what is drawn is the drive check's numbers."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.driven_cells import driven_arm, swing, thirds, turntable

RPM = 30 / np.pi


@pytest.fixture(scope="module")
def dataset():
    return driven_arm().drive_check(swing(loads=aw.Load(2.0)), factors=False)


@pytest.fixture(scope="module")
def table():
    return turntable().drive_check(thirds(np.pi / 2, 0.6, 0.6), factors=False)


def line(ax, gid):
    return next(line for line in ax.lines if line.get_gid() == gid)


def test_a_torque_course_and_its_limits(dataset):
    ax = pictures.torque_course(dataset, "axis 3")
    assert np.array_equal(line(ax, "torque").get_xdata(), dataset.time.values)
    assert np.array_equal(line(ax, "torque").get_ydata(), dataset.motor_torque.values[:, 2])
    both = [drawn.get_ydata() for drawn in ax.lines if drawn.get_gid() == "peak"]
    limit = dataset.motor_torque_limit.values[:, 2]
    assert np.array_equal(both[0], limit) and np.array_equal(both[1], -limit)
    assert set(line(ax, "rms").get_ydata()) == {dataset.motor_rms_torque.item(2)}
    assert set(line(ax, "continuous").get_ydata()) == {dataset.motor_continuous_torque.item(2)}
    assert ax.get_title(loc="left") == "axis 3"
    assert ax.get_ylabel() == "torque (N·m)" and ax.get_xlabel() == "time (s)"


def test_a_speed_course_in_turns_a_minute_by_hand(table):
    # 90° in 0.6 s in thirds by 100 : 1 go up to 3750 rpm; the motor's curve ends at 600 rad/s
    ax = pictures.speed_course(table, "axis 1")
    drawn = line(ax, "speed").get_ydata()
    assert np.abs(drawn).max() == pytest.approx(3750)
    limits = sorted(float(drawn.get_ydata()[0]) for drawn in ax.lines if drawn.get_gid() == "greatest")
    assert limits == pytest.approx([-600 * RPM, 600 * RPM])
    assert "greatest 3750 of 5730 rpm" in " ".join(t.get_text() for t in ax.texts)
    assert ax.get_ylabel() == "speed (rpm)"


def test_moves_are_parted(dataset):
    changed = dataset.copy(deep=True)
    half = dataset.sizes["time_point"] // 2
    changed["move"].values[half:] = 1
    marks = [drawn for drawn in pictures.torque_course(changed, "axis 1").lines if drawn.get_gid() == "move"]
    assert [mark.get_xdata()[0] for mark in marks] == [dataset.time.values[half]]
    assert not [drawn for drawn in pictures.torque_course(dataset, "axis 1").lines if drawn.get_gid() == "move"]


def test_working_points_are_magnitudes_over_the_curves(dataset):
    ax = pictures.operating_point(dataset, "axis 2")
    assert np.allclose(line(ax, "points").get_xdata(), np.abs(dataset.motor_speed.values[:, 1]) * RPM, rtol=1e-14)
    assert np.array_equal(line(ax, "points").get_ydata(), np.abs(dataset.motor_torque.values[:, 1]))
    for name in ("curve_peak", "curve_continuous"):
        assert np.array_equal(line(ax, name).get_ydata(), dataset[name].values[1], equal_nan=True)
        assert np.allclose(line(ax, name).get_xdata(), dataset.curve_speed.values[1] * RPM, equal_nan=True)
    (x,), (y,) = line(ax, "rms").get_data()
    assert (x, y) == pytest.approx((dataset.motor_rms_speed.item(1) * RPM, dataset.motor_rms_torque.item(1)))
    assert ax.get_xlim()[0] == 0 and ax.get_ylim()[0] == 0


def test_a_panel_for_every_motor_and_one_legend(dataset):
    axes = pictures.cycle_torques(dataset)
    assert len(axes) == 12 and [ax.get_title(loc="left") for ax in axes[::2]] == [f"axis {k}" for k in range(1, 7)]
    assert len(axes[0].figure.legends) == 1 and not any(ax.get_legend() for ax in axes)
    said = [text.get_text() for text in axes[0].figure.legends[0].get_texts()]
    assert "root mean square" in said and "continuous" in said
    axes = pictures.operating_points(dataset)
    assert len(axes) == 6 and sum(ax.get_visible() for ax in axes[0].figure.axes) == 6


def test_joints_without_a_drive_have_no_panel(dataset):
    some = dataset.copy(deep=True)
    some["has_drive"].values[1:] = False
    assert [ax.get_title(loc="left") for ax in pictures.operating_points(some)] == ["axis 1"]
    with pytest.raises(InputError, match="one that has a drive: axis 1"):
        pictures.torque_course(some, "axis 2")
    some["has_drive"].values[:] = False
    for draw in (pictures.cycle_torques, pictures.operating_points):
        with pytest.raises(InputError, match="at least one joint with a drive"):
            draw(some)


def test_other_results_are_refused():
    for draw in (pictures.cycle_torques, pictures.operating_points):
        with pytest.raises(InputError, match="a result of drive_check"):
            draw(sample.payload_map(0.5))


def test_axes_are_taken_and_given_back(table, ax):
    import matplotlib.pyplot as plt

    assert pictures.operating_points(table, axes=[ax]) == [ax]
    pair = list(plt.figure().subplots(1, 2))
    assert pictures.cycle_torques(table, axes=pair) == pair
    assert not pair[0].figure.legends  # whose figure it is decides on a legend
    assert pictures.torque_course(table, "axis 1", ax=ax) is ax
    with pytest.raises(InputError, match="2: two for each motor"):
        pictures.cycle_torques(table, axes=[ax])
