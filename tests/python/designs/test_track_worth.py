from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.designs.track_worth import without_track
from cases.described import positioner
from cases.moving_cells import moving_arm

REACH, ASIDE = 1.1, 0.66  # links of 0.6 and 0.5 m; half a chord of 0.88 m


def bare() -> aw.ArmDescription:
    arm = positioner()
    joints = tuple(replace(joint, torque_continuous=100.0, torque_peak=150.0) for joint in arm.joints)
    return replace(arm, joints=joints)


def row(*places: float, **more: Any) -> aw.Cell:
    """An arm on a track along x, with points 0.66 m aside at those places: each is served within 0.88 m of it."""
    targets = tuple(aw.Target((x, ASIDE, 0.0), f"at {x:g}") for x in places)
    return aw.Cell(bare(), aw.Track("x", (0.0, 6.0), carriage=aw.Link("carriage", 10.0)), targets=targets, **more)


def test_strokes_of_a_row_of_points_by_hand() -> None:
    """Three points 2.5 m apart, each served from a chord of 1.76 m: the strokes from one to two and to three points are
    2.5 − 1.76 and 5 − 1.76."""
    worth = row(0.5, 3.0, 5.5).track_worth(prices=aw.TrackPrices(1000.0, 500.0, 250.0, "EUR"))
    assert worth.stroke.values == pytest.approx([0, 0.74, 3.24, 6.0], abs=1.1e-3)
    assert worth.served_count.values.tolist() == [1, 2, 3, 3]
    assert worth.cost.values == pytest.approx([0, 750 + 740, 750 + 3240, 750 + 6000], abs=1.1)
    assert worth.attrs["enough_stroke"] == worth.attrs["last_gain_stroke"] == pytest.approx(3.24, abs=1.1e-3)
    words = worth.armwright.summary()
    assert "A track of 3.24 m serves 3 of 3 points, against 1 with the base fixed at its best; beyond 3.24 m" in words
    assert "6,750 EUR" in words


def test_a_fixed_base_stands_in_the_middle_of_where_it_serves_most() -> None:
    """0.6 m apart: both are served within 0.88 m of each, so from 0.28 m above the lower one ... the middle between."""
    worth = row(2.0, 2.6).track_worth()
    assert worth.served_count.values[0] == 2 and worth.attrs["last_gain_stroke"] == 0
    assert float(worth.stroke_lower[0]) == pytest.approx(2.3, abs=1e-4)
    assert "A track gains nothing here" in worth.armwright.summary()


def test_a_fixed_base_may_stand_off_the_line() -> None:
    """Between two points 1.6 m apart and 0.9 m from the line, either of which the line serves alone."""
    targets = (aw.Target((1.0, 0.9, 0.0), "left"), aw.Target((2.6, 0.9, 0.0), "right"))
    cell = aw.Cell(bare(), aw.Track("x", (0.0, 4.0)), targets=targets)
    on_line, beside = cell.track_worth([1.0]), cell.track_worth([1.0], fixed_base=(1.8, 0.9, 0.0))
    assert on_line.served_count.values.tolist() == [1, 2] and beside.served_count.values.tolist() == [2, 2]
    assert np.isnan(beside.stroke_lower.values[0]) and "no track: 2 of 2" in beside.armwright.summary()
    assert on_line.attrs["inputs_digest"] != beside.attrs["inputs_digest"]
    with pytest.raises(aw.InputError, match=r"^fixed_base"):
        cell.track_worth([1.0], fixed_base="there")


def test_loads_on_the_rails_by_hand() -> None:
    """At rest: all that the track carries weighs the same everywhere, and tips by what stands out. Without a track the
    carriage's own 10 kg are gone."""
    cell = row(3.0)
    worth = cell.track_worth([1.0])
    weight = np.array([11.0, 21.0]) * 9.80665  # upper arm 8 kg, forearm 3 kg
    assert worth.force.values == pytest.approx(weight)
    q = cell.check_targets().q.values[0]
    assert worth.moment.values[0] > 0
    at_best = cell.track_intervals()
    assert float(at_best.lower[0, 0]) == pytest.approx(3 - 0.88, abs=1e-4)
    # The moment of the weights about the carriage, from the link poses of the posture that the check took.
    built = aw.Cell.from_description(
        replace(cell.description, track=replace(cell.description.track, stroke=(2.5, 3.5)))  # type: ignore[type-var]
    )
    q = built.check_targets().q.values[0]
    poses = built.link_poses(q)
    origin = np.array([q[0], 0, 0])
    moment = np.zeros(3)
    for link, mass, centre in ((2, 8.0, (0.3, 0, 0)), (3, 3.0, (0.25, 0, 0))):
        at = poses[link][:3, :3] @ centre + poses[link][:3, 3]
        moment += np.cross(at - origin, (0, 0, -9.80665 * mass))
    assert worth.moment.values[1] == pytest.approx(float(np.linalg.norm(moment)), rel=1e-9)


