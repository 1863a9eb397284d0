"""The base of a cell, from its description on."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.results import summary
from cases.bases import G, square
from cases.described import positioner, track_cell
from cases.driven_cells import driven_arm, swing

DOWN = np.diag([1.0, -1.0, -1.0])


def based(cell: aw.Cell, base: aw.Base | None) -> aw.Cell:
    return aw.Cell.from_description(replace(cell.description, base=base))


def at_rest(base: aw.Base | None = None, **more: object) -> aw.Cell:
    return based(aw.Cell(positioner(), load=aw.Load(2.0), **more), base)  # type: ignore[arg-type]


def test_an_arm_stretched_out_by_hand() -> None:
    # 8 kg at 0.3 m, 3 kg at 0.85 m, 2 kg at 1.1 m; four bolts of a square of 0.4 m
    result = at_rest(aw.Base(square(), plate=(0.5, 0.5))).base_loads()
    force = result["reaction_force"].sel(kind="holding")
    np.testing.assert_allclose(force[:, 2], -13 * G)
    moment = G * (8 * 0.3 + 3 * 0.85 + 2 * 1.1)
    tilting = result["reaction_moment"].sel(kind="holding", extreme="tilting moment").values
    assert np.hypot(*tilting[:2]) == pytest.approx(moment, rel=1e-6)
    assert "at rest" in result["reaction_case"].sel(kind="holding", extreme="tilting moment").item()
    assert "no drives are described" in result.attrs["missing"] and "no cycle is given" in result.attrs["missing"]
    assert result["kind"].values.tolist() == ["holding"]


def test_upside_down_its_bolts_bear_its_weight() -> None:
    pose = np.eye(4)
    pose[:3, :3], pose[2, 3] = DOWN, 3.0
    result = at_rest(aw.Base(square(), plate=(0.5, 0.5)), mount=pose).base_loads()
    np.testing.assert_allclose(result["reaction_force"].sel(kind="holding")[:, 2], 13 * G)
    assert "pulls off with" in summary(result)
    assert result["worst_pull"].sum() >= 13 * G - 1e-9


def test_moving_and_stopping_bear_more_than_holding() -> None:
    cell = based(driven_arm(load=aw.Load(2.0)), aw.Base(square(preload="40 kN"), plate=(0.5, 0.5), friction=0.15))
    motion = swing()
    result = cell.base_loads(motion)
    assert result["kind"].values.tolist() == ["holding", "moving", "stopping"]
    rows = cell.load_rows(motion)
    assert result.attrs["rows"] == len(rows.q)
    moving = rows.kind_of() == "cycle"
    wrench = cell.mount_wrench(rows.q[moving], rows.qd[moving], rows.qdd[moving], rows.loads[0])
    carried = rows.load[moving] >= 0
    if carried.all():
        shear = np.hypot(*wrench[:, :2].T).max()
        told = result["reaction_force"].sel(kind="moving", extreme="shear").values
        assert np.hypot(*told[:2]) == pytest.approx(shear)
    assert (result["safety"] > 0).all() and "joint: slip" in result["check"]
    again = cell.base_loads(rows=rows)
    xr.testing.assert_identical(result, again)


def test_by_an_executor_and_kept_in_a_store(tmp_path: Path) -> None:
    cell = at_rest(aw.Base(square(), plate=(0.5, 0.5)))
    plain = cell.base_loads()
    with ThreadPoolExecutor(2) as pool:
        xr.testing.assert_identical(cell.base_loads(executor=pool), plain)
    xr.testing.assert_identical(cell.base_loads(store=tmp_path / "kept"), plain)
    xr.testing.assert_identical(cell.base_loads(store=tmp_path / "kept"), plain)


def test_a_stand_on_its_feet() -> None:
    base = aw.Base(free_standing=True, stand_mass="60 kg", stand_centre=(0, 0, "-300 mm"), stand_height="600 mm",
                   feet=((0.4, 0.4), (-0.4, 0.4), (-0.4, -0.4), (0.4, -0.4)))  # fmt: skip
    result = at_rest(base).base_loads()
    moment = 8 * 0.3 + 3 * 0.85 + 2 * 1.1
    assert result["safety"].sel(check="tipping over").item() == pytest.approx(60 * 0.4 / (moment - 13 * 0.4), rel=0.02)
    tilted = np.eye(4)
    tilted[:3, :3] = [[np.cos(0.1), 0, np.sin(0.1)], [0, 1, 0], [-np.sin(0.1), 0, np.cos(0.1)]]
    leaning = at_rest(base, mount=tilted).base_loads()
    assert leaning["safety"].sel(check="tipping over") < result["safety"].sel(check="tipping over")
    # a stand so heavy that the arm does not matter, on a floor that slopes as the face does
    heavy = at_rest(replace(base, stand_mass="1000 t"), mount=tilted).base_loads()["foot_force"].max().item()
    assert heavy == pytest.approx(1e6 * G * (np.cos(0.1) / 4 + np.sin(0.1) * 0.3 / 1.6), rel=1e-4)


def test_on_a_track_the_face_is_the_carriage() -> None:
    result = based(track_cell(), aw.Base(square())).base_loads()
    assert "the top of the carriage" in result.attrs["to_mind"]
    assert result.sizes["joint"] == 7


@pytest.mark.parametrize("share", [-0.1, 1.5, "much", True, np.nan])
def test_bad_shares_are_refused(share: object) -> None:
    with pytest.raises(aw.InputError, match="load_share"):
        at_rest().base_loads(load_share=share)  # type: ignore[arg-type]


def test_rows_beside_a_cycle_and_other_things_are_refused() -> None:
    cell = at_rest()
    with pytest.raises(aw.InputError, match="rows"):
        cell.base_loads(swing(), rows=cell.load_rows())
    with pytest.raises(aw.InputError, match="LoadRows"):
        cell.base_loads(rows=np.zeros((3, 6)))  # type: ignore[arg-type]
