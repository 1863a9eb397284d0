"""Feeds of a track: by hand on an arm of one upright axis."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.railed_cells import CARRIAGE, COULOMB, SWUNG, VISCOUS, driven, rows

MASS = CARRIAGE + SWUNG
FORCE = 3.0 * MASS + COULOMB + VISCOUS * 0.5  # speeding up by 3 m/s² at 0.5 m/s
STARTING = rows([0.5, 0.0], [0.5, 0], [3.0, 0], kind="cycle", duty=1.0)


def figures(out: Any) -> dict[str, tuple[float, float, float]]:
    """Value, allowed, safety by the name of the check."""
    each = (out.feed_value.values, out.feed_allowed.values, out.feed_safety.values)
    return {str(name): row for name, row in zip(out.feed_check.values, zip(*each, strict=True), strict=True)}


def test_a_rack() -> None:
    rack = aw.Stage("rack", radius=0.02, efficiency=0.97)
    feed = aw.RackFeed(0.002, teeth=20, face_width=0.02, allowed_force=500.0, allowed_stress=120e6, overhang=0.03,
                       allowed_shaft_force=180.0, across=0.2, height=0.05)  # fmt: skip
    out = driven(rack, feed).track_loads(rows=STARTING)
    found = figures(out)
    across = FORCE / np.cos(np.deg2rad(20))
    assert found["force along the track"] == pytest.approx((FORCE, 500.0, 500.0 / FORCE))
    assert found["teeth: parting force"][0] == pytest.approx(FORCE * np.tan(np.deg2rad(20)))
    assert found["pinion shaft: force across"] == pytest.approx((across, 180.0, 180.0 / across))
    assert found["pinion shaft: bending moment"][0] == pytest.approx(across * 0.03)
    assert found["teeth: stress at the foot"][0] == pytest.approx(FORCE / (0.02 * 0.002 * 0.322))
    assert f"feed: pinion shaft: force across: safety {180.0 / across:.3g}, less than 1" in out.attrs["warnings"]
    assert "pinion shaft: force across" in summary(out)
    # the feed beside the rails turns the carriage: the lateral loads are those of that moment alone
    yaw = 3.0 * MASS * 0.2
    assert np.abs(out.lateral.values[0]).max() == pytest.approx(yaw / (2 * 0.4))


def test_friction_acts_against_the_way_that_it_comes_to_rest_or_sets_off() -> None:
    """A stop's last row has a speed of rounding, whose sign says nothing; by hand."""
    cell = driven(aw.Stage("rack", radius=0.02), aw.RackFeed(0.002))
    q = [[0.5, 0.0], [0.51, 0.0]]

    def most(speed: Any, pull: float) -> float:
        out = cell.track_loads(rows=rows(q, [[v, 0] for v in speed], [[pull, 0]] * 2, kind="stop"))
        return figures(out)["force along the track"][0]

    for last in (0.0, -1e-17, 1e-17):
        assert most((0.2, last), -3.0) == pytest.approx(3.0 * MASS - COULOMB)
        assert most((-0.2, last), 3.0) == pytest.approx(3.0 * MASS - COULOMB)
        assert most((last, 0.01), 3.0) == pytest.approx(3.0 * MASS + COULOMB + 0.01 * VISCOUS)
    assert most((0.0, 0.0), 3.0) == pytest.approx(3.0 * MASS)  # nothing tells which way


def test_what_of_a_rack_is_not_told_or_not_known() -> None:
    rack = aw.Stage("rack", radius=0.02)
    bare = driven(rack, aw.RackFeed(0.002)).track_loads(rows=STARTING).attrs["missing"]
    for words in ("allowed force not told", "allowed shaft force not told", "overhang or radius", "face width not told",
                  "across and height of its line not told"):  # fmt: skip
        assert words in bare
    few = aw.RackFeed(0.004, teeth=10, face_width=0.02, allowed_stress=1e8)
    assert "begin at 12 teeth" in driven(rack, few).track_loads(rows=STARTING).attrs["missing"]
    steep = aw.RackFeed(0.002, teeth=20, face_width=0.02, pressure_angle="25 deg", allowed_stress=1e8)
    assert "those of 20 deg" in driven(rack, steep).track_loads(rows=STARTING).attrs["missing"]


