# ---
# jupyter:
#   jupytext:
#     text_representation:
#       extension: .py
#       format_name: percent
#   kernelspec:
#     display_name: Python 3
#     language: python
#     name: python3
# ---

# %% [markdown]
# # Bring your own arm
#
# Your arm is in a URDF file that somebody's CAD program wrote, or nowhere yet. Both ways lead to the same answers.
# This notebook writes a small URDF into a temporary folder, reads it, gives it drives, puts it in a cell and asks;
# then it does the same arm as a text file of this program's own kind, which holds more.

# %%
from dataclasses import replace
from importlib.resources import files
from math import pi
from pathlib import Path
from tempfile import TemporaryDirectory

import matplotlib.pyplot as plt
import numpy as np

import armwright as aw
from armwright import pictures
from armwright.report import targets_table
from armwright.results import summary

place = TemporaryDirectory()
folder = Path(place.name)

# %% [markdown]
# ## A URDF
#
# A chain of links and joints: where each joint sits on the link before it, which way its axis points, how far it
# turns, and what each link weighs. All invented here.

# %%
ROWS = [  # joint, where on the link before (m), axis, range (rad), torque (N m), speed (rad/s), link, mass (kg), length
    ("base_turn", "0 0 0.32", "0 0 1", 2.9, 150, 2.4, "turret", 11.0, 0.16),
    ("shoulder", "0.07 0 0.16", "0 1 0", 1.9, 240, 1.9, "upper_arm", 7.5, 0.46),
    ("elbow", "0 0 0.46", "0 1 0", 2.3, 130, 2.4, "elbow_block", 4.2, 0.12),
    ("roll", "0.05 0 0.06", "1 0 0", 3.1, 40, 3.5, "forearm", 3.4, 0.42),
    ("bend", "0.42 0 0", "0 1 0", 2.0, 34, 3.5, "wrist", 1.6, 0.09),
    ("twist", "0.08 0 0", "1 0 0", 6.2, 14, 5.0, "flange", 0.5, 0.03),
]


def link(name, mass, length, along):
    """A link as a URDF has it: a rod, with its mass, and a capsule-like cylinder to keep clear of things."""
    centre = f"0 0 {length / 2}" if along == "z" else f"{length / 2} 0 0"
    turn = "0 0 0" if along == "z" else f"0 {pi / 2} 0"
    across, axial = mass * length**2 / 12 + 1e-3 * mass, 2e-3 * mass
    xx, zz = (across, axial) if along == "z" else (axial, across)
    return f"""  <link name="{name}">
    <inertial><origin xyz="{centre}"/><mass value="{mass}"/>
      <inertia ixx="{xx}" ixy="0" ixz="0" iyy="{across}" iyz="0" izz="{zz}"/></inertial>
    <collision><origin xyz="{centre}" rpy="{turn}"/>
      <geometry><cylinder radius="{0.05 if mass > 2 else 0.03}" length="{0.7 * length:.3f}"/></geometry></collision>
  </link>"""


parts, before = [link("base", 14.0, 0.3, "z")], "base"
for joint, at, axis, turn, torque, speed, name, mass, length in ROWS:
    parts.append(f"""  <joint name="{joint}" type="revolute">
    <parent link="{before}"/><child link="{name}"/><origin xyz="{at}"/><axis xyz="{axis}"/>
    <limit lower="-{turn}" upper="{turn}" effort="{torque}" velocity="{speed}"/>
  </joint>""")
    parts.append(link(name, mass, length, "z" if name in ("turret", "upper_arm") else "x"))
    before = name
text = '<robot name="small loader">\n' + "\n".join(parts) + "\n</robot>\n"
(folder / "arm.urdf").write_text(text)
print(text[:640])

# %% [markdown]
# Read it. What had to be decided, because the file does not say it or says what does not count here, is told:

# %%
arm = aw.load_arm(folder / "arm.urdf", base="base", tool="flange")
print(arm)
print("not checked against each other:", aw.Cell(arm).touching_pairs)
for note in arm.notes:
    print("noted:", note)

# %% [markdown]
# A file with something wrong in it is refused, with the line. Here the elbow's mass was forgotten:

# %%
(folder / "wrong.urdf").write_text(text.replace('<mass value="4.2"/>', "").replace('effort="40"', 'effort="forty"'))
try:
    aw.load_arm(folder / "wrong.urdf")
except aw.InputError as error:
    print(str(error).replace(str(folder), "..."))

# %% [markdown]
# ## Is it the arm you mean?
#
# Look at it before you believe any number: frames are where slips hide. With all joints at zero the flange should be as
# far out, and as far up, as the places of the joints in the table above add up to.

