"""What the section on the load in motion says is what payload_against_time and payload_at_speed hold."""

from __future__ import annotations

import numpy as np

from armwright.report.questions.speed import SPEED
from cases.reported import driven_results, numbers, of, small_results, table


def test_paces() -> None:
    paced = driven_results()["payload_against_time"]
    section = SPEED.section(of({"payload_against_time": paced}))
    at = int(np.argmin(np.abs(paced["slowing"].values - 1)))
    assert f"could carry {float(paced['mass'].values[at]):.3g} kg" in section.headline
    assert section.good is bool(paced["mass"].values[at] >= paced.attrs["load_mass"])
    rows = table(section, "payload_against_time")
    for words, variable in (("times as slow", "slowing"), ("duration", "duration"), ("carries", "mass"),
                            ("by means", "mass_continuous")):  # fmt: skip
        assert np.array_equal(numbers(rows, words), paced[variable].values)


def test_too_heavy_is_not_good() -> None:
    paced = driven_results()["payload_against_time"].copy()
    paced.attrs["load_mass"] = 1e6
    assert SPEED.section(of({"payload_against_time": paced})).good is False


def test_maps_in_motion_stand_beside_those_at_rest() -> None:
    moved = small_results()["payload_at_speed"]
    section = SPEED.section(of({"payload_at_speed": moved}))
    curve = table(section, "payload_at_speed_against_reach")
    known = ~(np.isnan(moved["curve_mass_any_height"].values) & np.isnan(moved["rest_curve_mass_any_height"].values))
    assert np.array_equal(numbers(curve, "carried"), moved["curve_mass_any_height"].values[known], equal_nan=True)
    assert np.array_equal(
        numbers(curve, "held at rest"), moved["rest_curve_mass_any_height"].values[known], equal_nan=True
    )
    assert section.good is None and section.headline.startswith("Moves ")
