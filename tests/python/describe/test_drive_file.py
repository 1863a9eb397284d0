# ruff: noqa: E501  messages stand whole
from __future__ import annotations

import math
from pathlib import Path

import pytest

from armwright.describe import ArmDescription, load_arm, load_cell
from armwright.errors import InputError
from cases.description_files import CELL, TARGETS
from cases.drive_files import DRIVEN, PARTS, write_driven


def test_drives(tmp_path: Path) -> None:
    arm = load_arm(write_driven(tmp_path))
    first, second = (joint.drive for joint in arm.joints)
    assert first is not None and second is not None
    assert first.motor.name == "750 W" and first.motor.loss_factor == pytest.approx(1.5 * 1.2 / 0.6**2)
    assert first.stages[0].numbers["efficiency_back"] == pytest.approx(0.7)
    assert first.stages[0].numbers["stiffness"] == pytest.approx(31 * 10800 / math.pi)
    assert first.brake is not None and first.brake.energy == 60
    assert first.friction is not None and first.friction.coulomb == (2, 3)
    assert second.ratio == pytest.approx(2 * 2 * math.pi / 0.01) and second.slides
    assert second.motor.loss_factor == pytest.approx(26 / 1.3**2)
    assert second.friction is not None and second.friction.sliding and second.friction.viscous == 40
    assert (arm.joints[0].speed, arm.joints[0].jerk) == pytest.approx((math.pi, 4000 * math.pi / 180))
    assert (arm.joints[1].speed, arm.joints[1].acceleration) == (0.4, math.inf)
    assert arm.coupling.tolist() == [[1, 0], [-0.5, 1]]
    assert [item.name for item in arm.counterbalances] == ["spring", "weight"]
    assert arm.notes == ()


def test_assumptions_are_said(tmp_path: Path) -> None:
    arm = load_arm(write_driven(tmp_path))
    assert any(text.startswith("axis 2: belt: back-driving efficiency not given") for text in arm.assumptions)
    assert "axis 2: no brake" in arm.assumptions
    assert repr(arm).endswith(f"{len(arm.assumptions)} assumptions (see .assumptions)")
    text = DRIVEN.replace("[joint.drive]", "[joint.x]")
    assert arm != load_arm(write_driven(tmp_path, DRIVEN.replace("0.4 m/s", "0.5 m/s"))) and text != DRIVEN


PLACE = [
    ('motor = "750 W"', 'motor = "750W"', '16: joint[0].drive.motor: got "750W", expected a table, or the name of a motor in the file of parts: "750 W" (did you mean "750 W"?)'),
    ('stage = ["size 25"]', 'stage = ["size 52"]', '17: joint[0].drive.stage[0]: got "size 52", expected a table, or the name of a stage in the file of parts: "size 25" (did you mean "size 25"?)'),
    ('parts = "parts.toml"', "", 'joint[0].drive.motor: got "750 W", expected a table, or the name of a motor in the file of parts: none (no file of parts with a [[motor]] is named by the key parts)'),
    ('parts = "parts.toml"', 'parts = "part.toml"', '2: parts: got "part.toml", expected a file that exists (did you mean parts.toml?)'),
    ("[-0.5, 1]]", "[-0.5, 0]]", "3: coupling: got a singular matrix (its determinant is 0), expected one that can be inverted: every drive moves something of its own"),
    ("[-0.5, 1]]", "[-0.5, 1], [1, 2]]", "3: coupling: got [[1, 0], [-0.5, 1], [1, 2]], expected a row for each joint with a number for each drive"),
    ('peak = "3.8 N*m"', 'peak = "1.28 N*m"', "29: joint[1].drive.motor.peak: got 1.28 N m at 0 rpm, expected at least the continuous torque there, 1.3 N m"),
    ('"3000 rpm", "1.25', '"0 rpm", "1.25', "29: joint[1].drive.motor.continuous[1][0]: got 0 rpm after 0 rpm, expected speeds that rise from point to point"),
    ('["3000 rpm", "1.25 N*m"]', '[3000, "1.25 N*m"]', "29: joint[1].drive.motor.continuous: got"),
    ("efficiency = 0.96", "efficiency = -0.96", '34: joint[1].drive.stage[0].efficiency: got -0.96, expected a share, as "85 %", more than 0, at most 1'),
    ('rated_torque = "2 kN"', 'rated_torque = "2 N*m"', "39: joint[1].drive.stage[1].rated_torque: got \"2 N*m\", expected a unit of force"),
    ('stage = ["size 25"]\nbrake = "2.5 N*m"\nfriction = { coulomb = ["2 N*m", "3 N*m"], viscous = "0.1 N*m*s" }', 'stage = [{ kind = "screw", lead = "5 mm" }]', '17: joint[0].drive.stage[0].kind: got "screw", expected a last stage that turns, because the joint does'),
    ('brake = "2.5 N*m"', 'brake = { side = "joint" }', "joint[0].drive.brake.torque: got nothing"),
    ('brake = "2.5 N*m"', 'brake = { torque = "0 N*m" }', '18: joint[0].drive.brake.torque: got "0 N*m", expected a torque with its unit'),
    ('{ coulomb = "20 N", viscous', '{ coulomb = "20 N*m", viscous', "30: joint[1].drive.friction.viscous: got a unit of another motion"),
    ('{ coulomb = "20 N", viscous = "40 N*s/m" }', '{ coulomb = "20 N*m" }', "30: joint[1].drive.friction: got a friction that turns, expected one that slides"),
    ('speed = "0.4 m/s"', 'speed = "0.4 rad/s"', '26: joint[1].speed: got "0.4 rad/s", expected a unit of speed'),
    ('link_b = "ram"', 'link_b = "rum"', '45: counterbalance[0].link_b: got "rum", expected a link of the arm: base, turret, ram (did you mean "ram"?)'),
    ('mass = "4 kg"', "", "counterbalance[1].mass: got nothing"),
    ('[joint.drive]\nmotor = "750 W"', '[joint.motor]\ncontinuous = "1 N*m"\nratio = 2\nefficiency = 1\n[joint.drive]\nmotor = "750 W"', "joint[0].motor: got a motor besides drive"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "said"), PLACE)
