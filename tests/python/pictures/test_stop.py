"""A stop over time and what the brakes hold: what is drawn is the data sets' numbers."""

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.described import track_cell
from cases.stopping import braked_arm, braked_cell

Q = np.array([0.3, 0.4, -0.6, 0.3, 0.5, 0.2])
DEGREES = 180 / np.pi


@pytest.fixture(scope="module")
def dataset():
    return braked_cell().stop(Q, [1.0, 1, -1, 1, 1, 1], 1)


@pytest.fixture(scope="module")
def on_track():
    return track_cell().stop(np.zeros(7), [2.0, 0.3, 0, 0, 0, 0, 0], time_limit=0.6)


@pytest.fixture(scope="module")
def held():
    """The first joint is upright, so that it has nothing to hold; the last has no brake, the one before a weak one."""
    arm = braked_arm()
    joints = list(arm.joints)
    weak = replace(joints[4].drive, brake=aw.Brake(0.01))
    joints[4] = replace(joints[4], drive=weak)
    joints[5] = replace(joints[5], drive=replace(joints[5].drive, brake=None))
    load = aw.Load(4, (0.1, 0, 0.05))
    return braked_cell(replace(arm, joints=tuple(joints)), load=load).holding(time_limit=0.5)


def line(ax, gid):
    return next(line for line in ax.lines if line.get_gid() == gid)


def words(ax):
    return [text.get_text() for text in ax.texts]


@pytest.mark.parametrize(("units", "length"), [("si", 1000), ("us", 1 / 0.0254)])
def test_courses_are_the_datasets(dataset, units, length):
    angles, speeds, height = pictures.stop(dataset, units=units)
    for k, name in enumerate(dataset.joint.values):
        way = dataset.position.values[:, k] - dataset.position.values[0, k]
        assert np.allclose(line(angles, name).get_ydata(), way * DEGREES, rtol=1e-13)
        assert np.allclose(line(speeds, name).get_ydata(), dataset.speed.values[:, k] * DEGREES, rtol=1e-13)
        assert np.array_equal(line(angles, name).get_xdata(), dataset.time.values)
    assert np.allclose(line(height, "height").get_ydata(), dataset.tool_position.values[:, 2] * length, rtol=1e-13)
    for ax in (angles, speeds, height):  # a sixth of a second from 1 rad/s by 6 rad/s²
        assert line(ax, "power off").get_xdata()[0] == pytest.approx(1 / 6)
    assert angles.get_ylabel() == "way since the signal (°)" and speeds.get_ylabel() == "speed (°/s)"
    assert height.get_ylabel() == f"height of the tool point ({'mm' if units == 'si' else 'in'})"
    drop = dataset.tool_drop.item() * length
    assert any(f"tool drops {drop:.3g} {'mm' if units == 'si' else 'in'}," in said for said in words(angles))
    assert angles.get_title(loc="left") == "Stop of category 1" and "power off" in words(height)


def test_a_track_has_its_own_scale_with_the_same_zero(on_track):
    angles, speeds, _ = pictures.stop(on_track)
    angles.figure.draw_without_rendering()
    (right,) = [child for child in angles.child_axes if "track" in child.get_ylabel()]
    assert right.get_ylabel() == "track (m)"
    low, high = right.get_ylim()
    bottom, top = angles.get_ylim()
    scale = (top - bottom) / (high - low)
    assert low * scale == pytest.approx(bottom)  # zero is at the same height
    way = on_track.position.values[:, 0] - on_track.position.values[0, 0]
    assert np.allclose(line(angles, "track").get_ydata(), way * scale)
    assert speeds.child_axes[0].get_ylabel() == "track (m/s)"


def test_a_joint_that_meets_its_end_is_marked(on_track, dataset):
    angles, _, _ = pictures.stop(on_track)
    cross = line(angles, "impact track")
    assert cross.get_xdata()[0] == on_track.impact_time.item(0)
    assert f"track meets the end of its range at {on_track.impact_speed.item(0):.3g} m/s" in words(angles)
    assert not [drawn for drawn in pictures.stop(dataset)[0].lines if str(drawn.get_gid()).startswith("impact")]


@pytest.mark.parametrize("early", [0.02, 0.5, 1.0])
def test_the_words_at_an_impact_stay_within_the_picture(on_track, early):
    """At the end of the stop as well as at its beginning."""
    moved = on_track.copy(deep=True)
    moved["impact_time"].values[0] = early * moved["time"].values[-1]
    angles, _, _ = pictures.stop(moved)
    angles.figure.draw_without_rendering()
    (said,) = [text for text in angles.texts if "meets the end" in text.get_text()]
    box, frame = said.get_window_extent(), angles.get_window_extent()
    assert frame.x0 <= box.x0 and box.x1 <= frame.x1


def test_many_stops_and_other_results_are_refused(dataset, ax):
    many = braked_cell().stop([Q, Q], np.zeros((2, 6)))
    for wrong in (many, sample.payload_map(0.5)):
        with pytest.raises(InputError, match="stop of one posture"):
            pictures.stop(wrong)
    with pytest.raises(InputError, match="three axes"):
        pictures.stop(dataset, axes=[ax])
    with pytest.raises(InputError, match="a result of holding"):
        pictures.holding(dataset)


def test_bars_are_shares_of_what_the_brakes_hold(held, ax):
    assert pictures.holding(held, ax=ax) is ax
    bars = {bar.get_gid(): bar for bar in ax.patches}
    share = held.torque_bound / held.brake_torque * 100
    assert set(bars) == {"joint 2", "joint 3", "joint 4", "joint 5"}
    for name, bar in bars.items():
        assert bar.get_width() == pytest.approx(share.sel(joint=name).item())
        assert bool(bar.get_hatch()) == (name == "joint 5")  # told apart without colour too
    said = words(ax)
    assert said.count("nothing to hold") == 1
    assert sum("does not hold" in word for word in said) == 1
    (free,) = [word for word in said if word.startswith("no brake")]
    bound, fall = held.torque_bound.item(5), held.fall_speed.item(5) * DEGREES
    assert f"{bound:.3g} N·m by weight" in free and f"{fall:.3g} °/s" in free
    assert line(ax, "all").get_xdata()[0] == 100
    assert "(%)" in ax.get_xlabel() and [t.get_text() for t in ax.get_yticklabels()] == list(held.joint.values)


def test_axes_are_taken_and_given_back(dataset):
    import matplotlib.pyplot as plt

    three = list(plt.figure().subplots(3, 1))
    assert pictures.stop(dataset, axes=three) == three
    assert not three[0].figure.legends and three[0].get_legend() is not None
    own = pictures.stop(dataset)
    assert len(own[0].figure.legends) == 1
