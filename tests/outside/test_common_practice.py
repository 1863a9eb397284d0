"""Source: common practice, no source. A one-off arm of the trade: a motor of 0.75 to 1 kW at the shoulder, 3000
rpm, through a reducer of the order of 100:1, holds about 14 kg (30 lb) stretched to a little over 1 m. The arm here
is our own: a plain sum of tubes, motors and reducers. Tolerance: 14 kg must lie between what the small and the
large motor hold, and both within 14 kg times or over 1.5."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np

import armwright as aw

POUND = 0.45359237  # kg, by definition


def arm_file(power: float) -> str:
    """Rated torque P/w at 3000 rpm; 100:1 at 80 % (strain-wave or cycloidal stage with its belt). Joints 2 and 3
    alike; the wrist is strong enough not to govern. Masses: motors and reducers at the joints, aluminium tubes
    between."""
    rated = power / (3000 * 2 * math.pi / 60)
    motor = f'motor = {{ continuous = "{rated:.4f} N*m", ratio = 100, efficiency = 0.8 }}'
    wrist = 'torque = "60 N*m"'
    joints = [
        ("z", "0 mm, 0 mm, 250 mm", motor, "14 kg", "0 mm, 0 mm, 100 mm"),
        ("y", "0 mm, 0 mm, 200 mm", motor, "9.5 kg", "280 mm, 0 mm, 0 mm"),  # upper arm with the elbow's drive
        ("y", "530 mm, 0 mm, 0 mm", motor, "4.5 kg", "150 mm, 0 mm, 0 mm"),
        ("x", "400 mm, 0 mm, 0 mm", wrist, "1.6 kg", "0 mm, 0 mm, 0 mm"),
        ("y", "0 mm, 0 mm, 0 mm", wrist, "1.1 kg", "20 mm, 0 mm, 0 mm"),
        ("x", "60 mm, 0 mm, 0 mm", wrist, "0.5 kg", "20 mm, 0 mm, 0 mm"),
    ]
    rows = ['name = "practice arm"', 'flange = { position = "60 mm, 0 mm, 0 mm" }']
    for axis, position, torque, mass, centre in joints:
        rows += ["[[joint]]", f'origin = {{ position = "{position}" }}', f'axis = "{axis}"',
                 'range = ["-170 deg", "170 deg"]', torque,
                 f'link = {{ mass = "{mass}", centre = "{centre}" }}']  # fmt: skip
    return "\n".join(rows)


def held(folder: Path, power: float) -> Any:
    path = folder / f"arm_{power:.0f}.toml"
    path.write_text(arm_file(power), encoding="utf-8")
    arm = aw.load_arm(path)
    q = np.zeros(6)
    assert 1.0 < arm.tool_pose(q)[0, 3] < 1.1, "stretched level to a little over 1 m"
    return arm.payload(q)


def test_about_thirty_pounds_at_a_metre(tmp_path: Path) -> None:
    small, large = held(tmp_path, 750.0), held(tmp_path, 1000.0)
    assert int(small.joint) == 1 and int(large.joint) == 1
    about = 30 * POUND
    assert about / 1.5 < float(small.mass) < about < float(large.mass) < about * 1.5
