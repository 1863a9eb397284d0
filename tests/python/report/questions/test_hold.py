"""What the section on the load at rest says is what payload_map holds."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.hold import HOLD
from cases import sample_results as sample
from cases.reported import column, numbers, of, small_results, table


def test_least_and_most_with_place_and_joint() -> None:
    held = sample.payload_map(0.25)
    section = HOLD.section(of({"payload_map": held}))
    mass = held["mass_greatest"].values
    most = np.unravel_index(int(np.nanargmax(np.where(np.isfinite(mass), mass, np.nan))), mass.shape)
    x, y, z = (float(held[axis].values[i]) for axis, i in zip("xyz", most, strict=True))
    joint = held["joint_names"].values[held["limiting_joint"].values[most]]
    assert f"most {mass[most]:.3g} kg at ({x:.3g}, {y:.3g}, {z:.3g}) m, limited by {joint}" in section.answers[1]
    assert section.good is None and any("tool " in line for line in section.assumptions)


def test_shares_of_what_gives_out_first_add_up() -> None:
    held = small_results()["payload_map"]
    section = HOLD.section(of({"payload_map": held}))
    shares = table(section, "payload_map_limits")
    assert np.isclose(sum(numbers(shares, "share of the positions")), 1.0)
    assert set(column(shares, "joint")) <= {*map(str, held["joint_names"].values), "none"}
    curve = table(section, "payload_map_against_reach")
    known = ~np.isnan(held["curve_mass_any_height"].values)
    assert numbers(curve, "held") == list(held["curve_mass_any_height"].values[known])
    assert numbers(curve, "distance from axis 1") == list(held["distance"].values[known])
