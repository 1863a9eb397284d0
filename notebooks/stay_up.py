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
# # Does it stay up, and where does it stop?
#
# When the power goes, nothing but brakes holds the arm, and it does not stop where it is. This notebook asks, for the
# studio with its load:
#
# 1. Do the brakes hold at the worst posture there is?
# 2. How far does the arm travel before it stands, with the power gone, or stopped by its motors?
# 3. Where do switches, soft limits and fences go?

# %%
from dataclasses import replace
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

# %% [markdown]
# ## Do the brakes hold?
#
# The worst torque of every axis by weight is a proven bound over all postures, not the worst of some samples; beside it
# stands what the brake holds. Friction and the losses of the reducers help, but are not counted.

# %%
held = cell.holding()
print(summary(held))
pictures.holding(held)
plt.show()

# %% [markdown]
# ## The power goes while it moves
#
# Axis 6 has no brake. Is that bad? Here is what happens when the power goes while the tool is fastest: the brakes bite
# after their delays, the tool sinks a little, and whatever has no brake swings with the load.

# %%
motion = cell.motion(cycle)
fastest = int(motion.tool_speed.values.argmax())
stop = cell.stop(motion.q.values[fastest], motion.speed.values[fastest])
print(summary(stop))
pictures.stop(stop)
plt.show()

# %% [markdown]
# What a stop asks of the reducers is more than any move does, and it is told beside what they bear at a rare
# emergency stop:

# %%
share = stop.stage_torque_share.max("stage")
for name, part in zip(share.joint.values, share.values, strict=True):
    if np.isfinite(part):
        print(f"{name:7} {100 * part:4.0f} % of the momentary peak torque")

# %% [markdown]
# What would help axis 6: a brake, or a load that is centred on its axis? Either is one line of the description. How far
# the axis turns, from the signal until all stand (or the end of its range is met), in each case:

# %%
told = cell.description
joints = list(told.arm.joints)
joints[5] = replace(joints[5], drive=replace(joints[5].drive, brake=aw.Brake("0.4 N*m", name="brake on the motor")))
braked = aw.Cell.from_description(replace(told, arm=replace(told.arm, joints=tuple(joints))))
centred = replace(cell.load, centre=(0, 0, 0), name="the same board, centred on axis 6")
moving = motion.q.values[fastest], motion.speed.values[fastest]
for words, result in (
    ("as it is", stop), ("with the board centred", cell.stop(*moving, load=centred)),
    ("with a brake", braked.stop(*moving)),
):  # fmt: skip
    met = float(result.impact_speed.sel(joint="axis 6")) > 0
    print(f"{words:23} axis 6 turns by {np.degrees(float(result.travel.sel(joint='axis 6'))):5.1f}°, "
          f"{'and meets the end of its range' if met else 'and stands'}")

# %% [markdown]
# ## Stopping times and distances
#
# Standards ask for them of the three main axes at a third, two thirds and all of speed, load and extension, for both
# ways of stopping: category 0, the power goes at once; category 1, the motors brake first.

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
# far a light curtain stands from the danger zone (ISO 13855: S = K T + C). What counts is the longest stop in the whole
# table, whatever the load and the extension were.

# %%
longest = float(table.stop_time.max())
print(summary(cell.separation(longest)))

# %%
switches = cell.switches(reaction="50 ms", switch_error=np.radians(0.5), reserve=np.radians(1))
for axis, unit in zip(switches.joint.values, switches.joint_unit.values, strict=True):
    scale, sign = (np.degrees(1), "°") if unit == "rad" else (1, " m")
    soft, switch = (scale * switches[kind].sel(joint=axis).values for kind in ("soft_limit", "limit_switch"))
    if np.isnan(switch).any():
        print(f"{axis:6} does not stop within its range: no place for a switch; it needs a brake first")
    else:
        print(f"{axis:6} soft limits {soft[0]:.4g} to {soft[1]:.4g}{sign}, "
              f"switches {switch[0]:.4g} to {switch[1]:.4g}{sign}")
print(switches.attrs["caution"])

# %% [markdown]
# ## The first run
#
# The timed cycle goes to a controller as a table, and for the first run slowed so that the tool does no more than
# 250 mm/s. Slow is not harmless, but it leaves time to let go of the enabling switch.

# %%
first = cell.motion(cycle.first_run())
print(f"at full speed {motion.attrs['duration']:.1f} s; first run {first.attrs['duration']:.1f} s, "
      f"tool at {first.tool_speed.values.max():.3f} m/s at most")  # fmt: skip
points = cell.setpoints(cycle.first_run(), 250)
with TemporaryDirectory() as place:
    written = setpoints_to_csv(points, Path(place) / "setpoints.csv")
    heads, *rows = (line.split(",") for line in written.read_text().splitlines())
print(f"{len(rows)} rows of {len(heads)} columns; the first few:")
for head, first_row, last_row in list(zip(heads, rows[0], rows[-1], strict=True))[:8]:
    print(f"  {head:26} {float(first_row):12.5g} ... {float(last_row):12.5g}")

# %% [markdown]
# ## Before anyone stands near
#
# - Test brakes and hard stops with the load, axis by axis, from outside the fence.
# - Measure stopping times; then place the fences.
# - Stop circuit, protective earth and fusing follow local codes and are done by those licensed for them.
# - A risk assessment to the machinery standards comes before first use; it decides which category stops what.
