# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import numpy.typing
import pytest

from armwright.describe import load_arm
from armwright.errors import InputError
from cases.description_files import ARM, chain_pose


def load(folder: Path, text: str):  # type: ignore[no-untyped-def]
    (folder / "arm.toml").write_text(text, encoding="utf-8")
    return load_arm(folder / "arm.toml")


def dh(theta: float, d: float, a: float, alpha: float) -> np.typing.NDArray[np.float64]:
    """The standard DH matrix as textbooks print it (Spong, Hutchinson, Vidyasagar, Robot Modeling and Control, eq. 3.10)."""
    ct, st, ca, sa = math.cos(theta), math.sin(theta), math.cos(alpha), math.sin(alpha)
    return np.array([[ct, -st * ca, st * sa, a * ct], [st, ct * ca, -ct * sa, a * st], [0, sa, ca, d], [0, 0, 0, 1]])


def modified(theta: float, d: float, a: float, alpha: float) -> np.typing.NDArray[np.float64]:
    """The modified DH matrix as textbooks print it (Craig, Introduction to Robotics, eq. 3.6)."""
    ct, st, ca, sa = math.cos(theta), math.sin(theta), math.cos(alpha), math.sin(alpha)
    return np.array([[ct, -st, 0, a], [st * ca, ct * ca, -sa, -sa * d], [st * sa, ct * sa, ca, ca * d], [0, 0, 0, 1]])


def test_standard_rows(tmp_path: Path) -> None:
    arm = load(tmp_path, ARM)
    assert arm.joint_names == ("axis 1", "shoulder", "axis 3")
    assert [link.name for link in arm.links] == ["link 1", "upper arm", "link 3"]
    q = (0.3, -0.7, 1.1)
    rows = (dh(q[0], 0.41, 0.08, -math.pi / 2), dh(q[1] - math.pi / 2, 0, 0.48, 0), dh(q[2], 0.0254, 0, 0))
    assert chain_pose(arm, q) == pytest.approx(rows[0] @ rows[1] @ rows[2], abs=1e-14)
    # A centre told in the row's frame is where the row's frame is.
    centre = rows[0] @ (-0.04, 0.02, 0, 1)
    frame = arm.joints[0].placement.copy()
    frame[:3, :3] = frame[:3, :3] @ [[math.cos(0.3), -math.sin(0.3), 0], [math.sin(0.3), math.cos(0.3), 0], [0, 0, 1]]
    assert frame @ (*arm.links[0].centre, 1) == pytest.approx(centre, abs=1e-15)
    # xx, yy, zz of the row's frame, turned by alpha = -90 deg about x: yy and zz change places.
    assert arm.links[0].inertia == pytest.approx(np.diag((0.09, 0.07, 0.08)), abs=1e-15)
    assert arm.links[0].mass.tolerance == pytest.approx(0.46)
    assert arm.base_link.mass == 12


def test_modified_rows(tmp_path: Path) -> None:
    arm = load(tmp_path, ARM.replace('"standard"', '"modified"'))
    q = (0.3, -0.7, 1.1)
    rows = (
        modified(q[0], 0.41, 0.08, -math.pi / 2),
        modified(q[1] - math.pi / 2, 0, 0.48, 0),
        modified(q[2], 0.0254, 0, 0),
    )
    assert chain_pose(arm, q) == pytest.approx(rows[0] @ rows[1] @ rows[2], abs=1e-14)
    assert arm.links[0].centre == pytest.approx((-0.04, 0.02, 0))


def test_what_joints_hold(tmp_path: Path) -> None:
    arm = load(tmp_path, ARM)
    held = [(joint.torque_continuous, joint.torque_peak) for joint in arm.joints]
    foot_pounds = 20 * 0.45359237 * 9.80665 * 0.3048
    assert held[0] == (180, 400)
    assert held[1] == pytest.approx((2.4 * 101 * 0.8, 7.2 * 101 * 0.8))
    assert held[2] == pytest.approx((foot_pounds, foot_pounds))
    assert arm.notes == ()


ORIGINS = """\
[[joint]]
kind = "prismatic"
axis = "x"
range = "0, 300 mm"
force = "500 N"
link = { mass = "3 kg" }
[[joint]]
origin = { position = "0, 0, 100 mm", roll_pitch_yaw = "0, 90, 0 deg" }
axis = [0, 1, 1]
range = "-90, 90 deg"
link = { mass = "1 kg" }
[flange]
position = "0, 0, 50 mm"
"""


