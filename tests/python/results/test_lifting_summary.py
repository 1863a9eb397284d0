"""The few lines about lifting and service say the studies' answers, and the cautions."""

from __future__ import annotations

import numpy as np

import armwright as aw
from armwright.results import summary
from cases.true_cells import POSTURE, serviced_cell, weighed_arm


def test_an_eye_tells_its_tilt_and_its_level_posture() -> None:
    found = aw.Cell.from_description(weighed_arm()).lifting(POSTURE)
    said = summary(found)
    row = found.isel(eye=0)
    assert f"{found.attrs['mass']:.4g} kg, centre of gravity at" in said
    assert f"shoulder eye: leans by {np.degrees(float(row.tilt)):.3g} deg" in said
    assert f"; rated 60 kg, {float(row.eye_safety):.3g} times the mass" in said
    assert f"shoulder eye: level in axis 1 {np.degrees(float(row.level_q[0])):.0f} deg" in said
    assert "not looked at: axis 6: no brake" in said
    assert found.attrs["caution"] in said and "nobody under a hanging load" in said


def test_rounding_is_no_angle_and_no_torque() -> None:
    found = aw.Cell.from_description(weighed_arm()).lifting(POSTURE)
    found["level_tilt"][0], found["level_holds"][0] = 1e-13, False
    found["level_hung_torque"][0] = [0, 0, 0, 0, 0, 5e-4]
    assert ": leans by 0 deg, NOT HELD by brakes: axis 6 less than 0.01 N·m" in summary(found)


def test_an_eye_that_is_too_weak_and_an_arm_in_its_own_way() -> None:
    weak = aw.Cell.from_description(weighed_arm(rated="20 kg")).lifting(POSTURE)
    assert "TOO LITTLE" in summary(weak)
    weak["level_clearance"][0] = -0.01
    assert "shoulder eye: in that posture the arm OVERLAPS itself" in summary(weak)


def test_a_volume_tells_where_it_is_free() -> None:
    found = serviced_cell().service(np.array([POSTURE, 0.5 * POSTURE]), samples=200)
    said = summary(found).split("\n")
    for i, volume in enumerate(found.volume.values):
        line = next(line for line in said if line.startswith(f"  {volume}: "))
        row = found.isel(volume=i)
        here = int(row.free.sum())
        assert ("free as asked" if here == 2 else f"free in {here} of 2 postures asked about") in line
        assert ("; best in axis 1" in line) == bool(row.best_free)
    assert "not looked at: axis 3: no service volume for its motor" in "\n".join(said)
    assert "prop what is beyond it" in said[-1]
