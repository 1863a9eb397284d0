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
# # Does it reach?
#
# You are about to cut metal for a six-axis arm that will load a kiln. First of all: does the tool reach every work
# point, in the attitude that the work needs, clear of everything that stands about?
#
# This notebook asks it of the demonstration that comes with the package: a one-person ceramics studio, where an arm
# on a floor track carries boards of ware between two racks and a front-loading kiln. All of its data are invented,
# here and in the notebooks that follow; put your own files in their place (`own_arm.py` shows how) and the rest stays
# as it is.

# %% tags=["first"]
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
served = int(checked.served.values.argmax())
scene = cell.scene(q=checked.q.values[served], checked=checked)
pictures.plan(scene)
plt.show()

# %% [markdown]
# ## How near does it come?
#
# Move the arm by hand, and see what it comes nearest to. Distances are exact, and negative where solids overlap; each
# fixture has its own clearance to be kept. The black line runs between the two nearest points, seen from above.

# %% tags=["live"]
def nearest(track, axis_1, axis_2, axis_3):
    """The least distance in a posture: track in m, axes in degrees."""
    q = np.array([track, *np.radians([axis_1, axis_2, axis_3, 0, 40, 0])])
    near = cell.clearance(q)
    kept = "clear" if cell.is_clear(q) else "TOO NEAR"
    words = f"{1000 * float(near.distance):.0f} mm between {near.name_a.item()} and {near.name_b.item()}: {kept}"
    _, ax = plt.subplots(figsize=(7.6, 5), dpi=80)
    pictures.plan(cell.scene(q), names=False, ax=ax)
    ax.plot(*np.stack([near.point_a, near.point_b])[:, :2].T, "o-", color="black", markersize=4, zorder=9)
    return words, ax


nearest_live = pictures.live(
    nearest, track=(0, 2.1, 1.0), axis_1=(-165, 165, 30), axis_2=(-75, 118, 35), axis_3=(-120, 70, -10),
)  # fmt: skip
nearest_live

# %% [markdown]
# ## Without the track
#
# Is the track needed at all? The same arm, bolted to the floor where the track's middle would be (`longer_track.py`
# looks for a better place, and at the price):

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
# ## All postures for one pose
#
# A pose can be had in several postures: elbow up or down, wrist turned over. `solve` gives all of them, for one pose
# or for a million in one call; the best is the one farthest from the joint limits.

# %%
arm = cell.arm
q = np.radians([20, 35, -60, 90, 60, 20])  # axis 1 to axis 6
print("flange at", np.round(arm.tool_pose(q)[:3, 3], 3), "m; axes 1 to 6, in degrees:")
solutions = arm.solve(arm.tool_pose(q))
found = solutions.q[solutions.valid]
for row, margin in zip(np.degrees(found), arm.limit_margin(found), strict=True):
    print(np.round(row, 1) + 0.0, f"{100 * margin:.0f} % to the limits")

# %% [markdown]
# A point that is reached on paper is not reached yet: what is not in the file (hoses, cables, a lamp) is in nobody's
# way here. And before you stand beside it: an untested arm moves with enough force to kill.
