"""What each block bears, its safety and life: by hand on an arm of one upright axis."""

from __future__ import annotations

import numpy as np
import pytest

from armwright.results import check_dataset
from cases.railed_cells import (
    BACK,
    CARRIAGE,
    FRONT,
    HIGH,
    LONG,
    LOW,
    REACH,
    SWUNG,
    WEIGHT,
    WIDE,
    G,
    guide,
    rows,
    swinging,
    with_guide,
)


def test_a_load_out_ahead_lifts_the_blocks_behind_no_more_than_by_the_makers_table() -> None:
    cell = swinging(guide())
    out = cell.track_loads(rows=rows([0.5, 0.0]))
    pitch = SWUNG * G * REACH
    for block in FRONT:
        assert out.radial_greatest.values[block] == pytest.approx(WEIGHT / 4 + pitch / (2 * LONG))
    for block in BACK:
        assert out.radial_least.values[block] == pytest.approx(WEIGHT / 4 - pitch / (2 * LONG))
    assert pitch / (2 * LONG) > WEIGHT / 4
    assert "lifted off its rail with up to 49.03 N" in out.attrs["warnings"]
    assert out.static_safety.values[1] == pytest.approx(30e3 / (WEIGHT / 4 + pitch / (2 * LONG)))
    assert out.case.values[out.static_load_case.values[1]] == "a rest"
    np.testing.assert_allclose(out.static_posture.values[1], [0.5, 0.0])
    assert list(out.block.values[:2]) == ["rail 1, block 1", "rail 1, block 2"]
    check_dataset(out)


def test_turned_aside_the_left_rail_carries_it() -> None:
    out = swinging(guide()).track_loads(rows=rows([0.5, np.pi / 2]))
    roll = SWUNG * G * REACH
    np.testing.assert_allclose(out.radial_greatest.values, WEIGHT / 4 + roll / (2 * WIDE) * np.array([-1, -1, 1, 1]))


def test_starting_the_track_pitches_by_the_heights_over_its_feed() -> None:
    """2 m/s² of both masses, the arm's at its height; the feed pulls at the height of the blocks."""
    out = swinging(guide()).track_loads(rows=rows([0.0, np.pi / 2], [1.0, 0], [2.0, 0], kind="cycle", duty=1.0))
    moment = 2.0 * (SWUNG * (HIGH + LOW) + CARRIAGE * LOW)  # presses the blocks behind
    swing = 2.0 * SWUNG * REACH  # turns it, pushed along beside its middle, to the right at the front
    roll = SWUNG * G * REACH / (2 * WIDE)
    radial = WEIGHT / 4 + roll * np.array([-1, -1, 1, 1]) + moment / (2 * LONG) * np.array([1, -1, 1, -1])
    np.testing.assert_allclose(out.radial.values[0], radial)
    assert np.abs(out.lateral.values[0]).max() == pytest.approx(swing / (2 * LONG))
    assert out.feed_force.values[0] == pytest.approx(2.0 * (SWUNG + CARRIAGE))
    assert out.feed_value.values[0] == pytest.approx(2.0 * (SWUNG + CARRIAGE))
    np.testing.assert_allclose(out.static_load.values, np.abs(radial) + swing / (2 * LONG))


def test_life_over_the_travel_of_the_duty() -> None:
    """There with the load ahead, back with it behind, at 0.5 m/s for 2 s each; it stands for 6 s; ratings of 100 km."""
    q, qd = [[0.0, 0.0], [1.0, np.pi], [0.0, 0.0]], [[0.5, 0], [-0.5, 0], [0, 0]]
    made = rows(q, qd, kind="cycle", duty=[2.0, 2.0, 6.0])
    cell = swinging(guide())
    out = cell.track_loads(rows=made)
    more, less = WEIGHT / 4 + SWUNG * G * REACH / (2 * LONG), abs(WEIGHT / 4 - SWUNG * G * REACH / (2 * LONG))
    mean = ((more**3 + less**3) / 2) ** (1 / 3)
    np.testing.assert_allclose(out.mean_load.values, mean)
    np.testing.assert_allclose(out.life.values, (20e3 / mean) ** 3 * 100e3)
    np.testing.assert_allclose(out.life_time.values, out.life.values / 2.0 * 10.0)
    assert (out.attrs["travel"], out.attrs["duration"], out.attrs["stroke"]) == pytest.approx((2.0, 10.0, 1.0))
    surer = cell.track_loads(rows=made, reliability=0.99)
    np.testing.assert_allclose(surer.life.values, 0.25 * out.life.values, rtol=0.02)  # a1 of ISO 281, 0.25
    shorter = with_guide(cell, rating_distance=50e3).track_loads(rows=made)
    np.testing.assert_allclose(shorter.life.values, out.life.values / 2)
    rollers = with_guide(cell, kind="roller").track_loads(rows=made)
    mean = ((more ** (10 / 3) + less ** (10 / 3)) / 2) ** 0.3
    np.testing.assert_allclose(rollers.life.values, (20e3 / mean) ** (10 / 3) * 100e3)
    weak = with_guide(cell, dynamic_rating=1.9 * more).track_loads(rows=made)
    assert not weak.life_holds.values.any() and "ISO 14728-1 does not hold" in weak.attrs["warnings"]


def test_directions_preload_and_moments_count_as_told() -> None:
    cell = swinging(guide(lift_share=0.5, side_share=0.8))
    made = rows([0.5, 0.0], [0, 0], [0, 1.0])  # turning speeds up: 16 N aside, and a yaw of 20 kg · 0.8²
    out = cell.track_loads(rows=made)
    side, yaw = SWUNG * REACH, SWUNG * REACH**2
    back = abs(WEIGHT / 4 - SWUNG * G * REACH / (2 * LONG)) + side * (HIGH + LOW) / (2 * WIDE) * np.array([1, -1])
    lateral = np.abs(side / 4 - yaw / (2 * LONG))
    np.testing.assert_allclose(out.static_load.values[[0, 2]], np.abs(back[::-1]) / 0.5 + lateral / 0.8, rtol=1e-9)
    tight = with_guide(cell, preload=500.0).track_loads(rows=made)
    free = out.static_load.values
    np.testing.assert_allclose(
        tight.static_load.values, np.where(free < 2**1.5 * 500, 500 * (free / (2**1.5 * 500) + 1) ** 1.5, free)
    )


def test_one_rail_needs_a_roll_rating() -> None:
    cell = swinging(guide(rails=(0.0,)))
    aside = rows([0.5, np.pi / 2])
    out = cell.track_loads(rows=aside)
    np.testing.assert_allclose(out.own_moment.values, [[SWUNG * G * REACH / 2, 0, 0]] * 2, atol=1e-9)
    assert np.isnan(out.static_safety.values).all() and np.isnan(out.life.values).all()
    assert "roll moment of their own, and their roll_rating is not told" in out.attrs["missing"]
    told = with_guide(cell, roll_rating=300.0).track_loads(rows=aside)
    np.testing.assert_allclose(told.static_load.values, WEIGHT / 2 + 30e3 / 300 * SWUNG * G * REACH / 2)
    np.testing.assert_allclose(told.static_safety.values, 30e3 / told.static_load.values)
