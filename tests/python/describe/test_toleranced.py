"""Tolerances of positions, angles and inertias are kept from the file to the design numbers."""

from __future__ import annotations

import copy
import math
import pickle
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright import describe
from armwright.describe.design_numbers import design_number, design_numbers, with_numbers
from armwright.describe.pose import angles_of
from armwright.describe.toleranced import tolerance_of

ARM = """
name = "unsure"
[[joint]]
origin = { position = "0, 0, 400 mm ± 1 mm" }
range = ["-170 deg ± 1 deg", "170 deg"]
torque = { continuous = "180 N*m ± 10 %", peak = "400 N*m" }
link = { name = "turret", mass = "12 kg ± 5 %", centre = "0, 0, 60 mm ± 5 mm" }

[[joint]]
origin = { position = "80 mm ± 0.5 mm, 0, 150 mm", roll_pitch_yaw = "0, 90 deg ± 0.1 deg, 0 deg" }
range = ["-80 deg", "110 deg"]
motor = { continuous = "2 N*m ± 10 %", ratio = "100 ± 1", efficiency = "80 % ± 5 %" }

[joint.link]
name = "upper arm"
mass = "6.5 kg"
inertia = { xx = "0.2 kg*m^2 ± 10 %", yy = "0.2 kg*m^2", zz = "0.02 kg*m^2" }

[flange]
position = "0, 0, 500 mm ± 2 mm"
"""


def arm_of(text: str, folder: Path) -> aw.CellDescription:
    file = folder / "arm.toml"
    file.write_text(text, encoding="utf-8")
    return aw.CellDescription(describe.load_arm(file))


def told(cell: aw.CellDescription) -> dict[str, float]:
    return {number.path: number.tolerance for number in design_numbers(cell) if number.tolerance}


def test_a_file_keeps_them(tmp_path: Path) -> None:
    cell = arm_of(ARM, tmp_path)
    assert told(cell) == pytest.approx({
        "arm.joints[axis 1].placement.z": 0.001,
        "arm.joints[axis 1].range.lower": math.radians(1),
        "arm.joints[axis 1].torque_continuous": 18.0,
        "arm.joints[axis 2].placement.x": 0.0005,
        "arm.joints[axis 2].placement.pitch": math.radians(0.1),
        # 2 N m x 100 x 0.8; shares of 10 %, 1 % and 5 % add up
        "arm.joints[axis 2].torque_continuous": 160 * (0.1 + 0.01 + 0.05),
        "arm.joints[axis 2].torque_peak": 160 * (0.1 + 0.01 + 0.05),
        "arm.links[turret].mass": 0.6,
        "arm.links[turret].centre.z": 0.005,
        "arm.links[upper arm].inertia.xx": 0.02,
        "arm.flange.z": 0.002,
        "arm.base_link.length": 0.001,
        "arm.links[turret].length": 0.0005 * 80 / 170,
        "arm.links[upper arm].length": 0.002,
    })  # fmt: skip


def test_they_stay_through_copies_and_count_in_the_digest(tmp_path: Path) -> None:
    cell = arm_of(ARM, tmp_path)
    sure = arm_of(ARM.replace(" ± 1 mm", ""), tmp_path)
    assert cell.digest() != sure.digest() and cell.arm.joints[0] != sure.arm.joints[0]
    assert (cell.arm.joints[0].placement == sure.arm.joints[0].placement).all()
    for same in (pickle.loads(pickle.dumps(cell)), copy.deepcopy(cell), replace(cell, name=cell.name)):
        assert same == cell and told(same) == told(cell)
    other = with_numbers(cell, {"arm.joints[axis 2].placement.x": "90 mm"})
    gone = set(told(cell)) - set(told(other))
    assert gone == {"arm.joints[axis 2].placement.x", "arm.links[turret].length"}


def test_what_is_computed_is_plain(tmp_path: Path) -> None:
    placement = arm_of(ARM, tmp_path).arm.joints[0].placement
    assert tolerance_of(placement) is not None
    for made in (placement @ placement, placement[:3, 3] + 1, placement.copy(), np.linalg.inv(placement)):
        assert tolerance_of(made) is None