def test_a_cycle_is_timed_with_each_stroke_or_told_why_not() -> None:
    arm = moving_arm()
    targets = tuple(aw.Target.pointing((x, 0.55, 0.3), "down", name) for name, x in (("rack", 0.3), ("kiln", 2.9)))
    cell = aw.Cell(arm, aw.Track("x", (0.0, 3.2), speed=1.0, acceleration=2.0), targets=targets)
    cycle = aw.Cycle((aw.JointMove("rack"), aw.JointMove("kiln"), aw.JointMove("rack")))
    worth = cell.track_worth([0.4, 3.2], cycle=cycle)
    time = worth.cycle_time.values
    assert np.isnan(time[:2]).all() and np.isfinite(time[2])
    assert all("rack" in why or "kiln" in why for why in worth.cycle_reason.values[:2])
    assert worth.cycle_reason.values[2] == ""
    assert time[2] == pytest.approx(cell.motion(cycle).attrs["duration"])
    assert worth.cycle_moment.values[2] > worth.moment.values[2] > 0
    assert "which the fixed base cannot run" in worth.armwright.summary()


def test_without_a_track_its_places_are_left_out_of_the_cycle() -> None:
    """Near points: the fixed arm goes through the same posture, its own joints alone."""
    arm = moving_arm()
    targets = tuple(aw.Target.pointing((x, 0.55, 0.3), "down", name) for name, x in (("rack", 0.3), ("kiln", 0.5)))
    cell = aw.Cell(arm, aw.Track("x", (0.0, 2.0), speed=1.0, acceleration=2.0), targets=targets)
    posture = np.zeros(7)
    posture[0], posture[2] = 0.7, 0.3
    told = aw.Cycle((
        aw.JointMove("rack", track="before arm"), aw.JointMove("kiln", through=(posture,), blend=0.05),
        aw.JointMove("rack"),
    ))  # fmt: skip
    worth = cell.track_worth([2.0], cycle=told)
    assert worth.cycle_reason.values.tolist() == ["", ""] and np.isfinite(worth.cycle_time.values).all()
    bare_cycle = without_track(told, 6)
    assert bare_cycle.moves[1].through[0] == told.moves[1].through[0][1:]  # type: ignore[union-attr]
    fixed = replace(cell.description, track=None, mount=(float(worth.stroke_lower[0]), 0, 0))
    assert aw.Cell.from_description(fixed).timed(bare_cycle).duration == pytest.approx(float(worth.cycle_time[0]))


def test_volume_grows_by_the_stroke() -> None:
    worth = row(3.0).track_worth([1.0, 2.0], spacing="0.25 m")
    volume = worth.reachable_volume.values
    # What one more metre of track adds is a metre times the section of the sphere shell's envelope.
    assert volume[2] - volume[1] == pytest.approx(np.pi * REACH**2, rel=0.05)
    assert volume[0] == pytest.approx(4 / 3 * np.pi * (REACH**3 - 0.1**3), rel=0.15)


def test_an_executor_changes_nothing() -> None:
    cell = row(0.5, 3.0)
    with ThreadPoolExecutor(2) as pool:
        xr.testing.assert_identical(cell.track_worth(), cell.track_worth(executor=pool))


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"strokes": [7.0]}, r"^strokes\[0\]: got 7 m, expected at most the track that is looked at, 6 m"),
        ({"strokes": []}, r"^strokes: got 0 of them"),
        ({"strokes": ["long"]}, r"^strokes\[0\]"),
        ({"strokes": -1.0}, r"^strokes\[0\]"),
        ({"cycle": "cycle.toml"}, r"^cycle: got"),
        ({"prices": 3}, r"^prices: got"),
        ({"within": "0 m"}, r"^within: got"),
        ({"executor": 2}, r"^executor: got"),
    ],
)
def test_wrong_input_is_told(wrong: dict[str, Any], told: str) -> None:
    with pytest.raises(aw.InputError, match=told):
        row(3.0).track_worth(**wrong)


def test_a_cell_without_a_track_is_told() -> None:
    with pytest.raises(aw.InputError, match=r"^track: got none"):
        aw.Cell(bare(), targets=aw.Target((0.5, 0.5, 0))).track_worth()
