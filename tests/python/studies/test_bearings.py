"""Loads by hand statics of a ball on a boom; ISO 76 and ISO 281 by hand from them."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.borne_cells import GRAVITY, HEIGHT, MASS, RADIUS, TAPERED, ball_on_axis, pair, rows_by_hand, slewing

WEIGHT = MASS * GRAVITY
HOURS = 3600.0


def only(dataset: Any) -> Any:
    return dataset.isel(bearing=0)


def test_a_turntable_by_hand() -> None:
    # The ball runs round at 2 rad/s: axial m g, tilting m g r; m ω² r outwards at the height of the ball.
    speed, angles = 2.0, np.linspace(0, 3, 4)
    found = only(ball_on_axis(slewing(offset=0.1)).bearings(rows=rows_by_hand(angles, speed, duty=[1.0, 2, 2, 1])))
    radial, axial = MASS * speed**2 * RADIUS, WEIGHT
    moment = WEIGHT * RADIUS + radial * (HEIGHT - 0.1)  # both tip it outwards
    assert found.greatest_radial.item() == pytest.approx(radial)
    assert found.greatest_axial.item() == pytest.approx(axial)
    assert found.greatest_moment.item() == pytest.approx(moment)
    tilted = radial + 2 * moment / 0.1
    p0, p = tilted + 0.44 * axial, tilted + 0.45 * axial
    assert found.static_load.item() == pytest.approx(p0)
    assert found.static_safety.item() == pytest.approx(30e3 / p0)
    assert found.wanted_static.item() == 3
    assert found.needed_static_rating.item() == pytest.approx(3 * p0)
    assert found.mean_load.item() == pytest.approx(p)
    assert found.revolutions.item() == pytest.approx(6 * speed / (2 * math.pi))
    life = (20e3 / p) ** (10 / 3) * 1e6 * 2 * math.pi / speed
    assert found.life.item() == pytest.approx(life)
    assert found.modified_life.item() == pytest.approx(life)
    assert found.worst_case.item() == "by hand"


def test_reliability_and_the_rating_for_a_wanted_life() -> None:
    cell, rows = ball_on_axis(slewing()), rows_by_hand([0.0, 1.0, 2.0], 1.0, duty=1.0)
    found = cell.bearings(rows=rows, reliability="99 %", wanted_life="20000 h")
    assert found.attrs["reliability_factor"] == pytest.approx(0.25, abs=0.005)
    assert only(found).modified_life.item() == pytest.approx(
        found.attrs["reliability_factor"] * only(found).life.item()
    )
    needed = only(found).needed_dynamic_rating.item()
    built = ball_on_axis(slewing(dynamic_rating=needed)).bearings(rows=rows, reliability="99 %")
    assert only(built).modified_life.item() == pytest.approx(20000 * HOURS)


@pytest.mark.parametrize("reliability", [0.89, "99.96 %", 1.0, "often", float("nan")])
def test_reliabilities_outside_the_standard_are_refused(reliability: Any) -> None:
    with pytest.raises(aw.InputError, match="reliability"):
        ball_on_axis(slewing()).bearings(rows=rows_by_hand(0.0), reliability=reliability)


def test_wanted_figures_are_checked() -> None:
    for option, value in (("wanted_static", 0.5), ("wanted_static", "two"), ("wanted_life", 0), ("wanted_life", "9 m")):
        with pytest.raises(aw.InputError, match=option):
            ball_on_axis(slewing()).bearings(rows=rows_by_hand(0.0), **{option: value})


def test_an_overhung_pair_by_levers() -> None:
    # The axis is level along y, the ball 0.45 m along it from the middle of the pair, right below the axis.
    cell = ball_on_axis(pair(offset=-0.05), axis="y", centre=(0, 0.4, -0.2))
    found = cell.bearings(rows=rows_by_hand(0.0))
    far, near = WEIGHT * (0.45 + 0.1) / 0.2, WEIGHT * (0.45 - 0.1) / 0.2
    assert found.bearing.values.tolist() == ["axis 1: bearing pair, near", "axis 1: bearing pair, far"]
    assert found.greatest_radial.values == pytest.approx([near, far])
    assert found.greatest_axial.values == pytest.approx([0, 0], abs=1e-9)
    assert found.static_safety.values == pytest.approx([9e3 / near, 8e3 / far])
    assert found.attrs["weakest"] == "axis 1: bearing pair, far"
    assert np.isnan(found.greatest_moment).all()


def test_the_fixed_bearing_takes_the_axial_force() -> None:
    for fixed, place in (("near", 0), ("far", 1)):
        found = ball_on_axis(pair(fixed=fixed), centre=(0, 0, HEIGHT)).bearings(rows=rows_by_hand(0.0))
        expected = np.zeros(2)
        expected[place] = WEIGHT
        assert found.greatest_axial.values == pytest.approx(expected)
        assert found.static_load.values == pytest.approx(0.5 * expected)  # ISO 76: 0.5 Fa


def test_a_tapered_pair_by_hand() -> None:
    # Upright, back to back, which ring moves not told. The weight's moment on both: M / (span + 2 · 10 mm).
    cell = ball_on_axis(pair(TAPERED))
    found = cell.bearings(rows=rows_by_hand(0.0))
    radial = WEIGHT * RADIUS / 0.12
    induced = radial / (2 * 0.4 / math.tan(math.radians(14)))
    axial = induced + WEIGHT  # either may be the one that is pressed
    assert found.greatest_radial.values == pytest.approx([radial, radial])
    assert found.greatest_axial.values == pytest.approx([axial, axial])
    p0 = max(radial, 0.5 * radial + 0.22 / math.tan(math.radians(14)) * axial)
    assert found.static_load.values == pytest.approx([p0, p0])
    assert "no moved ring" in found.attrs["assumptions"]


def test_the_span_needed_gives_the_safety_wanted() -> None:
    rows = rows_by_hand(np.linspace(0, 2, 5), 3.0)
    for told in (pair(TAPERED), pair(TAPERED, arrangement="face to face"), pair(offset=0.03)):
        needed = ball_on_axis(told).bearings(rows=rows, wanted_static=20.0).needed_span.item()
        assert 0.02 < needed < 2
        options = {name: getattr(told, name) for name in told.__dataclass_fields__}
        at = ball_on_axis(aw.BearingPair(**(options | {"span": needed}))).bearings(rows=rows)
        assert at.static_safety.min().item() == pytest.approx(20, rel=1e-6)


def test_on_the_limit_line_the_safety_is_the_one_wanted() -> None:
    found = ball_on_axis(slewing(static_moment_rating=2000.0)).bearings(rows=rows_by_hand(0.0), wanted_static=2.0)
    axial, moment = found.limit_axial.values[0], found.limit_moment.values[0]
    assert np.all(np.diff(axial) > 0) and not np.isnan(moment).any()
    line = np.minimum((30e3 / 2 - 0.44 * np.abs(axial)) * 0.1 / 2, 1000)
    assert moment == pytest.approx(line, abs=1e-3)
    assert axial[[0, -1]] == pytest.approx([-15e3 / 0.44, 15e3 / 0.44])


def test_a_makers_line_counts_besides() -> None:
    line = (("0 kN", "900 N*m"), ("20 kN", "400 N*m"))
    told = slewing(limit_line=line)
    found = ball_on_axis(told).bearings(rows=rows_by_hand(0.0), wanted_static=1.0)
    moment, axial = WEIGHT * RADIUS, WEIGHT
    # k M = 900 - 500/20e3 · k Fa
    assert only(found).line_safety.item() == pytest.approx(900 / (moment + 0.025 * axial))
    assert only(found).safety.item() == pytest.approx(
        min(only(found).line_safety.item(), only(found).static_safety.item())
    )
    assert found.limit_moment.values[0, 20] == pytest.approx(900, rel=0.01)
    assert found.limit_axial.values[0, -1] == pytest.approx(20e3)
    alone = ball_on_axis(slewing(limit_line=line, static_rating=None)).bearings(rows=rows_by_hand(0.0))
    assert np.isnan(only(alone).static_safety) and only(alone).safety.item() == only(found).line_safety.item()
    assert alone.limit_moment.values[0, 20] == pytest.approx(300, rel=0.01)  # a safety of 3


def test_what_is_not_told_is_named_and_left_out() -> None:
    bare = ball_on_axis(aw.SlewingBearing("crossed roller")).bearings(rows=rows_by_hand(0.0, 1.0, duty=1.0))
    assert np.isnan(only(bare).safety) and np.isnan(only(bare).life) and np.isnan(bare.limit_moment).all()
    for text in ("no pitch diameter", "no static rating", "no roller count"):
        assert text in bare.attrs["missing"]
    none = ball_on_axis(None).bearings(rows=rows_by_hand(0.0))
    assert none.sizes["bearing"] == 0
    assert "axis 1: no bearing is described" in none.attrs["missing"]
    spanless = ball_on_axis(pair(span=None)).bearings(rows=rows_by_hand(0.0))
    assert spanless.sizes["bearing"] == 0 and "no span" in spanless.attrs["missing"]
    unrated = ball_on_axis(pair(dynamic_rating=None, static_rating=None)).bearings(rows=rows_by_hand(0.0))
    assert "no dynamic rating" in unrated.attrs["missing"] and "no static rating" in unrated.attrs["missing"]
    assert np.isnan(unrated.safety).all() and np.isfinite(unrated.static_load).all()


def test_a_contact_angle_that_is_not_told_or_outside_the_tables_leaves_the_loads_out() -> None:
    for angle, words in ((None, "neither a contact angle"), ("55 deg", "ISO 281")):
        told = pair(TAPERED, kind="angular contact", contact_angle=angle)
        found = ball_on_axis(told).bearings(rows=rows_by_hand(0.0, 1.0, duty=1.0))
        assert words in found.attrs["missing"]
        for name in ("static_load", "static_safety", "life", "greatest_axial"):
            assert np.isnan(found[name]).all(), name
        assert np.isfinite(found.greatest_radial).all()
    factors = {"factor_x": 0.4, "factor_y": 1.6, "static_factor_x": 0.5, "static_factor_y": 0.9}
    rows = rows_by_hand([0.0, 1.0, 2.0], 1.0, duty=1.0)
    own = ball_on_axis(pair(TAPERED, contact_angle=None, **factors)).bearings(rows=rows)
    assert "contact" not in own.attrs["missing"] and np.isfinite(own.life).all()


def test_life_is_not_told_for_what_does_not_turn_or_hardly_swings() -> None:
    still = ball_on_axis(slewing()).bearings(rows=rows_by_hand([0.0, 0.0], 0.0, duty=1.0))
    assert np.isnan(only(still).life) and "does not turn" in still.attrs["flags"]
    critical = 4 * math.pi / 20
    small = np.array([0.0, 0.49, 0.98]) * critical
    short = ball_on_axis(slewing()).bearings(rows=rows_by_hand(small, 0.2, duty=1.0))
    assert only(short).critical_swing.item() == pytest.approx(critical)
    assert np.isnan(only(short).life) and "do not overlap" in short.attrs["flags"]
    enough = ball_on_axis(slewing()).bearings(rows=rows_by_hand(1.05 * small, 0.2, duty=1.0))
    assert np.isfinite(only(enough).life)
    unknown = ball_on_axis(slewing(roller_count=None)).bearings(rows=rows_by_hand(small, 0.2, duty=1.0))
    assert np.isfinite(only(unknown).life) and "not looked at" in unknown.attrs["missing"]
    nothing = ball_on_axis(slewing()).bearings(rows=rows_by_hand([0.0, 1.0], 1.0))
    assert np.isnan(only(nothing).life) and "nothing lasts" in nothing.attrs["missing"]


def test_loads_beyond_what_the_standard_is_meant_for_are_flagged_with_the_clause() -> None:
    rows = rows_by_hand([0.0, 1.0, 2.0], 1.5, duty=1.0)
    weak = ball_on_axis(slewing(dynamic_rating=5e3)).bearings(rows=rows)
    assert "C/2" in weak.attrs["flags"] and "7.3.2" in weak.attrs["flags"] and not only(weak).life_valid
    balls = ball_on_axis(pair(dynamic_rating=700.0, static_rating=700.0), centre=(0, 0, 0)).bearings(rows=rows)
    assert "5.3.2" in balls.attrs["flags"]
    assert "Fa/C0" in ball_on_axis(pair(static_rating=600.0), centre=(0, 0, 0)).bearings(rows=rows).attrs["flags"]
    fine = ball_on_axis(slewing()).bearings(rows=rows)
    assert fine.attrs["flags"] == "" and only(fine).life_valid


def test_slow_turning_is_said() -> None:
    slow = ball_on_axis(slewing()).bearings(rows=rows_by_hand([0.0, 1.0], 0.5, duty=1.0))
    assert "below 10 r/min" in slow.attrs["flags"] and only(slow).life_valid


def test_peaks_count_for_safety_and_not_for_life() -> None:
    # The second row brakes hard and stands for no time.
    angles, speeds = [0.0, 1.0, 2.0], [1.0, 8.0, 1.0]
    with_peak = only(ball_on_axis(slewing()).bearings(rows=rows_by_hand(angles, speeds, duty=[1.0, 0.0, 1.0])))
    without = only(ball_on_axis(slewing()).bearings(rows=rows_by_hand([0.0, 2.0], 1.0, duty=1.0)))
    assert with_peak.life.item() == pytest.approx(without.life.item())
    assert with_peak.greatest_radial.item() == pytest.approx(MASS * 64 * RADIUS)
    assert with_peak.static_safety.item() != pytest.approx(without.static_safety.item())


def test_rows_are_in_the_digest() -> None:
    cell = ball_on_axis(slewing())
    one, other = (cell.bearings(rows=rows_by_hand(angle)).attrs["inputs_digest"] for angle in (0.0, 0.1))
    assert one != other
