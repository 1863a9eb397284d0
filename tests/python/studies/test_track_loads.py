"""What blocks, rails and feed of a track bear: by hand on an arm of one upright axis."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.results import check_dataset, summary
from cases.railed_cells import (
    CARRIAGE,
    HIGH,
    LONG,
    LOW,
    REACH,
    SWUNG,
    WIDE,
    G,
    both,
    guide,
    rows,
    swinging,
    with_guide,
)

WEIGHT = (CARRIAGE + SWUNG) * G
FRONT, BACK = (1, 3), (0, 2)  # blocks; rail 1 is at the right (y < 0)


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


def test_swinging_pulls_along_a_track_that_stands() -> None:
    speed = 3.0
    q = [[1.0, angle] for angle in np.linspace(0, np.pi, 41)]
    pull = SWUNG * REACH * speed**2
    cell = swinging(guide(), force_continuous=50.0, force_peak=100.0)
    out = cell.track_loads(rows=rows(q, [0, speed], kind="cycle", duty=0.1))
    held = out.sel(held="cycle")
    assert held.held_force.item() == pytest.approx(pull)
    assert held.held_bears.item() == 100.0
    assert held.held_factor.item() == pytest.approx(100 / pull)
    words = f"{pull:.4g} N along it while it stands in the cycle; the motor, at its peak holds 100 N"
    assert words in out.attrs["warnings"]
    assert np.isnan(out.held_force.sel(held="stop").item())
    braked = cell.track_loads(rows=rows(q, [0, speed], kind="stop"))
    assert "no brake told to hold that" in braked.attrs["missing"]
    assert np.isnan(braked.held_factor.sel(held="stop").item())
    # standing for the whole duty wears nothing, and that is said
    assert np.isinf(out.life.values).all() and "false brinelling" in out.attrs["warnings"]


def test_a_track_pushed_in_a_stop_is_told() -> None:
    moved = rows([[1.0, 0.0], [1.003, 0.1], [1.004, 0.2]], [[0, 3], [0.1, 2], [0, 0]], kind="stop")
    started = rows([[1.0, 0.0], [1.2, 0.0]], [[1.0, 0], [0.5, 0]], kind="stop")  # it travelled before: not pushed
    out = swinging(guide()).track_loads(rows=both(started, moved))
    assert out.attrs["track_pushed"] == pytest.approx(0.004)
    assert out.attrs["track_pushed_case"] == 1
    assert "is pushed by 4 mm" in out.attrs["warnings"]


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
    weak = with_guide(cell, dynamic_rating=900.0).track_loads(rows=made)
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


def test_what_is_not_told_is_named_and_left_out() -> None:
    made = rows([0.5, 0.0], [0.5, 0], kind="cycle", duty=1.0)
    nothing = swinging().track_loads(rows=made)
    assert nothing.sizes["block"] == 0 and "guide: not told" in nothing.attrs["missing"]
    assert "rack, belt or screw not told" in nothing.attrs["missing"]
    afloat = swinging(guide(height=None)).track_loads(rows=made)
    assert np.isnan(afloat.radial_greatest.values).all() and "height of the blocks" in afloat.attrs["missing"]
    bare = swinging(aw.Guide((-0.1, 0.1), (-0.2, 0.2), height=0.05)).track_loads(rows=made)
    for words in ("static rating not told", "dynamic rating and kind not told: life", "no beam told under its rails"):
        assert words in bare.attrs["missing"]
    assert np.isnan(bare.static_safety.values).all() and np.isnan(bare.life.values).all()
    assert np.isfinite(bare.radial_greatest.values).all()
    still = swinging(guide()).track_loads(rows=rows([0.5, 0.0]))
    assert np.isnan(still.life.values).all() and "no lasting duty" in still.attrs["missing"]
    for out in (nothing, afloat, bare, still):
        assert all(f"left out: {line}" in summary(out) for line in out.attrs["missing"].splitlines())


def test_a_slanted_track_and_rails_on_a_wall() -> None:
    """Up a slope of 30° the feed holds half the weight. With the rails' upright level, the weight is sideways."""
    out = swinging(guide(), mount=(0, 0, 0), pose=_turned(-np.pi / 6)).track_loads(rows=rows([0.5, 0.0]))
    assert out.feed_value.values[0] == pytest.approx(WEIGHT / 2)
    assert out.held_force.sel(held="rest").item() == pytest.approx(WEIGHT / 2)
    assert out.radial_greatest.sum().item() == pytest.approx(WEIGHT * np.cos(np.pi / 6))
    wall = swinging(guide(up=(0, 1, 0)), mount=(0, 0, 0)).track_loads(rows=rows([0.5, 0.0]))
    yaw = SWUNG * G * REACH / (2 * LONG)  # across is up × along, downwards
    np.testing.assert_allclose(wall.lateral_greatest.values, WEIGHT / 4 + yaw * np.array([-1, 1, -1, 1]))
    np.testing.assert_allclose(np.abs(wall.radial_greatest.values), WEIGHT * LOW / (2 * WIDE))


def _turned(angle: float) -> Any:
    pose = np.eye(4)
    pose[:3, :3] = [[np.cos(angle), 0, np.sin(angle)], [0, 1, 0], [-np.sin(angle), 0, np.cos(angle)]]
    return pose


def test_wrong_input_is_refused() -> None:
    cell = swinging(guide())
    made = rows([0.5, 0.0])
    wrong: tuple[tuple[dict[str, Any], str], ...] = (
        ({"rows": made, "reliability": 0.5}, "reliability"), ({"rows": made, "reliability": 1.0}, "reliability"),
        ({"rows": made, "wanted_static": 0.0}, "wanted_static"), ({"rows": "none"}, "rows"), ({"cycle": 3.0}, "cycle"),
    )  # fmt: skip
    for options, words in wrong:
        with pytest.raises(InputError, match=words):
            cell.track_loads(**options)
    fixed = aw.Cell(cell.description.arm)
    with pytest.raises(InputError, match="track"):
        fixed.track_loads()


def test_by_an_executor_and_from_a_store_it_is_the_same(tmp_path: Any) -> None:
    cell, made = swinging(guide()), rows([[0.5, 0.0], [0.6, 1.0]], kind="cycle", duty=1.0)
    alone = cell.track_loads(rows=made)
    with ThreadPoolExecutor(1) as pool:
        spread = cell.track_loads(rows=made, executor=pool, store=tmp_path / "kept")
    again = cell.track_loads(rows=made, store=tmp_path / "kept")
    assert alone.identical(spread) and alone.identical(again)
