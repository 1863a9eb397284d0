from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from cases.driven_cells import thirds, turntable


def points(rate: float = 100) -> xr.Dataset:
    return turntable().setpoints(thirds(np.pi / 2, 0.6, 0.6), rate)


def test_a_row_an_instant_with_units_in_the_columns_names() -> None:
    told = points()
    table = aw.report.setpoints_table(told)
    assert list(table)[:3] == ["time [s]", "move", "load"]
    assert set(table) - set(list(table)[:3]) == {
        "axis 1 q [rad]", "axis 1 qd [rad/s]", "axis 1 qdd [rad/s^2]", "axis 1 joint torque [N*m]",
        "axis 1 motor torque [N*m]", "axis 1 motor speed [rad/s]", "axis 1 motor position [rad]",
        "axis 1 motor counts [count]",
    }  # fmt: skip
    assert len(table) == told.sizes["time_point"]
    assert (table["axis 1 q [rad]"] == told["q"].values[:, 0]).all()


def test_numbers_in_csv_keep_their_last_bit(tmp_path: Path) -> None:
    table = aw.report.setpoints_table(points())
    path = aw.report.setpoints_to_csv(points(), tmp_path / "points.csv")
    assert path.read_text(encoding="utf-8").splitlines()[0].split(",") == list(table)
    assert np.array_equal(np.loadtxt(path, delimiter=",", skiprows=1), table.to_numpy(dtype=np.float64))


def test_netcdf_gives_it_back(tmp_path: Path) -> None:
    told = points()
    assert aw.open_result(told.armwright.to_netcdf(tmp_path / "points.nc")).identical(told)


def test_parquet_keeps_units_in_names(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow", reason="Parquet needs pyarrow")
    import pandas as pd

    path = aw.report.setpoints_to_parquet(points(50), tmp_path / "points.parquet")
    pd.testing.assert_frame_equal(pd.read_parquet(path), aw.report.setpoints_table(points(50)))


def test_without_pyarrow_parquet_is_refused_and_csv_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(aw.InputError, match=r"expected pyarrow for Parquet: pip install .*; or CSV"):
        aw.report.setpoints_to_parquet(points(10), tmp_path / "points.parquet")


def test_a_joint_that_slides_has_lengths_and_forces_and_no_counts_without_an_encoder() -> None:
    motor = aw.Motor(2.0, 6.0, max_speed=600.0, rotor_inertia=1e-4, winding_loss=3.0)
    drive = aw.Drive(motor, aw.Stage("screw", lead=0.01, efficiency=0.9))
    ram = aw.Joint("ram", kind="prismatic", axis="z", range=(0, 1), speed=0.4, acceleration=3.0, drive=drive)
    cell = aw.Cell(aw.ArmDescription((ram,), (aw.Link("ram", 50.0),), "lift"))
    cycle = aw.Cycle([aw.JointMove([0.5]), aw.JointMove([0.1])], start=[0.1], timing="trapezoidal")
    table = aw.report.setpoints_table(cell.setpoints(cycle, 20))
    assert {"ram q [m]", "ram qd [m/s]", "ram qdd [m/s^2]", "ram joint torque [N]", "ram motor torque [N*m]"} <= set(
        table
    )
    assert not any("counts" in column for column in table)


def test_what_is_no_result_of_setpoints_and_where_no_file_can_be(tmp_path: Path) -> None:
    with pytest.raises(aw.InputError, match=r"^setpoints: got drive_check, expected a result of setpoints"):
        aw.report.setpoints_table(turntable().drive_check(thirds(1, 1, 0.1), factors=False))
    for write in (aw.report.setpoints_to_csv, aw.report.setpoints_to_parquet):
        for path, wanted in ((tmp_path, "not of a folder"), (tmp_path / "none" / "points", "in a folder that exists")):
            with pytest.raises(aw.InputError, match=f"^path: got .*, expected .*{wanted}"):
                write(points(10), path)
