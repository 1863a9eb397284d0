"""The few lines about stops and holding say the studies' answers."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

import armwright as aw
from armwright.results import summary
from cases.described import track_cell
from cases.stopping import braked_arm, braked_cell

Q = np.array([0.3, 0.4, -0.6, 0.3, 0.5, 0.2])


def test_a_stop_tells_how_it_ends() -> None:
    found = braked_cell().stop(Q, np.ones(6), 1)
    said = summary(found)
    assert "category 1: 1 rest" in said and "meets the end" not in said
    assert f"{found.stop_time.item():.3g} s at most" in said
    assert f"{1000 * found.tool_drop.item():.3g} mm lower at the lowest" in said
    assert f"the tool point for {1000 * found.tool_path.item():.3g} mm, " in said
    hit = track_cell().stop(np.zeros(7), [2.0, 0, 0, 0, 0, 0, 0], time_limit=0.6)
    assert f"track meets the end of its range at {hit.impact_speed.item(0):.3g} m/s" in summary(hit)


def test_a_brake_that_takes_too_much_is_named() -> None:
    found = braked_cell().stop(Q, np.ones(6))
    assert "times the energy" not in summary(found)
    found["brake_energy_share"].values[1] = 1.5
    assert "joint 2: its brake takes 1.5 times the energy that it bears in a stop" in summary(found)


def test_a_table_tells_its_worst_rows() -> None:
    table = braked_cell().stop_table()
    worst = table.isel(speed_share=-1, load_share=-1, extension_share=-1).sel(axis="joint 2", category=0)
    line = next(line for line in summary(table).splitlines() if "joint 2, category 0" in line)
    assert f"{worst.stop_time.item():.3g} s, {math.degrees(worst.travel.item()):.3g}°" in line


def test_holding_tells_every_axis() -> None:
    arm = braked_arm()
    joints = list(arm.joints)
    joints[4] = replace(joints[4], drive=replace(joints[4].drive, brake=aw.Brake(0.01)))
    joints[5] = replace(joints[5], drive=replace(joints[5].drive, brake=None))
    cell = braked_cell(replace(arm, joints=tuple(joints)), load=aw.Load(4, (0.1, 0, 0.05)))
    held = cell.holding(time_limit=0.5)
    lines = [line.strip() for line in summary(held).splitlines()]
    assert "joint 1: nothing to hold" in lines
    second, fifth, sixth = (next(line for line in lines if line.startswith(f"joint {k}")) for k in (2, 5, 6))
    assert f"factor {held.factor.item(1):.3g}" in second and "does not hold" not in second
    assert fifth.endswith("does not hold")
    assert f"no brake; without power it moves at up to {np.degrees(held.fall_speed.item(5)):.3g} °/s" in sixth