def test_a_belt() -> None:
    pulley = aw.Stage("belt", radius=0.025)
    feed = aw.BeltFeed(allowed_force=600.0, preload=150.0, specific_stiffness=40e3, length=6.4)
    out = driven(pulley, feed).track_loads(rows=STARTING)
    found = figures(out)
    tight = "belt: tight strand, carriage at the driving pulley"
    assert found[tight] == pytest.approx((FORCE + 150, 600.0, 600.0 / (FORCE + 150)))
    slack = "belt: preload that keeps the slack strand tight"
    assert found[slack] == pytest.approx((FORCE, 150.0, 150.0 / FORCE))
    assert found["belt: how far it gives, amid its loop"][0] == pytest.approx(FORCE * 6.4 / (4 * 40e3))
    assert "slack strand can go loose" in out.attrs["warnings"]
    loose = driven(pulley, aw.BeltFeed(allowed_force=600.0)).track_loads(rows=STARTING)
    assert "preload not told" in loose.attrs["missing"] and np.isnan(figures(loose)["force along the track"][2])


def test_a_screw() -> None:
    stage = aw.Stage("screw", lead=0.02)
    feed = aw.ScrewFeed(0.014, 1.6, "fixed, supported", allowed_force=800.0, max_speed=200.0)
    out = driven(stage, feed).track_loads(rows=STARTING)
    found = figures(out)
    turning = 0.5 / 0.02 * 2 * np.pi
    assert found["screw: speed"] == pytest.approx((turning, 200.0, 200.0 / turning))
    buckles = 2.045748 * np.pi**2 * 210e9 * np.pi * 0.014**4 / 64 / 1.6**2
    assert found["screw: buckling"] == pytest.approx((FORCE, buckles, buckles / FORCE))
    whirls = (3.926602 / 1.6) ** 2 * 0.014 / 4 * np.sqrt(210e9 / 7850)
    assert found["screw: whirling"] == pytest.approx((turning, whirls, whirls / turning))
    assert whirls / turning > 0.5 and ("whirling" in out.attrs["warnings"]) == (whirls / turning < 1.25)
    bare = driven(stage, aw.ScrewFeed()).track_loads(rows=STARTING).attrs["missing"]
    assert "root diameter, length, ends not told" in bare and "greatest speed not told" in bare


def test_with_a_cycle_the_drive_check_is_told_too() -> None:
    """Out by 0.4 m in 1.2 s in thirds, and back; shares are the drive check's own."""
    v, a, t = 0.5, 1.25, 0.4
    times = [0, t, t, 2 * t, 2 * t, 3 * t, 3 * t, 4 * t, 4 * t, 5 * t, 5 * t, 6 * t]
    track = [0, 0.1, 0.1, 0.3, 0.3, 0.4, 0.4, 0.3, 0.3, 0.1, 0.1, 0]
    speed = [0, v, v, v, v, 0, 0, -v, -v, -v, -v, 0]
    pull = [a, a, 0, 0, -a, -a, -a, -a, 0, 0, a, a]
    still = np.zeros(12)
    motion = aw.TimedMotion(times, *(np.column_stack([np.array(x, float), still]) for x in (track, speed, pull)))
    cell = driven(aw.Stage("rack", radius=0.02), aw.RackFeed(0.002))
    out, checked = cell.track_loads(motion), cell.drive_check(motion, factors=False)
    found = figures(out)
    names = [str(name) for name in checked.check.values if str(name).startswith("track: motor")]
    assert len(names) >= 3
    for name in names:
        share = float(checked.share.values[list(checked.check.values).index(name)])
        assert found["drive, " + name.removeprefix("track: ")] == pytest.approx((share, 1.0, 1 / share))
    assert "its drive is looked at" not in out.attrs["missing"]
    assert "motor and stages are left out" in cell.track_loads(rows=STARTING).attrs["missing"]
    assert found["force along the track"][0] == pytest.approx(a * MASS + COULOMB + VISCOUS * v)
    assert out.attrs["travel"] == pytest.approx(0.8, rel=1e-9) and out.attrs["stroke"] == pytest.approx(0.4)
