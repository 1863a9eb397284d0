"""The few lines about cycles and drives say the studies' answers."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.results import summary
from cases.driven_cells import driven_arm, supply, swing, thirds, turntable
from cases.moving_cells import moving_cell

LOAD = aw.Load(2.0, (0.05, 0, 0.02))
CYCLE = aw.Cycle((
    aw.JointMove("rack", via_approach=True, name="in"), aw.PickUp(), aw.Dwell(0.25, name="grips"),
    aw.JointMove("kiln", name="over"), aw.SetDown(),
), name="to the kiln")  # fmt: skip


def test_a_motion_tells_its_moves() -> None:
    motion = moving_cell().motion(CYCLE)
    lines = summary(motion).splitlines()
    assert lines[1].strip() == f"to the kiln: {motion.attrs['duration']:.2f} s"
    grips = next(line for line in lines if "grips" in line)
    k = list(motion.move.values).index("grips")
    assert grips.split()[0] == f"{motion.move_start.item(k):.2f}" and "grips, 0.25 s" in grips
    assert f"nearest {1000 * motion.move_clearance.item(k):.0f} mm" in grips
    assert motion.move_clearance_name_a.item(k) in grips and motion.move_clearance_name_b.item(k) in grips


def test_a_motion_through_something_says_so() -> None:
    motion = moving_cell().motion(CYCLE)
    motion["move_clearance"].values[:] = -0.012
    assert "OVERLAP of 12 mm" in summary(motion) and "nearest" not in summary(motion)


def test_the_most_loaded_part_comes_first() -> None:
    checked = driven_arm().drive_check(swing(loads=LOAD))
    lines = summary(checked).splitlines()
    parts = ~np.char.startswith(checked.share_part.values.astype(str), "joint")
    shares = checked.share.values[parts]
    said = [float(line.split(" at ")[1].split(" %")[0]) for line in lines if "of what it bears" in line]
    assert said == pytest.approx(100 * np.sort(shares)[::-1][: len(said)], abs=0.5) and len(said) == 4
    a = checked.attrs
    assert f"could go {a['speed_factor']:.2f} times as fast ({a['speed_limit']})" in summary(checked)
    assert f"could carry {a['greatest_load_mass']:.3g} kg instead of 2 kg ({a['load_limit']})" in summary(checked)
    assert "on and on" in lines[1]
    once = summary(driven_arm().drive_check(swing(loads=LOAD, repeated=False), factors=False))
    assert "on and on" not in once and "could" not in once


def test_payload_against_time_names_the_paces() -> None:
    curve = driven_arm().payload_against_time(swing(loads=LOAD), slowing=[0.75, 1, 1.5, 2, np.inf])
    lines = [line.strip() for line in summary(curve).splitlines()[1:]]
    assert len(lines) == 5 and lines[-1].split(" kg")[1].startswith(" held still (")
    for line, mass, time in zip(lines[:-1], curve.mass.values, curve.duration.values, strict=False):
        assert line.startswith(f"{mass:.3g} kg in {time:.2f} s (axis ")
    curve["mass"].values[0] = 0
    assert f"not in {curve.duration.item(0):.2f} s (axis" in summary(curve)


def test_power_tells_mains_and_branch_circuit() -> None:
    result = turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply())
    said = summary(result)
    assert f"peak {result.attrs['electrical_peak']:.0f} W" in said and "mains 230 V, 1 phase: " in said
    assert f"brake resistor {result.attrs['resistor_energy']:.0f} J" in said
    assert f"{100 * result.attrs['branch_share']:.0f} % of the branch circuit (80 % of 16 A" in said
    assert "licensed" in said
    without = summary(turntable().power(thirds(np.pi / 2, 0.6, 0.6), supply(branch_current=None, phases=3)))
    assert "branch circuit" not in without and "3 phases" in without


def test_setpoints_tell_the_greatest_rate() -> None:
    points = turntable().setpoints(thirds(np.pi / 2, 0.6, 0.6), 100)
    # 3750 rpm of an encoder with 10 000 counts a turn: 625 000 a second
    assert "greatest rate of counts: axis 1 6.25e+05/s" in summary(points)
    assert "121 setpoints at 100 a second" in summary(points)


def test_separation_and_switches() -> None:
    # a field along the way in, 0.5 s: 1600 · 0.5 + 1200 mm
    said = summary(turntable().separation(0.5))
    assert "for a stop of 0.5 s" in said and "2000 mm" in said
    # hard stops at 3 rad either way, 0.2 rad by the brakes and 0.3 rad by the motors before
    told = summary(turntable().switches(0.3, 0.2))
    assert "axis 1: soft limits -143.2° to 143.2°, switches -160.4° to 160.4°" in told
