"""Source: closed forms (moment balance; circle and line), for what the maps and the target check say besides volumes.

The arm: no shoulder offset, links without mass, a spherical wrist in the tool point, all joints turning fully; only
axis 2 is weak. A load at the tool point is then held by axis 2 alone, m = tau/(g r) with r the horizontal distance
from axis 1, whatever the posture. R = 1.5 m, r = 0.4 m."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.arms import positioner

G, TORQUE = 9.80665, 60.0
FAR, NEAR = 1.5, 0.4


def cell_of(folder: Path, **more: Any) -> aw.Cell:
    chain = positioner(0.0, 0.95, 0.55, mass=0.0, effort=TORQUE)
    return aw.Cell(aw.load_arm(chain.write_urdf(folder), tool="tool"), **more)


def test_payload_falls_with_distance(tmp_path: Path) -> None:
    """m = tau/(g r) at every reachable position, 1e-9 of itself, axis 2 the limit."""
    result = cell_of(tmp_path).payload_map(0.15, directions=2, spins=1)
    x, y = np.meshgrid(result["x"], result["y"], indexing="ij")
    r = np.broadcast_to(np.hypot(x, y)[:, :, None], result["mass_greatest"].shape)
    reached = np.isfinite(result["mass_greatest"].values) & (r > 0.1)
    assert reached.sum() > 1000
    for name in ("mass_greatest", "mass_least"):
        np.testing.assert_allclose(result[name].values[reached], TORQUE / (G * r[reached]), rtol=1e-9)
    assert (result["limiting_joint"].values[reached] == 1).all()


def test_payload_curve(tmp_path: Path) -> None:
    """The curve against distance says the same, at each height and over all of them."""
    result = cell_of(tmp_path).payload_map(0.15, directions=2, spins=1)
    d = result["distance"].values
    wide = d > 0.1
    curve = result["curve_mass"].transpose("height", "distance").values[:, wide]
    expected = np.broadcast_to(TORQUE / (G * d[wide]), curve.shape)
    known = np.isfinite(curve)
    assert known.sum() > 20
    np.testing.assert_allclose(curve[known], expected[known], rtol=1e-9)
    over_all = result["curve_mass_any_height"].values[wide]
    assert np.isfinite(over_all).any()
    np.testing.assert_allclose(over_all[np.isfinite(over_all)], expected[0][np.isfinite(over_all)], rtol=1e-9)


def test_track_interval(tmp_path: Path) -> None:
    """From where on a track of 2 m a position is reached: where the line cuts the ball, and not inside the hole. The
    project promises the ends to 0.1 mm."""
    result = cell_of(tmp_path, track=aw.Track((1, 0, 0), 2.0)).reach_map(0.25, directions=1, spins=1)
    lower, upper = result["track_lower"].values, result["track_upper"].values
    x, y, z = np.meshgrid(result["x"], result["y"], result["z"], indexing="ij")
    away2 = y**2 + z**2
    checked = 0
    for at in np.ndindex(x.shape):
        if away2[at] > FAR**2 - 0.01:
            continue
        half = math.sqrt(FAR**2 - away2[at])
        low, high = max(0.0, x[at] - half), min(2.0, x[at] + half)
        hole = math.sqrt(max(0.0, NEAR**2 - away2[at]))
        if x[at] - hole < low + 0.3 or x[at] + hole > high - 0.3 or high - low < 0.6:
            continue  # the hole at an end, or a short stretch between samples
        checked += 1
        assert lower[at] == pytest.approx(low, abs=1e-4)
        assert upper[at] == pytest.approx(high, abs=1e-4)
    assert checked > 300


@pytest.mark.parametrize("beyond", [0.004, 0.038, 0.5])
def test_out_of_reach_by(tmp_path: Path, beyond: float) -> None:
    """A target ``beyond`` the outermost sphere, along a slanted line from the shoulder, is out of reach by that, to
    1 mm."""
    way = np.array([0.6, -0.5, 0.4]) / np.linalg.norm([0.6, -0.5, 0.4])
    served = aw.Target.pointing((FAR - 0.004) * way, "down", "inside", spin=0.0)
    missed = aw.Target.pointing((FAR + beyond) * way, "down", "outside", spin=0.0)
    result = cell_of(tmp_path).check_targets([served, missed])
    assert result["served"].values.tolist() == [True, False]
    told = re.fullmatch(r"out of reach by ([\d.]+) mm", str(result["reason"].values[1]))
    assert told is not None
    step = 1e-3 if beyond >= 0.01 else 1e-4  # as the text is rounded
    assert float(told[1]) / 1000 == pytest.approx(beyond, abs=step / 2 + 1e-4)


@pytest.mark.parametrize("wanted", [3.0, 6.0])
def test_load_wanted_and_held(tmp_path: Path, wanted: float) -> None:
    """At r = 1.2 m axis 2 holds 60/(9.80665 x 1.2) = 5.0986 kg."""
    target = aw.Target.pointing((0.0, 1.2, 0.3), "down", "shelf", load=aw.Load(wanted))
    result = cell_of(tmp_path).check_targets([target])
    held = TORQUE / (G * 1.2)
    assert float(result["payload"][0]) == pytest.approx(held, rel=1e-9)
    assert bool(result["served"][0]) is (wanted < held)
    if wanted > held:
        assert str(result["reason"].values[0]).startswith("6 kg wanted and 5.09 kg held (joint 2")  # never rounded up
