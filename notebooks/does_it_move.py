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
# # Does it move, and does it stop?
#
# What an arm can hold is not what it can swing: starts and stops load the motors, the reducers and the supply, and when
# the power goes something must hold the arm up. This notebook answers, for the demonstration's studio:
#
# 1. What gives out first when the arm goes through its day's work?
# 2. How heavy, and how fast?
# 3. What supply does it need?
# 4. Does it stay up when the power fails, and where does it stop?
#
# The first notebook, `does_it_reach.py`, asks whether it gets there at all. All data here are invented; put your own
# files in their place and the rest stays as it is.

# %%
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

import matplotlib.pyplot as plt
import numpy as np

import armwright as aw
from armwright import pictures
from armwright.report import setpoints_to_csv
from armwright.results import summary

folder = files("armwright") / "demo"
cell = aw.load_cell(folder / "cell.toml")
cycle = aw.load_cycle(folder / "cycle.toml", cell)
print(cell.arm)
print(cycle)

# %% [markdown]
# ## The drives
#
# A drive is a motor, a chain of stages to the joint, a brake, and friction. The figures of a part are typed in once,
# into `parts.toml`, from its data sheet; the arm's file names the part:

# %%
print((folder / "parts.toml").read_text()[:820])

# %%
text = (folder / "arm.toml").read_text()
print("\n".join(line for line in text.splitlines() if line.startswith("drive")))

# %% [markdown]
# What was not typed in is assumed, and told. Read this list first: each line is a figure to look up.

# %%
for assumption in cell.assumptions:
    print("assumed:", assumption)

# %% [markdown]
# Figures that contradict each other are refused, before they do harm:

# %%
try:
    aw.Motor(continuous="2.4 N*m", peak="1.9 N*m", max_speed="5500 rpm")
except aw.InputError as error:
    print(error)

# %% [markdown]
# ## The cycle
#
# A board of ware goes from the rack over the glaze tub into the kiln, and the arm comes back empty. A cycle is a list
# of moves to work points; postures are chosen so that the joints travel least. Timing is as fast as the limits of
# joints, tool, motors and reducers allow. The distance to the nearest thing is looked at along the way.

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
# reducers' life at this duty, and the ratio of the load's inertia to the motor's (makers of drives ask for less than
# about 10 for a lively axis: common practice, no source).

# %%
hours = checked.stage_life.values[:, 0] / 3600
low, high = checked.inertia_ratio_least.values, checked.inertia_ratio_greatest.values
for k, name in enumerate(checked.joint.values):
    life = f"{hours[k]:,.0f} h" if np.isfinite(hours[k]) else "no life rating told"
    print(f"{name:7} inertia ratio {low[k]:4.1f} to {high[k]:4.1f}; reducer's life {life}")

# %% [markdown]
# ## How heavy, and how fast
#
# Run the same cycle slower and it carries more, until only weight is left. Peaks (the dashed line) fall quickly with
# speed; heat in the motors and wear of the reducers (dotted) hardly change, because most of that torque is weight.

# %%
curve = cell.payload_against_time(cycle)
print(summary(curve))
pictures.payload_against_time(curve)
plt.show()

# %% [markdown]
# And anywhere else, not only on this cycle? On the left what the arm holds at rest, on the right what is left of it
# while the tool may speed up at 3 m/s² in any direction. Both by peak torque, so that they can be compared; for
# holding all day the continuous torque counts, as in the first notebook. Hatched: there the arm cannot move itself so.

# %%
at_speed = cell.payload_at_speed(
    "150 mm", tool_acceleration="3 m/s^2", attitude="level", directions=8, spins=1, centre=cell.load.centre,
    bounds=((1.05, -1.7, 0), (1.05, 1.7, 2.0)), track_step="300 mm",
)  # fmt: skip
print(summary(at_speed))
pictures.payload_at_speed(at_speed, x=1.05)
plt.show()

