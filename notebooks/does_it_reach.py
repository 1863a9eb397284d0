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
# # Does it reach, and what can it carry?
#
# You are about to cut metal for a six-axis arm that will load a kiln. Two questions come first:
#
# 1. Does the tool reach every work point, in the attitude that the work needs, clear of everything that stands about?
# 2. What can the arm hold there, and which joint gives out first?
#
# This notebook answers both for the demonstration that comes with the package: a one-person ceramics studio, where an
# arm on a floor track carries boards of ware between two racks and a front-loading kiln. All of its data are invented;
# put your own files in their place and the rest stays as it is.

# %%
from importlib.resources import files

import matplotlib.pyplot as plt
import numpy as np

import armwright as aw
from armwright import pictures
from armwright.report import targets_table

folder = files("armwright") / "demo"
cell = aw.load_cell(folder / "cell.toml")
print(cell)

# %% [markdown]
# The cell is described in two text files, `arm.toml` and `cell.toml`. Every value carries its unit, and a wrong
# value or a misspelt key is told with what was probably meant:

# %%
print((folder / "arm.toml").read_text()[:620])

# %%
try:
    aw.Box(size=("100 mm", "80 mm", "20"), name="shelf")
except aw.InputError as error:
    print(error)

# %% [markdown]
# ## The work points
#
# One call asks for every work point: is there a posture that keeps the joint limits, stays clear of the fixtures, and
# holds the 6 kg board? Where there is none, the answer says what stands in the way, and by how much.

# %%
checked = cell.check_targets()
print(targets_table(checked))

# %% [markdown]
# "To limits" is the distance to the nearest joint limit (100 % is mid-range), "holds" is the largest mass in that very
# posture. What fails, fails for a reason that can be acted on: a shelf that is a few centimetres too high can be
# lowered, a bag of clay can be split, a table can be moved away from the post.

# %%
served = int(checked.served.argmax())
scene = cell.scene(q=checked.q.values[served], checked=checked)
pictures.plan(scene)
plt.show()

# %% [markdown]
# ## Without the track
#
# Is the track needed at all? The same arm, bolted to the floor where the track's middle would be:

# %%
middle = (1.05, 0, 0.12)
fixed = aw.Cell(cell.arm, fixtures=cell.fixtures, tool=cell.tool, load=cell.load, targets=cell.targets, mount=middle)
alone = fixed.check_targets()
with_track, without = int(checked.served.sum()), int(alone.served.sum())
print(f"with the track {with_track}, without it {without} of {checked.sizes['target']} served")
for name, reason in zip(alone.target.values, alone.reason.values, strict=True):
    if reason:
        print(f"  without the track, {name}: {reason}")

# %% [markdown]
# ## Where else can it reach?
#
# The reach index of a position is the share of tool attitudes that can be had there. A map of it shows where there is
# room to move a rack, and where not. The volume comes with an error, estimated from two grid spacings.

# %%
reach = cell.reach_map("200 mm", directions=24, spins=1, track_step="300 mm", dexterous_share=0.5)
print(f"reached: {reach.attrs['reachable_volume']:.1f} ± {reach.attrs['reachable_volume_error']:.1f} m³")
pictures.section(reach, x=1.0)
plt.show()

# %% [markdown]
# ## What can it carry?
#
# Gravity torque is linear in the load, so that the largest mass is solved for, not searched. Here the board stays level
# and its centre of gravity is 60 mm above the prongs, as in the description. The heavy lines part the regions where
# different joints give out first: they tell which motor or reducer to make larger.

# %%
centre = cell.load.centre
payload = cell.payload_map(
    "100 mm", attitude="level", directions=16, spins=1, centre=centre, bounds=((1.0, -1.7, 0), (1.0, 1.7, 2.0)),
    track_step="300 mm",
)  # fmt: skip
pictures.payload_section(payload, x=1.0)
plt.show()

# %%
pictures.payload_curve(payload)
plt.show()

# %% [markdown]
# ## One posture, by hand
#
# Everything above is made of kernels that can be asked directly, for one posture or for a million in one call.

# %%
arm = cell.arm
q = np.radians([20, 35, -10, 0, 60, 0])  # axis 1 to axis 6
print("tool at", np.round(arm.tool_pose(q)[:3, 3], 3), "m")
print("to hold the arm itself:", np.round(arm.gravity_torque(q), 1), "N m")
print(arm.payload(q))
solutions = arm.solve(arm.tool_pose(q))
print(f"{int(solutions.count)} postures reach the same pose:")
print(np.round(np.degrees(solutions.q[solutions.valid]), 1))

# %% [markdown]
# ## Before you build
#
# A result is a calculation from what was typed in. Bearings and structure are not in it; loads in motion, brakes and
# the supply are the second notebook's, `does_it_move.py`. An untested arm moves with enough force to kill: keep out of
# its range, guard it, and start at reduced speed. Supply, protective earth and stop circuits are for those licensed
# for them, to local codes.