@pytest.mark.parametrize(
    "turn",
    ['turn = { axis = "z", angle = "3 deg ± 1 deg" }', 'direction = "x", spin = "3 deg ± 1 deg"',
     'quaternion_xyzw = ["0", "0", "0", "1 ± 1 %"]'],
)  # fmt: skip
def test_a_rotation_keeps_them_by_roll_pitch_yaw_alone(turn: str, tmp_path: Path) -> None:
    with pytest.raises(aw.InputError, match="roll_pitch_yaw"):
        arm_of(ARM.replace('position = "0, 0, 500 mm ± 2 mm"', turn.replace(", ", "\n", 1) if "spin" in turn else turn),
               tmp_path)  # fmt: skip


def test_python_values_keep_them() -> None:
    tool = aw.Tool(("0 mm", "0 mm", "100 mm ± 1 mm"), "2 kg ± 5 %", "0, 0, 40 ± 2 mm",
                   ["0.1 kg*m^2 ± 10 %", 0.1, 0.1])  # fmt: skip
    box = aw.Box(("1 m ± 2 mm", 1, 1), (0, 0, "1 m ± 3 mm"), "crate")
    spring = aw.Track("x", "2 m ± 4 mm")
    from cases.described import positioner

    cell = aw.CellDescription(positioner(), tool=tool, fixtures=(box,), track=spring)
    assert told(cell) == pytest.approx({
        "tool.tool_point.z": 0.001, "tool.mass": 0.1, "tool.centre.z": 0.002, "tool.inertia.xx": 0.01,
        "fixtures[crate].size.x": 0.002, "fixtures[crate].pose.z": 0.003, "track.stroke": 0.004,
        "track.stroke.upper": 0.004,
    })  # fmt: skip
    assert design_number(cell, "track.stroke").value == 2


DH = """
dh_convention = "standard"
[[joint]]
dh = { d = "300 mm", a = "200 mm", alpha = "ALPHA" }
range = ["-170 deg", "170 deg"]
link = { name = "turret", mass = "12 kg" }
[flange]
position = "0, 0, 100 mm"
roll_pitch_yaw = ["R", "P", "Y"]
"""


def flange_of(folder: Path, alpha: str, *angles: str) -> np.ndarray:
    text = DH.replace("ALPHA", alpha)
    for letter, angle in zip("RPY", angles, strict=True):
        text = text.replace(f'"{letter}"', f'"{angle}"')
    return arm_of(text, folder).arm.flange


@pytest.mark.parametrize("alpha", ["-90 deg", "35 deg"])
def test_angles_of_a_flange_behind_a_dh_row_keep_their_tolerances(tmp_path: Path, alpha: str) -> None:
    middle, unsure, step = (20.0, 30.0, 50.0), (0.1, 0.2, 0.3), 0.01
    made = flange_of(tmp_path, alpha, *(f"{a} deg ± {b} deg" for a, b in zip(middle, unsure, strict=True)))
    moved = np.zeros(3)
    for i in range(3):  # how each angle told moves roll, pitch and yaw of the whole
        up, down = (
            np.array(angles_of(flange_of(tmp_path, alpha, *(
                f"{a + side * step * (k == i)} deg" for k, a in enumerate(middle)))[:3, :3]))
            for side in (1, -1)
        )  # fmt: skip
        moved += np.abs(up - down) / (2 * step) * unsure[i]
    np.testing.assert_allclose(tolerance_of(made)[3:], moved, rtol=1e-6)  # type: ignore[index]
    assert tolerance_of(flange_of(tmp_path, alpha, "0 deg", "0 deg", "0 deg")) is None


def test_tolerances_that_no_roll_pitch_and_yaw_can_tell_are_refused(tmp_path: Path) -> None:
    assert tolerance_of(flange_of(tmp_path, "0 deg", "0 deg", "90 deg ± 1 deg", "20 deg")) is not None
    with pytest.raises(aw.InputError, match=r'a roll of 0 there \(did you mean \["0 deg", "90 deg", "15 deg"\]'):
        flange_of(tmp_path, "0 deg", "5 deg", "90 deg ± 1 deg", "20 deg")
    with pytest.raises(aw.InputError, match="behind a DH row that makes a quarter turn of the pitch"):
        flange_of(tmp_path, "-90 deg", "0 deg", "0 deg ± 1 deg", "90 deg")