def test_origins_and_axes(tmp_path: Path) -> None:
    arm = load(tmp_path, ORIGINS)
    assert arm.name == "arm"
    assert chain_pose(arm, (0.2, 0)) == pytest.approx(
        np.array([[0, 0, 1, 0.25], [0, 1, 0, 0], [-1, 0, 0, 0.1], [0, 0, 0, 1]]), abs=1e-15
    )
    assert arm.joints[1].axis == pytest.approx((0, math.sqrt(0.5), math.sqrt(0.5)))
    assert arm.notes == ("axis 2: no torque stated, so it limits no load",)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"410 mm"', "410", '16: joint[0].dh.d: got 410, expected a length with its unit, as "410 mm" (did you mean "410 mm"?)'),
        ('peak = "400 N', 'peak = "40 N', "17: joint[0].torque.peak: got 40 N m, expected at least the continuous one, 180 N m"),
        ('"-170 deg", "170', '"170 deg", "-170',
         "15: joint[0].range: got ['170 deg', '-170 deg'], expected a lower limit below the upper one"),
        ("efficiency", "efficency", "27: joint[1].motor.efficency: got an unknown key (\"80 %\"), expected one of continuous, "
         "efficiency, peak, ratio (did you mean efficiency?)"),
        ('"standard"', '"standrad"', '3: dh_convention: got "standrad", expected one of "standard", "modified" (did you mean '
         '"standard"?)'),
        ('dh_convention = "standard"', "", ' dh_convention: got nothing, expected this key, with dh rows: "standard" or "modified"'),
        ('dh = { d = "1 in" }', "", "38: joint[2].dh: got nothing, expected this key: the other joints have dh rows"),
        ('"capsule"', '"capsul"', '32: joint[1].link.shape[0].kind: got "capsul", expected one of "box", "cylinder", "capsule", '
         '"sphere", "half-space", "convex hull", "mesh" (did you mean "capsule"?)'),
        ('radius = "60 mm"', "", '31: joint[1].link.shape[0].radius: got nothing, expected this key: a capsule has one'),
        ('"2 lb" }', '"-2 lb" }', '42: joint[2].link.mass: got "-2 lb", expected a mass with its unit, as "6.2 kg", at least 0 kg'),
        ('"20 lbf*ft"', '"20 ft·lb"', '41: joint[2].torque: got "20 ft·lb", expected a unit of torque, as N*m, mN*m, kgf*cm, '
         "lbf*ft (did you mean lbf*ft?)"),
        ('yy = "0.08 ', 'yy = "2 ', "21: joint[0].link.inertia: got principal moments 0.07, 0.09, 2 kg m², expected moments of 0 "
         "or more, none larger than the sum of the other two"),
        ('name = "shoulder"', 'name = "axis 1"', '24: joint[1].name: got "axis 1", expected a different name for each'),
        ('link = { mass = "2 lb" }', "", "38: joint[2].link: got nothing, expected this key: the part that it moves"),
        ('"endless"', '"endles"', "39: joint[2].range: got \"endles\", expected 2 values with units, as \"0, 120 deg\" or "
         '["0 deg", ...]'),
    ],
)  # fmt: skip
def test_messages(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert ARM.count(old) == 1
    with pytest.raises(InputError) as caught:
        load(tmp_path, ARM.replace(old, new))
    place, _, rest = str(caught.value).partition("arm.toml:")
    assert rest == said, (place, rest)


def test_everything_wrong_is_told_at_once(tmp_path: Path) -> None:
    bad = (
        ARM.replace('"410 mm"', "410")
        .replace('"400 N', '"40 N')
        .replace('yy = "0.08', 'yy = "2')
        .replace("efficiency", "efficency")
    )
    bad = bad.replace('"6 kg"', '"6 kilos"').replace('"capsule"', '"capsul"').replace("20 lbf*ft", "20 ft-lb")
    with pytest.raises(InputError) as caught:
        load(tmp_path, bad)
    lines = [problem.line for problem in caught.value.problems]
    assert lines == [16, 17, 21, 27, 30, 32, 41]


def test_urdf_besides_joints(tmp_path: Path) -> None:
    for text, key in (("urdf = 'a.urdf'\n" + ARM, "dh_convention"), ("urdf = 'a.urdf'\n" + ORIGINS, "flange"), ("", "joint"),
                      ("urdf = '../a.urdf'", "urdf.file"), ("urdf = { base = 'a' }", "urdf.file")):  # fmt: skip
        with pytest.raises(InputError) as caught:
            load(tmp_path, text)
        assert caught.value.problems[0].key in (key, "urdf")
