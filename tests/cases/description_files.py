# ruff: noqa: E501  files stand whole
"""Small descriptions that the tests of the room `describe` share."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from armwright.describe import ArmDescription, Joint, Link
from cases.chain import motion

ARM = """\
# An arm by DH rows, of our own numbers.
name = "test arm"
dh_convention = "standard"

[base]
mass = "12 kg"
centre = "0, 0, 90 mm"
[[base.shape]]
kind = "cylinder"
radius = "110 mm"
length = "200 mm"
position = "0, 0, 100 mm"

[[joint]]
range = ["-170 deg", "170 deg"]
dh = { d = "410 mm", a = "80 mm", alpha = "-90 deg" }
torque = { continuous = "180 N*m", peak = "400 N*m" }
[joint.link]
mass = "9.2 kg ± 5 %"
centre = "-40, 20, 0 mm"
inertia = { xx = "0.09 kg*m^2", yy = "0.08 kg*m^2", zz = "0.07 kg*m^2" }

[[joint]]
name = "shoulder"
range = ["-100 deg", "120 deg"]
dh = { a = "480 mm", theta = "-90 deg" }
motor = { continuous = "2.4 N*m", peak = "7.2 N*m", ratio = 101, efficiency = "80 %" }
[joint.link]
name = "upper arm"
mass = "6 kg"
[[joint.link.shape]]
kind = "capsule"
radius = "60 mm"
length = "480 mm"
position = "-240, 0, 0 mm"
direction = "x"

[[joint]]
range = "endless"
dh = { d = "1 in" }
torque = "20 lbf*ft"
link = { mass = "2 lb" }
"""

CELL = """\
name = "kiln cell"
arm = "arm.toml"
clearance = "20 mm"
targets = "targets.toml"
ignored_pairs = [["link 1", "floor"]]

[track]
axis = "x"
stroke = "2.4 m"
force = { continuous = "600 N" }
[track.carriage]
mass = "40 kg"

[mount]
position = "0, 0, 150 mm"

[tool]
name = "fork"
mass = "1.5 kg"
point = { position = "0, 0, 120 mm" }

[load]
mass = "6 kg"
centre = "0, 0, 80 mm"

[[fixture]]
kind = "half-space"
name = "floor"

[[fixture]]
kind = "box"
name = "post"
size = "100, 100, 2000 mm"
position = ["1 m", "0.6 m", "1 m"]
clearance = "50 mm"

[[target]]
name = "glaze tub"
position = "800, 300, 500 mm"
direction = "down"
tilt = "10 deg"
load = { mass = "4 kg" }
"""

TARGETS = """\
[[target]]
name = "rack 1"
position = "1.2 m, 0.4 m, 0.9 m"
roll_pitch_yaw = "180, 0, 90 deg"
spin = "free"
approach = "100 mm"
"""


URDF = """<robot name="bench arm">
  <link name="world"/>
  <link name="base"><inertial><mass value="5"/><inertia ixx="0.1" iyy="0.1" izz="0.1"/></inertial></link>
  <link name="upper">
    <inertial><origin xyz="0 0 0.2" rpy="0 0 1.5707963267948966"/><mass value="2"/>
      <inertia ixx="0.03" ixy="0" ixz="0" iyy="0.02" iyz="0" izz="0.01"/></inertial>
    <collision><origin xyz="0 0 0.2"/><geometry><cylinder radius="0.05" length="0.4"/></geometry></collision>
  </link>
  <link name="motor"><inertial><mass value="1"/></inertial>
    <collision><geometry><box size="0.1 0.1 0.1"/></geometry></collision></link>
  <link name="fore"><inertial><mass value="1"/></inertial></link>
  <link name="hand"/>
  <link name="left"/>
  <link name="right"/>
  <joint name="fix" type="fixed"><parent link="world"/><child link="base"/><origin xyz="0 0 0.1"/></joint>
  <joint name="turn" type="continuous"><parent link="base"/><child link="upper"/><axis xyz="0 0 2"/>
    <limit effort="40" velocity="1"/></joint>
  <joint name="bolt" type="fixed"><parent link="upper"/><child link="motor"/><origin xyz="0 0 0.5"/></joint>
  <joint name="bend" type="revolute"><parent link="upper"/><child link="fore"/><origin xyz="0 0 0.4" rpy="0 0.5 0"/>
    <axis xyz="0 1 0"/><limit lower="-2" upper="2" effort="20" velocity="1"/></joint>
  <joint name="wrist" type="fixed"><parent link="fore"/><child link="hand"/><origin xyz="0.3 0 0"/></joint>
  <joint name="open" type="prismatic"><parent link="hand"/><child link="left"/><axis xyz="0 1 0"/>
    <limit lower="0.01" upper="0.04" effort="5" velocity="1"/></joint>
  <joint name="follow" type="prismatic"><parent link="hand"/><child link="right"/><axis xyz="0 -1 0"/><mimic joint="open"/>
    <limit lower="0" upper="0.04" effort="5" velocity="1"/></joint>
</robot>
"""


def write_cell(folder: Path, arm: str = ARM, cell: str = CELL, targets: str = TARGETS) -> Path:
    """The three files in a folder; the cell's path."""
    for name, text in (("arm.toml", arm), ("targets.toml", targets), ("cell.toml", cell)):
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "cell.toml"


def small_arm() -> ArmDescription:
    joints = [Joint(f"axis {i}", range=(-1, 1), torque_continuous=50, torque_peak=80) for i in (1, 2)]
    return ArmDescription(joints, [Link("a", 2), Link("b", 1)], "small", flange=(0, 0, 0.1))  # type: ignore[arg-type]


def tetrahedron() -> tuple[Any, Any]:
    points = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1.0]])
    return points, np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])


def chain_pose(arm: ArmDescription, q: Any) -> Any:
    """The flange's pose by plain products, apart from the core: placement, then the turn or shift of each joint."""
    pose = np.eye(4)
    for joint, value in zip(arm.joints, q, strict=True):
        pose = pose @ joint.placement @ motion(joint, value)
    return pose @ arm.flange
