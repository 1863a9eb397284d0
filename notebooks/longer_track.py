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
# # Is a longer track worth it?
#
# A track under an arm is the dearest way to gain reach: rails, rack or belt, a motor, and a floor to carry it. Before
# you buy a metre of it, ask what it brings. This notebook asks it of the demonstration's studio:
#
# 1. From where on the line does the arm serve each work point?
# 2. Which stroke is the shortest that serves them all, and would parking at a few places do?
# 3. Where would a base without a track stand best?
# 4. What do longer strokes bring: points, time, margins; and what do they cost?
#
# Prices are invented, as all the studio's data.

# %% tags=["first"]
from dataclasses import replace
from importlib.resources import files

import matplotlib.pyplot as plt
import numpy as np

import armwright as aw
from armwright import pictures
from armwright.results import summary

folder = files("armwright") / "demo"
cell = aw.load_cell(folder / "cell.toml")
cycle = aw.load_cycle(folder / "cycle.toml", cell)
print(cell.description.track)

# %% [markdown]
# ## From where is each point served?
#
# The studio's track is 2.1 m long. The floor would take one from half a metre before its beginning to 3.5 m, so that is
# what we look at: a track that is not built yet costs nothing to calculate. A position serves a point if the arm
# reaches it there in an attitude that the work allows, within its joint limits, clear of everything, and holding the
# load that is wanted there.

# %% tags=["first"]
line = (-0.5, 3.5)
intervals = cell.track_intervals(stroke=line)
print(summary(intervals))

# %%
pictures.track_intervals(intervals)
plt.show()

# %% [markdown]
# Slide the arm along, and see what it serves from where it stands:

# %% tags=["live"]
def served_from(track):
    """The work points that are served from a place on the line, m."""
    points = intervals.target.values
    inside = (intervals.lower <= track) & (track <= intervals.upper)
    here = [str(name) for name, good in zip(points, inside.any("interval").values, strict=True) if good]
    ax = pictures.track_intervals(intervals, stroke=(track, track))
    ax.axvline(track, color="black", linewidth=2)
    return f"from {track:.2f} m: {len(here)} of {len(points)} served: {', '.join(here) or 'none'}", ax


served_live = pictures.live(served_from, track=(*line, 1.0))
served_live

# %% [markdown]
# Each bar is exact: its ends are found, not sampled. A point without a bar is served from nowhere on this line; no
# track helps it. The target check says why, and by how much:

# %%
checked = cell.check_targets()
for name, reason in zip(checked.target.values, checked.reason.values, strict=True):
    if not intervals.served.sel(target=name).item():
        print(f"{name}: {reason}")

# %% [markdown]
# ## The shortest strokes
#
# For each number of points the shortest stroke that serves so many. Where it is 0 the arm may as well be bolted down
# there.

# %%
for count, length, lower in zip(
    intervals.served_count.values, intervals.stroke_length.values, intervals.stroke_lower.values, strict=True
):
    if np.isfinite(length):
        print(f"{count:2d} points: {length:.3f} m, from {lower:.3f} m")

# %% [markdown]
# A stroke that just serves a point leaves no room: the arm stands at a joint limit, at the end of its reach, or right
# beside a fixture. Take some more than the least, and look at the margins below.
#
# If the arm does not work while it slides, a hand-pushed base with a few index pins may do:

# %%
print("park at", ", ".join(f"{position:.2f} m" for position in intervals.parking_position.values))
for name, place in zip(intervals.target.values, intervals.parking_of.values, strict=True):
    if place >= 0:
        print(f"  {name} from {intervals.parking_position.values[place]:.2f} m")

# %% [markdown]
# ## Where would a base without a track stand best?
#
# A track is to be held against the best that can be had without one. So the arm is bolted to a foot as high as the
# carriage, and its place and direction on the floor are searched for; the winners are checked again by the ordinary
# target check.

# %%
told = cell.description
bolted = aw.Cell.from_description(replace(told, track=None, mount=told.track.pose @ told.mount))
placed = bolted.placement(x=(0, 2.5), y=(-0.5, 0.5), yaw="any")
print(summary(placed))

# %%
pictures.placement_plan(placed)
plt.show()

# %% [markdown]
# ## What does each stroke bring?
#
# Now strokes side by side: each stands where it serves most points, and the day's cycle is planned anew with it. "No
# track" is the bolted arm at its best place. Prices are what your supplier says.

# %%
prices = aw.TrackPrices(per_metre=800.0, fixed=1200.0, motor=400.0, currency="EUR")
worth = cell.track_worth(
    (0.25, 0.5, 0.75, 1.0, 1.5, 2.1, 3.0, 4.0), cycle=cycle, within=line, prices=prices,
    fixed_base=bolted.placed(placed).description.mount,
)  # fmt: skip
print(summary(worth))

# %%
pictures.track_worth(worth)
plt.show()

# %% [markdown]
# Where a cycle has no time, it cannot be run with that stroke; the reason is kept:

# %%
for stroke, why in zip(worth.stroke.values, worth.cycle_reason.values, strict=True):
    if why:
        print(f"{stroke:.2f} m: {why}")

# %% [markdown]
# Three questions to the table. Which stroke first serves all that can be served? From where on does the cycle no longer
# get faster? And what do the rails have to bear: the moment is what tips the carriage, at rest and over the cycle; the
# blocks and the floor bolts must take it.

# %%
enough, last_gain = worth.attrs["enough_stroke"], worth.attrs["last_gain_stroke"]
most = worth.served_count.values.max()
print(f"{most} points from {enough:g} m of stroke on; nothing is gained beyond {last_gain:g} m")
tracks = worth.isel(stroke=worth.stroke.values > 0)
at_rest, moving = float(tracks.moment.max()), float(tracks.cycle_moment.max())
print(f"greatest moment on the rails, of all strokes: {at_rest:.0f} N·m at rest, {moving:.0f} N·m in the cycle")

# %% [markdown]
#
# ## Before you build
#
# - Leave some stroke at both ends for switches and for stopping: `cell.switches` tells how much.
# - A carriage that moves can crush and trap: its whole way needs guarding, ends and undersides too.
