"""What the section on moves and drives says is what motion and drive_check hold."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.moves import MOVES
from cases.reported import column, driven_results, numbers, of, table


def test_limits_motors_stages_and_moves() -> None:
    results = driven_results()
    drives, motion = results["drive_check"], results["motion"]
    section = MOVES.section(of(results, "motion", "drive_check"))
    limits = table(section, "limits")
    own = [part == "joint" for part in column(limits, "part")]
    assert own == sorted(own) and any(own) and not all(own)  # a joint's own limits last
    shares = np.array(numbers(limits, "of what it bears"))
    for which in (np.array(own), ~np.array(own)):
        assert list(shares[which]) == sorted(shares[which], reverse=True)
    assert np.allclose(np.sort(shares), np.sort(drives["share"].values))
    motors = table(section, "motors")
    assert numbers(motors, "rms torque") == list(drives["motor_rms_torque"].values[drives["has_drive"].values])
    stages = table(section, "stages")
    known = drives["stage_name"].values != ""
    assert numbers(stages, "peak torque") == list(drives["stage_peak_torque"].values[known])
    assert np.array_equal(numbers(stages, "life"), drives["stage_life"].values[known], equal_nan=True)
    moves = table(section, "moves")
    assert column(moves, "move") == list(motion["move"].values) and numbers(moves, "to") == list(
        motion["move_end"].values
    )
    assert section.good is bool(
        drives.attrs["weakest_share"] <= 1 + 1e-9 and motion["move_clearance_kept"].values.all()
    )
    assert f"{motion.attrs['duration']:.2f} s" in section.headline


def test_too_much_stands_first() -> None:
    drives = driven_results()["drive_check"].copy(deep=True)
    drives["share"][0] = 1.7
    section = MOVES.section(of({"drive_check": drives}))
    assert section.good is False and section.headline.startswith("TOO MUCH in the cycle of ")
    assert f"{drives['check'].values[0]} at 170 %" in section.headline
    assert column(table(section, "limits"), "verdict")[0].words == "TOO MUCH"


def test_clearance_that_is_not_kept() -> None:
    motion = driven_results()["motion"].copy(deep=True)
    motion["move_clearance"][0], motion["move_clearance_kept"][0] = 0.01, False
    section = MOVES.section(of({"motion": motion}))
    assert section.good is False and f"LESS CLEARANCE THAN REQUIRED in {motion['move'].values[0]}" in section.headline
