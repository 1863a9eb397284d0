from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from cases.described import at, positioner, track_cell

PI = math.pi


def small(cell: aw.Cell, **more: Any) -> Any:
    return cell.reach_map(
        **({"spacing": "300 mm", "directions": 8, "spins": 2, "track_step": 0.25, "margin": "5 mm"} | more)
    )


CELL = track_cell()
MAP = small(CELL)


def test_counts_are_those_of_solving_each_attitude() -> None:
    """Every position, attitude and track position solved one by one, with its clearance."""
    from armwright._core import studies

    attitudes = studies.attitudes_along(studies.spread_directions(8), 2)
    corner = MAP.sel(x=slice(0.8, 2.4), y=slice(-0.4, 0.7), z=slice(0.2, 1.2))
    x, y, z = np.meshgrid(corner["x"], corner["y"], corner["z"], indexing="ij")
    poses = np.tile(np.eye(4), (*x.shape, len(attitudes), 1, 1))
    poses[..., :3, :3] = attitudes
    poses[..., :3, 3] = np.stack([x, y, z], axis=-1)[..., None, :]
    found = CELL.solve(poses, samples=5)
    good = found.valid.copy()
    good[found.valid] = CELL.is_clear(found.q[found.valid], "5 mm")
    np.testing.assert_array_equal(corner["reach_index"], good.any(axis=-1).mean(axis=-1))
    assert 0.05 < float((corner["reach_index"] > 0).mean()) < 1 and 0 < float(corner["reach_index"].mean()) < 1

    def best(values: Any) -> Any:  # over all good postures of a position
        spread = np.full(good.shape, -np.inf)
        spread[good] = values(found.q[good])
        most = spread.max(axis=(-1, -2))
        return np.where(np.isfinite(most), most, np.nan)

    np.testing.assert_allclose(corner["limit_margin"], best(CELL.limit_margin), atol=1e-9)
    np.testing.assert_allclose(corner["manipulability"], best(CELL.manipulability), rtol=1e-9)
    np.testing.assert_allclose(corner["clearance"], best(lambda q: CELL.clearance(q)["distance"].values), atol=1e-6)


def test_the_same_bits_from_any_number_of_threads_and_the_same_in_any_box() -> None:
    for threads in (1, 2, 3):
        assert small(CELL, threads=threads).identical(MAP)
    part = small(CELL, bounds=((0.3, 0.0, 0.3), (0.9, 0.6, 0.9)))
    assert part["reach_index"].shape == (3, 3, 3)
    shared = MAP.sel(x=part["x"], y=part["y"], z=part["z"], method="nearest")
    for name in ("reach_index", "limit_margin", "manipulability", "clearance", "track_lower", "track_upper"):
        np.testing.assert_allclose(part[name], shared[name], rtol=1e-9, atol=1e-9)


def test_what_the_result_says_of_itself(tmp_path: Path) -> None:
    attrs = MAP.attrs
    assert attrs["study"] == "reach_map" and attrs["arm_name"] == "track arm" and attrs["cell_name"] == "cell"
    assert attrs["inputs_digest"] == CELL.digest() and len(attrs["inputs_digest"]) == 64
    assert (attrs["directions"], attrs["spins"], attrs["spacing"], attrs["margin"]) == (8, 2, 0.3, 0.005)
    assert all(MAP[name].attrs["units"] and MAP[name].attrs["long_name"] for name in MAP.variables)
    assert MAP["clearance"].attrs["units"] == "m" and MAP["reach_index"].attrs["units"] == "1"
    assert np.array_equal(MAP["reachable"], MAP["reach_index"] > 0)
    for name in ("limit_margin", "manipulability", "clearance", "track_lower", "track_upper"):
        assert np.array_equal(np.isnan(MAP[name]), ~MAP["reachable"].values), name
    MAP.armwright.to_netcdf(tmp_path / "reach.nc")
    assert aw.open_result(tmp_path / "reach.nc").identical(MAP)


def test_volumes_are_counted_cubes() -> None:
    arm = aw.Cell(positioner(axis_5=(-1.4, 1.4)))
    result = arm.reach_map("150 mm", directions=20, spins=1, dexterous_share=0.5)
    cube = 0.15**3
    assert result.attrs["reachable_volume"] == pytest.approx(int(result["reachable"].sum()) * cube)
    dexterous = int((result["reach_index"] >= 0.5).sum())
    assert result.attrs["dexterous_volume"] == pytest.approx(dexterous * cube)
    assert 0 < dexterous < int(result["reachable"].sum())
    truth = 4 / 3 * PI * (1.1**3 - 0.1**3)
    assert abs(result.attrs["reachable_volume"] - truth) < 2 * result.attrs["reachable_volume_error"]


def test_an_arm_on_a_wall_reaches_a_ball_about_its_shoulder() -> None:
    mount = at((0.5, 0.4, 1.2), np.array([[0, 0, 1], [0, 1, 0], [-1, 0, 0.0]]))
    result = aw.Cell(positioner(), mount=mount).reach_map("100 mm", directions=1, spins=1)
    x, y, z = np.meshgrid(result["x"], result["y"], result["z"], indexing="ij")
    away = np.sqrt((x - 0.5) ** 2 + (y - 0.4) ** 2 + (z - 1.2) ** 2)
    clear = np.abs(away - 1.1) > 1e-9
    assert np.array_equal(result["reachable"].values[clear], ((away < 1.1) & (away > 0.1 - 1e-9))[clear])
    assert "track_lower" not in result


def test_the_track_interval_against_a_closed_form() -> None:
    """x -+ sqrt(R^2 - y^2 - z^2), found to 0.1 mm whatever the step of the samples."""
    cell = aw.Cell(positioner(), aw.Track("x", 3.0))
    result = cell.reach_map("250 mm", directions=1, spins=1, bounds=((0.5, 0.25, 0), (2.5, 0.75, 0.25)))
    x, y, z = np.meshgrid(result["x"], result["y"], result["z"], indexing="ij")
    half = np.sqrt(1.21 - y**2 - z**2)
    np.testing.assert_allclose(result["track_lower"], np.maximum(0, x - half), atol=2e-4)
    np.testing.assert_allclose(result["track_upper"], np.minimum(3, x + half), atol=2e-4)


def test_fixtures_count_unless_told_otherwise() -> None:
    cell = aw.Cell(positioner(), fixtures=aw.Box((1, 3, 3), (1.0, 0, 0), "wall"))
    free, with_wall = (cell.reach_map(0.2, directions=4, spins=1, fixtures=fixtures) for fixtures in (False, True))
    assert "clearance" not in free
    assert (with_wall["reach_index"] <= free["reach_index"]).all()
    assert not with_wall["reachable"].sel(x=slice(0.46, 1.5)).any()
    assert free["reachable"].sel(x=slice(0.46, 1.0)).any()
    assert (with_wall["clearance"].values[with_wall["reachable"].values] > 0).all()


def test_bad_settings() -> None:
    for bad in ({"spacing": 0}, {"spacing": "1 kg"}, {"directions": 0}, {"spins": 1.5}, {"margin": -1}, {"bounds": 3},
                {"track_step": 0}, {"dexterous_share": 2}):  # fmt: skip
        with pytest.raises(aw.InputError, match=f"^{next(iter(bad))}"):
            small(CELL, **bad)
