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
# # What can it carry, at rest and at speed?
#
# What an arm holds is not what it can swing: starts and stops load motors and reducers beyond the weight. Which joint
# gives out first, and what would have to be larger?

# %% tags=["first"]
from importlib.resources import files

import matplotlib.pyplot as plt
import numpy as np

import armwright as aw
from armwright import pictures
from armwright.results import summary

folder = files("armwright") / "demo"
cell = aw.load_cell(folder / "cell.toml")
cycle = aw.load_cycle(folder / "cycle.toml", cell)
arm = cell.arm

# %% [markdown]
# ## One posture, by hand
#
# Torque by weight is linear in the load, so that the largest mass is solved for, not searched, and quickly enough to
# follow a slider. Stretch the arm out, and watch who gives out. "At rest" is what motors and reducers bear for any
# time, "at speed" what their peaks allow while the tool speeds up in any direction.

# %% tags=["live"]
def carried(axis_2, axis_3, axis_5, tool_acceleration):
    """What is held at rest and moved in a posture: axes in degrees, acceleration in m/s²."""
    q = np.radians([0, axis_2, axis_3, 0, axis_5, 0])
    x, _, z = arm.tool_pose(q)[:3, 3]
    rest, fast = arm.payload(q), arm.payload_in_motion(q, tool_acceleration=tool_acceleration)
    words = (f"flange {x:.2f} m out, {z:.2f} m up\n"
             f"at rest:  {float(rest.mass):5.1f} kg, then {rest.joint_name} gives out ({rest.limit_part})\n"
             f"at speed: {float(fast.mass):5.1f} kg, then {fast.joint_name} gives out ({fast.part})")  # fmt: skip
    _, ax = plt.subplots(figsize=(7, 2), layout="constrained")
    bars = ax.bar(arm.joint_names, np.minimum(rest.by_joint, 80), color="#8899aa", edgecolor="black")
    bars[int(rest.joint)].set_hatch("//")
    ax.set(ylabel="holds at rest (kg)", ylim=(0, 80))
    ax.set_title("What each axis by itself would hold, up to 80 kg; the least counts (hatched)", loc="left", fontsize=9)
    return words, ax


carried_live = pictures.live(
    carried, axis_2=(-75, 118, 40), axis_3=(-120, 70, -10), axis_5=(-110, 110, 40), tool_acceleration=(0.5, 8, 3),
)  # fmt: skip
carried_live

# %% [markdown]
# ## Anywhere, at rest
#
# Here the board stays level and its centre of gravity is 60 mm above the prongs, as in the description. The heavy lines
# part the regions where different joints give out first: they tell which motor or reducer to make larger.

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
# ## Anywhere, at speed
#
# On the left what the arm holds at rest, on the right what is left of it while the tool may speed up at 3 m/s² in any
# direction. Both by peak torque, so that they can be compared. Hatched: there the arm cannot move even itself so.

# %%
at_speed = cell.payload_at_speed(
    "150 mm", tool_acceleration="3 m/s^2", attitude="level", directions=8, spins=1, centre=centre,
    bounds=((1.05, -1.7, 0), (1.05, 1.7, 2.0)), track_step="300 mm",
)  # fmt: skip
print(summary(at_speed))
pictures.payload_at_speed(at_speed, x=1.05)
plt.show()

# %% [markdown]
# ## The day's work
#
# A board of ware goes from the rack over the glaze tub into the kiln, and the arm comes back empty. A cycle is a list
# of moves to work points; it is timed as fast as the limits of joints, tool, motors and reducers allow, and the
# distance to the nearest thing is proven along the whole way.

# %%
motion = cell.motion(cycle)
print(summary(motion))

# %% [markdown]
# At each instant something holds the motion back. Where that is a joint's stated limit, a stronger motor would change
# nothing; where it is a motor's torque, it would.

# %%
names = np.array(motion.limit.attrs["flag_meanings"].split())
steps = np.diff(motion.time.values)
for code in np.unique(motion.limit.values[1:]):
    share = steps[motion.limit.values[1:] == code].sum() / motion.attrs["duration"]
    words = "stands" if names[code] == "none" else names[code].replace("_", " ")
    print(f"{100 * share:4.0f} % of the time: {words}")

# %% [markdown]
# A cycle that a limit forbids is refused, with the move, the axis, the limit, and by how much. It is never clipped in
# silence:

# %%
hasty = aw.Cycle((aw.JointMove("left shelf 2", at="approach"), aw.JointMove("over the tub", duration="0.8 s")))
try:
    cell.motion(hasty)
except aw.InputError as error:
    print(error)

# %% [markdown]
# ## What gives out first
#
# Every motor and every stage is checked: the peak against the peak curve at that speed, the root mean square against
# the continuous curve, mean torque and mean speed of the reducers against their ratings.

# %%
checked = cell.drive_check(cycle)
print(summary(checked))
pictures.cycle_torques(checked)
plt.show()

# %%
pictures.operating_points(checked)
plt.show()

# %% [markdown]
# Points low and far left mean a motor that is larger than this cycle needs. Two figures deserve a look besides: the
# reducers' life at this duty, and the ratio of the load's inertia to the motor's rotor (makers of drives ask for less
# than about 10 for a lively axis: common practice, no source). What is beyond 10 is marked: there a larger motor, or
# more ratio, lets the axis follow better.

# %%
hours = checked.stage_life.values[:, 0] / 3600
low, high = checked.inertia_ratio_least.values, checked.inertia_ratio_greatest.values
for k, name in enumerate(checked.joint.values):
    life = "not told" if np.isnan(hours[k]) else "over 100,000 h" if hours[k] > 1e5 else f"{hours[k]:,.0f} h"
    mark = "  <- more than 10" if high[k] > 10 else ""
    print(f"{name:7} inertia ratio {low[k]:4.1f} to {high[k]:4.1f}; reducer's life {life}{mark}")

# %% [markdown]
# ## How heavy, and how fast
#
# Does it carry more if the same cycle is run slower? As far as peaks count (the dashed line), much more: they fall
# quickly with speed, until only weight is left. As far as heat in the motors and wear of the reducers count (dotted),
# hardly: most of that torque is weight, which does not care how fast one goes. The lower of the two counts.

# %%
curve = cell.payload_against_time(cycle)
print(summary(curve))
pictures.payload_against_time(curve)
plt.show()

# %% [markdown]
# What was not typed in is assumed, and told. Each line is a figure to look up in a data sheet before you order:

# %%
for assumption in cell.assumptions:
    print("assumed:", assumption)
