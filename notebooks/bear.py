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
# # What do bearings, bolts and supply bear?
#
# With the arm stretched out and stopped hard, shoulder, links and foot see the largest loads of the whole machine,
# and when all axes speed up together so does the supply. This notebook asks, of the studio's arm:
#
# 1. What does each bearing, link, bolt, block and rail bear: at rest, in the day's work, in the worst stop?
# 2. What was not looked at, and why?
# 3. Which bearing would be large enough, and what would a stiffer rail need?
# 4. What must the supply deliver, and where does braking energy go?
# 5. How far does the tool sink under all that, and how far may it be off?
# 6. How does the arm hang from its eye, and which motor comes out in which posture?

# %%
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

# %% [markdown]
# ## What is asked of the parts
#
# Every study of what parts bear looks at the same *rows of loading*: each work point at rest, the postures that are
# worst to hold, the whole cycle, and stops of both categories from the worst postures and speeds. What cannot be looked
# at is named.

# %%
rows = cell.load_rows(cycle)
print(f"{len(rows.q)} rows in {len(rows.case_names)} cases")
for kind in ("rest", "cycle", "stop"):
    print(f"  {kind}: {len(rows.only(kind).case_names)} cases")
print("not looked at:", *rows.missing, sep="\n  ")

# %% [markdown]
# ## All parts side by side

# %%
borne = cell.part_loads(cycle)
pictures.part_safeties(borne)
plt.show()

# %%
print(summary(borne))

# %% [markdown]
# Of what stands "not looked at" nothing is said, and it is not safe for that. What is too little, in short:

# %%
share = (borne["safety"] / borne["wanted"]).min("situation")
for weak in np.flatnonzero(share.values < 1):
    part, quantity = borne["part"].values[weak], borne["quantity"].values[weak]
    print(f"{part}, {quantity}: {share.values[weak]:.2f} of the safety that is wanted")

# %% [markdown]
# ## The bearings
#
# What axis 1 bears in every row, against what its bearing can: tilting moment against axial force, the limit with the
# safety that is wanted, beside the greatest radial force.

# %%
bearings = cell.bearings(cycle)
pictures.wrenches(cell.joint_wrenches(cycle), "axis 1", bearings=bearings)
plt.show()

# %%
for name in bearings["bearing"].values:
    one = bearings.sel(bearing=name)
    print(f"{name:30} static safety {float(one.static_safety):5.2f}, {float(one.wanted_static):g} wanted; "
          f"a static rating of {float(one.needed_static_rating) / 1000:4.1f} kN would do")

# %% [markdown]
# How large would the bearing of axis 6 have to be? The wrenches are known without it; so try one:

# %%
described = cell.description
joints = list(described.arm.joints)
small = aw.SlewingBearing("crossed roller", "50 mm", "5 kN", "7 kN", name="trial bearing")
joints[5] = replace(joints[5], bearing=small)
trial = aw.Cell.from_description(replace(described, arm=replace(described.arm, joints=tuple(joints))))
found = trial.bearings(cycle).sel(bearing="axis 6: trial bearing")
print(f"static safety {float(found.static_safety):.2f}, wanted {float(found.wanted_static):g}; "
      f"a static rating of {float(found.needed_static_rating) / 1000:.1f} kN is needed")

# %% [markdown]
# ## Foot and track

# %%
pictures.bolt_pattern(cell.base_loads(cycle))
plt.show()

# %%
track = cell.track_loads(cycle)
pictures.block_loads(track)
plt.show()

# %% [markdown]
# How far do the rails bend, and would they less with the supports nearer together? Every number of a description can be
# changed and asked again:

# %%
spans = ["400 mm", "450 mm", "500 mm", "540 mm"]
for span in spans:
    bent = cell.with_numbers({"track.guide.beam.span": span}).track_loads(cycle)
    most = np.abs(bent["rail_deflection"].sel(support="simple")).max()
    allowed = bent.attrs["deflection_limit"]
    print(f"supports {span} apart: {1000 * float(most):.3f} mm, {1000 * allowed:g} mm allowed: "
          f"{'good' if most <= allowed else 'too much'}")

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

# %% [markdown]
# ## How far the tool sinks, and how true it stands
#
# Sag by weight, by what gives way; over the reach; and the slowest swing.

# %%
pictures.sag_causes(cell.sag())
plt.show()

# %%
pictures.sag_over_reach(cell.sag_over_reach("50 mm"))
plt.show()

# %%
checked = cell.check_targets()
served = checked["q"].values[checked["served"].values]
stiff = cell.stiffness(served)
lowest = stiff["frequency"].values[:, 0]
print(f"slowest swing: {lowest.min():.1f} Hz, mostly by {stiff['mode_cause'].values[lowest.argmin(), 0]}")

# %% [markdown]
# How far the tool may be off by play, encoders and tolerances of the parts, at worst, and what has the greatest share:

# %%
true = cell.tool_error()
print(summary(true))
pictures.error_shares(true)
plt.show()

# %% [markdown]
# ## Lifting, and taking a motor out

# %%
lifted = cell.lifting()
print(summary(lifted))
pictures.hanging(lifted, cell.scene())
plt.show()

# %%
print(summary(cell.service()))

# %% [markdown]
# As a page for a browser, with all tables: `armwright bears cell.toml --cycle cycle.toml`, or:
#
# ```python
# from armwright.report import part_page
# part_page(borne, [bearings, track], path="bears.html")
# ```

# %% [markdown]
# Bolts, anchors, floor and lifting are for local codes and for those who may design them; fatigue and notches are in
# none of these figures. Hoist only with rated gear, with nobody below.