# %% [markdown]
# ## The supply
#
# Axes that brake feed axes that drive; what is left over fills the bus capacitor, then the brake resistor. The supply
# in `cell.toml` is one phase on a 16 A circuit. The dashed line is what that circuit allows as a root mean square.

# %%
power = cell.power(cycle, cell.supply)
print(summary(power))
pictures.power(power)
plt.show()

# %%
for name, current, peak in zip(
    power.joint.values, power.motor_current_rms.values, power.motor_current_peak.values, strict=True
):
    print(f"{name:7} motor lead {current:4.2f} A root mean square, {peak:4.2f} A at the peak")

# %% [markdown]
# These figures say what to ask for. What is installed (conductors, fuses, protective earth, stop circuit) is for those
# licensed for it, to local codes.
#
# ## Does it stay up when the power fails?
#
# The worst torque of every axis by weight is a proven bound over all postures, not the worst of some samples; beside it
# stands what the brake holds. Friction and the losses of the reducers help, but are not counted.

# %%
held = cell.holding()
print(summary(held))
pictures.holding(held)
plt.show()

# %% [markdown]
# Axis 6 has no brake. Is that bad? Here is what happens when the power goes while the tool is fastest: the brakes bite
# after their delays, the tool sinks a little, and axis 6 swings with the load until it meets the end of its range. A
# board of ware would be on the floor. Either it gets a brake, or the load is centred on its axis.

# %%
fastest = int(motion.tool_speed.values.argmax())
stop = cell.stop(motion.q.values[fastest], motion.speed.values[fastest])
print(summary(stop))
pictures.stop(stop)
plt.show()

# %% [markdown]
# Standards ask for stopping times and distances of the three main axes at a third, two thirds and all of speed, load
# and extension, for both ways of stopping: category 0, the power goes at once; category 1, the motors brake first.

# %%
table = cell.stop_table(reaction="50 ms")
worst = table.isel(speed_share=-1, load_share=-1, extension_share=-1)
for axis, unit in zip(table.axis.values, table.axis_unit.values, strict=True):
    factor, shown = (np.degrees(1), "°") if unit == "rad" else (1, " m")
    for category in (0, 1):
        row = worst.sel(axis=axis, category=category)
        print(f"{axis}, category {category}: {row.stop_time.item():.2f} s, {factor * row.travel.item():.3g}{shown}, "
              f"tool {row.tool_path.item():.2f} m")  # fmt: skip

# %% [markdown]
# These are calculated. The standard's figures are measured ones: measure yours before you rely on them.
#
# ## Switches and fences
#
# From the stops follows where soft limits and limit switches go, so that every stop ends before the hard stop, and how
# far a light curtain stands from the danger zone (ISO 13855: S = K T + C).

# %%
longest = float(table.stop_time.max())
print(summary(cell.separation(longest)))

# %%
switches = cell.switches(reaction="50 ms", switch_error=np.radians(0.5), reserve=np.radians(1))
print(summary(switches))

# %% [markdown]
# ## Setpoints
#
# The timed cycle goes to a controller as a table, and for the first run as slow moves: the tool at no more than 250
# mm/s.

# %%
points = cell.setpoints(cycle, 250)
print(summary(points))
first = cell.motion(cycle.first_run())
print(f"first run: {first.attrs['duration']:.1f} s, tool at {first.tool_speed.values.max():.3f} m/s at most")

# %%
with TemporaryDirectory() as place:
    written = setpoints_to_csv(points, Path(place) / "setpoints.csv")
    print("\n".join(line[:110] for line in written.read_text().splitlines()[:3]))

# %% [markdown]
# ## Before you build
#
# A result is a calculation from what was typed in. Bearings, links, bolts and the floor are not in it yet.
#
# - An untested arm moves with enough force to kill: keep out of its range, guard it, and start at reduced speed.
# - Test brakes and hard stops before anyone stands near, with the load, axis by axis.
# - Measure stopping times; then place the fences.
# - Supply, protective earth, fusing and stop circuits follow local codes and are done by those licensed for them.
# - A risk assessment to the machinery standards comes before first use.