# %%
home = np.zeros(6)
print("flange at zero:", np.round(arm.tool_pose(home)[:3, 3], 3), "m")
out, _, up = zip(*(map(float, row[1].split()) for row in ROWS), strict=True)
print(f"by hand:        {' + '.join(f'{x:g}' for x in out if x)} = {sum(out):.3g} m out, "
      f"{' + '.join(f'{z:g}' for z in up if z)} = {sum(up):.3g} m up")
reached = aw.Cell(arm).outlines(spacing="120 mm", directions=12)
pictures.outlines(reached)
plt.show()

# %% [markdown]
# ## Drives
#
# A URDF knows one torque and one speed a joint. What a motor and its reducer bear, at the peak and for long, it does
# not know; so give the joints drives. Here each has a motor, a reducer and a brake; what is not told is assumed, and
# listed.

# %%
CHOSEN = [  # motor: continuous, peak; reducer: ratio, rated, repeated peak; brake; all but the ratio in N m
    (1.3, 3.8, 101, 110, 240, 1.4), (2.4, 7.1, 121, 210, 430, 2.6), (1.3, 3.8, 101, 110, 240, 1.4),
    (0.64, 1.9, 80, 34, 80, 0.7), (0.64, 1.9, 80, 34, 80, 0.7), (0.32, 0.96, 50, 12, 28, None),
]  # fmt: skip


def drive(lasting, peak, ratio, rated, repeated, brake):
    """A drive from its figures, all in N m."""
    motor = aw.Motor(lasting, peak=peak, rated_speed="3000 rpm", max_speed="5000 rpm", name=f"motor {lasting:g} N*m")
    stage = aw.Stage("strain wave", ratio, "78 %", rated_torque=rated, repeated_peak_torque=repeated)
    return aw.Drive(motor, stage, None if brake is None else aw.Brake(brake))


joints = [replace(joint, drive=drive(*figures)) for joint, figures in zip(arm.description.joints, CHOSEN, strict=True)]
driven = aw.Arm(replace(arm.description, joints=tuple(joints)))
posture = np.radians([20, 20, 40, 0, 30, 0])
print("by the URDF's torques:", arm.payload(posture))
print("by the drives:        ", driven.payload(posture))
print(f"{len(driven.assumptions)} assumptions, the first: {driven.assumptions[0]}")

# %% [markdown]
# Nothing of it was wrong before: a URDF's effort counts as a torque that is held for any time, which it seldom is.
#
# ## A cell
#
# A table, a wall, two work points:

# %%
cell = aw.Cell(
    driven, tool=aw.Tool((0.12, 0, 0), mass="0.9 kg", centre=(0.05, 0, 0)), load=aw.Load("2.5 kg"),
    fixtures=[aw.Box(("0.5 m", "0.8 m", "40 mm"), pose=(0.75, 0, 0.3), name="table", clearance="15 mm"),
              aw.HalfSpace(name="floor")],
    targets=[aw.Target((0.7, 0.1, 0.55), name="over the table", tilt="20 deg", free_spin=True),
             aw.Target((1.15, 0.0, 0.9), name="far shelf", free_spin=True)],
    name="first try",
)  # fmt: skip
print(targets_table(cell.check_targets()))
pictures.plan(cell.scene(posture, cell.check_targets()))
plt.show()

# %%
print(summary(cell.holding()))

# %% [markdown]
# ## The same as a text file
#
# A TOML file of the program's own kind says everything in one place, with units: shapes, drives by name from a file
# of parts, bearings, tubes, tolerances. Here is how a joint of the studio's arm begins, and every key stands in
# docs/files.md:

# %%
demo = files("armwright") / "demo"
print("[[joint]]" + (demo / "arm.toml").read_text(encoding="utf-8").split("[[joint]]")[1].rstrip())

# %% [markdown]
# You need not write it all anew: a TOML file may take a URDF as its arm. A cell in text, on the file from above:

# %%
(folder / "cell.toml").write_text("""
name = "first try"
arm = { file = "arm.urdf", base = "base", tool = "flange" }

[tool]
mass = "0.9 kg"
point = { position = "120, 0, 0 mm" }

[load]
mass = "2.5 kg"

[[fixture]]
kind = "box"
name = "table"
size = "500, 800, 40 mm"
position = "750, 0, 300 mm"
clearance = "15 mm"
""")
from_file = aw.load_cell(folder / "cell.toml")
print(from_file)
print(f"nearest thing in that posture: {1000 * float(from_file.clearance(posture).distance):.0f} mm away")

# %% [markdown]
# Any number of it can be changed by its name, with no file at all, and everything asked again:

# %%
longer = cell.with_numbers({"arm.links[forearm].length": "600 mm", "arm.links[forearm].mass": "4.4 kg"})
print(targets_table(longer.check_targets()))

# %% [markdown]
# From here the other notebooks go on with your file in place of the studio's. What you typed is what is answered: weigh
# parts when you have them, and measure before you trust.
