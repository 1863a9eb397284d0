from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright._core import studies
from cases.described import positioner, track_cell

G = 9.80665
CELL = aw.Cell(positioner(0.1, axis_5=(-1.2, 1.2)))
MAP = CELL.payload_map("250 mm", directions=12, spins=2, centre=(0, 0, "100 mm"))


def test_greatest_and_least_are_those_of_solving_each_attitude() -> None:
    """In each attitude the best of its postures counts; over the attitudes the best and the worst."""
    attitudes = studies.attitudes_along(studies.spread_directions(12), 2)
    x, y, z = np.meshgrid(MAP["x"], MAP["y"], MAP["z"], indexing="ij")
    poses = np.tile(np.eye(4), (*x.shape, len(attitudes), 1, 1))
    poses[..., :3, :3] = attitudes
    poses[..., :3, 3] = np.stack([x, y, z], axis=-1)[..., None, :]
    found = CELL.solve(poses)
    mass = np.full(found.valid.shape, -np.inf)
    mass[found.valid] = CELL.payload(found.q[found.valid], centre=(0, 0, 0.1)).mass
    best = mass.max(axis=-1)
    reached = np.isfinite(best) | (best > 0)
    some = reached.any(axis=-1)
    assert np.array_equal(np.isnan(MAP["mass_greatest"]), ~some)
    assert np.array_equal(np.isnan(MAP["mass_least"]), ~some)
    greatest, least = best.max(axis=-1)[some], np.where(reached, best, np.inf).min(axis=-1)[some]
    np.testing.assert_allclose(MAP["mass_greatest"].values[some], greatest, rtol=1e-9)
    np.testing.assert_allclose(MAP["mass_least"].values[some], least, rtol=1e-9)
    assert (greatest > least * 1.01).any() and some.any() and not some.all()
    limiting = MAP["limiting_joint"].values
    assert (limiting[~some] == -1).all() and set(np.unique(limiting[some & np.isfinite(MAP["mass_greatest"])])) <= {
        1,
        2,
    }
    assert np.array_equal(MAP["limiting_limit"], np.where(limiting >= 0, 0, -1))


def test_the_curve_by_hand() -> None:
    """Level with the shoulder and stretched, axes 2 and 3 hold what hangs 1.0 and 0.5 m out; any height is the best
    over all heights."""
    arm = replace(positioner(), flange=None)
    result = aw.Cell(arm).payload_map("110 mm", directions=12, spins=1)
    level = result["curve_mass"].sel(height=0, method="nearest")
    assert abs(float(level["height"])) < 1e-9
    stretched = float(level.sel(distance=1.1, method="nearest"))
    shoulder, elbow = (160 - G * (8 * 0.3 + 3 * 0.85)) / (G * 1.1), (55 - G * 3 * 0.25) / (G * 0.5)
    assert stretched == pytest.approx(min(shoulder, elbow), rel=1e-3)
    any_height = result["curve_mass_any_height"].values
    with np.errstate(all="ignore"):
        np.testing.assert_array_equal(any_height, np.fmax.reduce(result["curve_mass"].values, axis=0))
    assert np.isnan(result["curve_mass"].sel(distance=0, height=0, method="nearest"))  # the hole about the shoulder


def test_threads_units_and_file(tmp_path: Path) -> None:
    for threads in (1, 2, 3):
        again = CELL.payload_map("250 mm", directions=12, spins=2, centre=(0, 0, 0.1), threads=threads)
        assert again.identical(MAP)
    assert MAP.attrs["study"] == "payload_map" and MAP.attrs["inputs_digest"] == CELL.digest()
    assert MAP.attrs["load_centre"] == [0, 0, 0.1] and MAP.attrs["limit"] == "continuous"
    assert MAP["mass_greatest"].attrs["units"] == "kg"
    assert MAP["joint_names"].values.tolist() == list(CELL.joint_names)
    MAP.armwright.to_netcdf(tmp_path / "payload.nc")
    assert aw.open_result(tmp_path / "payload.nc").identical(MAP)


def test_the_peak_holds_more_and_names_itself() -> None:
    peak = CELL.payload_map("250 mm", directions=12, spins=2, centre=(0, 0, 0.1), limit="peak")
    some = ~np.isnan(MAP["mass_greatest"].values)
    finite = some & np.isfinite(MAP["mass_greatest"].values)
    assert (peak["mass_greatest"].values[finite] > MAP["mass_greatest"].values[finite]).all()
    assert peak.attrs["limit"] == "peak"
    assert (peak["limiting_limit"].values[finite] == 1).all()


def test_attitudes_down_and_level() -> None:
    down, level = (CELL.payload_map("250 mm", attitude=word, spins=4) for word in ("down", "level"))
    assert (down.attrs["attitude"], level.attrs["attitude"]) == ("down", "level")
    poses = np.tile(np.eye(4), (4, 1, 1))
    poses[:, :3, :3] = studies.attitudes_along(np.array([[0, 0, -1.0]]), 4)
    poses[:, :3, 3] = at = (0.5, 0.25, 0.25)
    found = CELL.solve(poses)
    mass = CELL.payload(found.q[found.valid]).mass.max()
    assert float(down["mass_greatest"].sel(x=at[0], y=at[1], z=at[2], method="nearest")) == pytest.approx(mass)


def test_refusals() -> None:
    with pytest.raises(aw.InputError, match=r"^attitude: got 'sideways', expected"):
        CELL.payload_map(0.5, attitude="sideways")  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match=r"^limit: got 'peek'"):
        CELL.payload_map(0.5, limit="peek")  # type: ignore[arg-type]
    with pytest.raises(aw.InputError, match=r"^centre: got "):
        CELL.payload_map(0.5, centre=(0, 0))
    joints = [replace(joint, torque_continuous=math.inf, torque_peak=math.inf) for joint in positioner().joints]
    bare = aw.Cell(replace(positioner(), joints=tuple(joints)))
    with pytest.raises(aw.InputError, match=r"^limit: got continuous, but no joint states a torque"):
        bare.payload_map(0.5)


def test_along_a_track_the_curve_is_that_of_the_arm_standing_still() -> None:
    with_track = track_cell().payload_map("300 mm", directions=6, spins=1)
    still = track_cell(track=None, mount=(0.5, 0, 0.18)).payload_map("300 mm", directions=6, spins=1)
    np.testing.assert_array_equal(with_track["distance"], still["distance"])
    np.testing.assert_allclose(with_track["curve_mass"], still["curve_mass"], rtol=1e-9)
    assert float(with_track["reachable" if "reachable" in with_track else "mass_greatest"].count()) > float(
        still["mass_greatest"].count()
    )


@pytest.mark.parametrize("turn", [(0.2, 0.5), (2.0, 2.3), (-3.0, 3.0)])
def test_the_curve_follows_an_axis_1_of_narrow_range(turn: tuple[float, float]) -> None:
    """Whatever the range of axis 1, an arm that is upright on it holds as much at each distance."""
    stretched = aw.Cell(positioner(axis_1=turn)).payload_map(
        "100 mm", directions=12, spins=1, bounds=((0.4, 0.1, 0), (0.5, 0.2, 0.1))
    )
    curve = stretched["curve_mass_any_height"].values
    assert np.isfinite(curve[2:]).all()
    level = stretched["curve_mass"].sel(height=0, method="nearest").values
    # Stretched out level, axis 3 gives out first: (55 - 3·0.25 g) / (0.5 g) kg.
    assert level[-1] == pytest.approx((55 - 3 * 0.25 * G) / (0.5 * G), rel=1e-6)