def test_messages(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert DRIVEN.count(old) == 1
    with pytest.raises(InputError) as caught:
        load_arm(write_driven(tmp_path, DRIVEN.replace(old, new)))
    first = str(caught.value.problems[0])
    assert said in first and "arm.toml" in first, str(caught.value)


def test_everything_wrong_is_told_at_once(tmp_path: Path) -> None:
    bad = (
        DRIVEN.replace('"750 W"', '"75O W"')
        .replace("[-0.5, 1]]", "[0, 0]]")
        .replace("0.96", "9.6")
        .replace('"20 N"', '"20 kg"')
    )
    bad = bad.replace('"2 N/mm"', '"2 kg/mm"').replace('"0.4 m/s"', '"0.4 m"')
    with pytest.raises(InputError) as caught:
        load_arm(write_driven(tmp_path, bad))
    assert [problem.key for problem in caught.value.problems] == [
        "coupling[1]", "joint[0].drive.motor", "joint[1].speed", "joint[1].drive.friction.coulomb",
        "joint[1].drive.stage[0].efficiency", "counterbalance[0].rate",
    ]  # fmt: skip


def test_a_broken_file_of_parts_is_told_with_its_own_lines_and_once(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        load_arm(write_driven(tmp_path, parts=PARTS.replace('"67 N*m"', '"670 N*m"').replace("0.9 kg*cm^2", "0.9 kg")))
    assert [(problem.file.rsplit("/", 1)[1], problem.key) for problem in caught.value.problems] == [
        ("parts.toml", "motor[0].rotor_inertia"), ("parts.toml", "stage[0].repeated_peak_torque"),
    ]  # fmt: skip
    assert all(problem.line for problem in caught.value.problems)


def test_the_short_form_goes_on(tmp_path: Path) -> None:
    short = '[joint.motor]\ncontinuous = "1 N*m"\npeak = "3 N*m"\nratio = 50\nefficiency = 0.8\n'
    text = DRIVEN[: DRIVEN.index("[joint.drive]")].replace("[[1, 0], [-0.5, 1]]", "[[1]]") + short
    arm: ArmDescription = load_arm(write_driven(tmp_path, text))
    assert (arm.joints[0].torque_continuous, arm.joints[0].torque_peak) == pytest.approx((40, 120))
    assert arm.joints[0].drive is None and arm.assumptions == ()


TRACK = """[track]
axis = "x"
stroke = "2.4 m"
force = { continuous = "600 N" }
"""


def test_a_track_with_a_drive(tmp_path: Path) -> None:
    drive = 'speed = "1 m/s"\nacceleration = "2 m/s^2"\njerk = "20 m/s^3"\n[track.drive]\nmotor = "750 W"\n'
    drive += 'stage = ["size 25", { kind = "rack", radius = "25 mm", efficiency = 0.9 }]\nbrake = "2.5 N*m"\n'
    assert CELL.count(TRACK) == 1
    text = 'parts = "parts.toml"\n' + CELL.replace(TRACK, TRACK + drive)
    write_driven(tmp_path)
    (tmp_path / "targets.toml").write_text(TARGETS, encoding="utf-8")
    (tmp_path / "cell.toml").write_text(text.replace('[["link 1", "floor"]]', "[]"), encoding="utf-8")
    cell = load_cell(tmp_path / "cell.toml")
    assert cell.track is not None and cell.track.drive is not None
    assert cell.track.drive.ratio == pytest.approx(101 / 0.025)
    assert (cell.track.speed, cell.track.acceleration, cell.track.jerk) == (1, 2, 20)
    assert any(text.startswith("track: rack: ") for text in cell.assumptions)
    (tmp_path / "cell.toml").write_text(
        text.replace('"rack"', '"gear"').replace("radius", "ratio").replace('"25 mm"', "3"), encoding="utf-8"
    )
    with pytest.raises(
        InputError, match=r"track.drive.stage\[1\].kind: got \"gear\", expected a last stage that slides"
    ):
        load_cell(tmp_path / "cell.toml")
