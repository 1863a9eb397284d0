"""Torques of stages in a stop, against inverse dynamics of the recorded course."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.described import track_cell
from cases.stopping import SIZES, braked_arm, braked_cell

Q = np.array([0.3, 0.4, -0.6, 0.3, 0.5, 0.2])
QD = np.array([1.0, 1, -1, 1, 1, 1])
COULOMB = np.array([size[4] for size in SIZES])
STEP = 1e-4
CARRIED = braked_cell().load


def rated(peak: float, **changes: Any) -> aw.ArmDescription:
    """The braked arm, every gear with a momentary peak."""
    arm = braked_arm(**changes)
    joints = []
    for joint in arm.joints:
        gear = replace(joint.drive.stages[0], momentary_peak_torque=peak)
        joints.append(replace(joint, drive=replace(joint.drive, stages=(gear,))))
    return replace(arm, joints=tuple(joints))


@pytest.mark.parametrize("category", [0, 1])
def test_torques_are_those_of_the_recorded_motion(category: int) -> None:
    """Accelerations by differences of the rows, torques by inverse dynamics; at the gear's output friction on top."""
    cell = braked_cell()
    found = cell.stop(Q, QD, category, row_step=STEP)
    time, q, qd = (found[name].values for name in ("time", "position", "speed"))
    even = np.isclose(np.diff(time), STEP)
    q, qd, time = q[:-1][even], qd[:-1][even], time[:-1][even]
    qdd = (qd[2:] - qd[:-2]) / (2 * STEP)
    torque = cell.inverse_dynamics(q[1:-1], qd[1:-1], qdd) + COULOMB * np.sign(qd[1:-1]) + 0.5 * qd[1:-1]
    # Differences across a jump of the acceleration tell nothing.
    jump = np.abs(qdd[2:] - qdd[:-2]).max(axis=1) > 0.5
    smooth = np.ones(len(torque), bool)
    for i in np.flatnonzero(jump):
        smooth[max(i - 1, 0) : i + 4] = False
    assert smooth.mean() > 0.9
    greatest = np.abs(torque[smooth]).max(axis=0)
    np.testing.assert_allclose(found.stage_torque.values[:, 0], greatest, rtol=0.02)
    assert (found.stage_torque.values[:, 0] > greatest * (1 - 1e-3)).all(), "never less than what was seen"
    assert np.isnan(found.stage_torque.values[:, 1:]).all()
    assert found.stage_name.values[:, 0].tolist() == ["strain wave"] * 6


def test_shares_are_of_the_momentary_peak_and_too_much_is_told() -> None:
    found = braked_cell(rated(1e4)).stop(Q, QD)
    np.testing.assert_allclose(found.stage_torque_share.values[:, 0], found.stage_torque.values[:, 0] / 1e4)
    worst = int(found.stage_torque.values[:, 0].argmax())
    torque = found.stage_torque.values[worst, 0]
    said = summary(found)
    assert f"joint {worst + 1}, strain wave: {torque:.3g} N·m in the stop, " in said and "against" not in said
    over = braked_cell(rated(0.9 * torque)).stop(Q, QD)
    np.testing.assert_allclose(over.stage_torque.values, found.stage_torque.values)
    line = f"joint {worst + 1}, strain wave: {torque:.3g} N·m in the stop against {0.9 * torque:.3g} N·m momentary peak"
    assert line in summary(over)
    assert summary(over).count("momentary peak") == (over.stage_torque_share.values > 1).sum()
    untold = braked_cell().stop(Q, QD)
    assert np.isnan(untold.stage_torque_share.values).all() and "momentary" not in summary(untold)


def test_many_stops_have_each_their_own() -> None:
    cell = braked_cell(rated(1e4))
    many = cell.stop(np.stack([Q, -Q]), np.stack([QD, 0.5 * QD]))
    for i, (q, qd) in enumerate(((Q, QD), (-Q, 0.5 * QD))):
        alone = cell.stop(q, qd)
        for name in ("stage_torque", "stage_torque_time", "stage_torque_share"):
            np.testing.assert_array_equal(many[name].values[i], alone[name].values)
    most = many.stage_torque.values[..., 0].max()
    assert f"{most:.3g} N·m in the stop" in summary(many)
    assert "no stops" in summary(cell.stop(np.zeros((0, 6)), np.zeros((0, 6))))


def test_an_impact_is_not_in_it_and_that_is_said() -> None:
    hit = track_cell().stop(np.zeros(7), [2.0, 0, 0, 0, 0, 0, 0], time_limit=0.6)
    assert "what an impact at the end of a range asks of the stages is not known" in summary(hit)
    assert "impact" not in summary(braked_cell().stop(Q, QD))


def test_a_screw_pushes_in_newtons() -> None:
    """A carriage on a screw, braked at the motor: m a on the screw, and the belt before it."""
    lead, mass, brake, rotor = 0.02, 12.0, 4.0, 2e-4
    drive = aw.Drive(
        aw.Motor(continuous=5, peak=15, rotor_inertia=rotor, max_speed=600),
        [aw.Stage("belt", 2, efficiency=1), aw.Stage("screw", lead=lead, efficiency=1, momentary_peak_torque=1000)],
        aw.Brake(brake, delay=0),
    )
    joint = aw.Joint("slide", "prismatic", axis=(1, 0, 0), range=(0, 3), drive=drive)
    arm = aw.ArmDescription([joint], [aw.Link("carriage", mass)])
    found = aw.Cell(arm).stop([0.1], [0.5])
    ratio = 2 * 2 * np.pi / lead
    slowing = ratio * brake / (mass + ratio**2 * rotor)
    np.testing.assert_allclose(found.stage_torque.values[0, :2], [mass * slowing * lead / (2 * np.pi), mass * slowing])
    assert f"slide, screw: {mass * slowing:.3g} N in the stop, 33 % of its 1000 N momentary peak" in summary(found)


def test_a_table_names_the_stop_in_which_a_stage_bears_most() -> None:
    cell = braked_cell(rated(100.0))
    table = cell.stop_table()
    case = str(table.stage_torque_case.values[1, 0])
    mover, category, speed, load, extension = (int(number) for number in re.findall(r"\d+", case))
    where = {"speed_share": speed / 100, "load_share": load / 100, "extension_share": extension / 100}
    row = table.sel(axis=f"joint {mover}", category=category, **where)
    qd = np.zeros(6)
    qd[mover - 1] = where["speed_share"] * table.axis_speed.values[mover - 1]
    q = table.posture.sel(extension_share=where["extension_share"]).values
    carried = aw.Load(4.0 * where["load_share"], CARRIED.centre, where["load_share"] * CARRIED.inertia)
    alone = cell.stop(q, qd, category, load=carried)
    assert table.stage_torque.values[1, 0] == pytest.approx(alone.stage_torque.values[1, 0], rel=1e-9)
    assert row.stage_share.item() == pytest.approx(alone.stage_torque_share.max().item(), rel=1e-9)
    assert table.stage_share.max().item() == pytest.approx(table.stage_torque_share.max().item())
    assert f"against 100 N·m momentary peak ({case})" in summary(table)
