"""The envelope of what parts bear: against every row by hand, extremes where they are, and what is not looked at."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.results.wrench_variables import QUANTITIES
from armwright.studies.joint_wrenches import split
from armwright.wrenched import LoadRows
from cases.described import positioner, track_cell
from cases.stopping import braked_cell

CELL = braked_cell()
G = 9.80665


@lru_cache
def found() -> xr.Dataset:
    return CELL.joint_wrenches()


def test_a_wrench_split_by_an_axis() -> None:
    """3-4-5 and 5-12-13 triangles, along the axis and square to it."""
    wrench = np.array([3.0, 4, -7, 5, -12, 2])
    np.testing.assert_allclose(split(wrench, np.array([0, 0, 1.0])), [-7, 5, 13, 2])
    np.testing.assert_allclose(split(wrench, np.array([0, -1.0, 0])), [-4, np.hypot(3, 7), np.hypot(5, 2), 12])


def test_one_posture_at_rest_by_hand() -> None:
    """The positioner level: axis 2 lies level and takes 11 kg square to it; the moment of 8 kg at 0.3 m and 3 kg at
    0.85 m turns about it; axis 1 is upright: the same moment tilts it."""
    cell = aw.Cell(positioner())
    zero = np.zeros((1, 6))
    rows = LoadRows(zero, zero, zero, np.array([-1], np.int32), (), np.full(1, np.nan), np.zeros(1),
                    np.zeros(1, np.int32), ("level",), ("rest",), ())  # fmt: skip
    told = cell.joint_wrenches(rows=rows)
    moment = G * (8 * 0.3 + 3 * 0.85)
    for part, wanted in (
        ("axis 1", [11 * G, 0, moment, 0]), ("axis 2", [0, 11 * G, 0, moment]), ("mount", [-11 * G, 0, moment, 0]),
    ):  # fmt: skip
        for end in ("least", "greatest"):
            np.testing.assert_allclose(told.extreme.sel(part=part, end=end), wanted, atol=1e-9)
    assert np.isnan(told.extreme_time).all() and (told.extreme_case == 0).all()


def test_extremes_are_of_rows_and_no_row_is_beyond() -> None:
    told, rows = found(), CELL.load_rows()
    assert told.sizes["row_point"] == len(rows.q)
    for q, quantity in enumerate(QUANTITIES):
        course = told[quantity.replace(" ", "_")]
        np.testing.assert_array_equal(told.extreme.sel(quantity=quantity, end="greatest"), course.max("row_point"))
        np.testing.assert_array_equal(told.extreme.sel(quantity=quantity, end="least"), course.min("row_point"))
        assert str(told.quantity_unit.values[q]) == ("N" if "force" in quantity else "N*m")
    assert set(told.part.values) == {*CELL.joint_names, "mount"}
    # Anew from the posture told and its row.
    for part in (1, 3):
        for q in range(4):
            row = int(told.extreme_row[part, q, 1])
            np.testing.assert_array_equal(told.posture[part, q, 1], rows.q[row])
            assert told.extreme_case[part, q, 1] == rows.case[row]
            load = rows.loads[rows.load[row]]
            wrench = CELL.joint_wrench(rows.q[row], rows.qd[row], rows.qdd[row], load)[part]
            np.testing.assert_allclose(told.force[part, q, 1], wrench[:3], rtol=0, atol=1e-9)
            np.testing.assert_allclose(told.moment[part, q, 1], wrench[3:], rtol=0, atol=1e-9)


def test_axial_torque_is_what_the_drive_carries() -> None:
    told, rows = found(), CELL.load_rows()
    some = np.arange(0, len(rows.q), 97)
    heavy = [i for i in some if float(rows.loads[rows.load[i]].mass) == 4.0]
    torque = CELL.inverse_dynamics(rows.q[heavy], rows.qd[heavy], rows.qdd[heavy])
    np.testing.assert_allclose(told.axial_torque.values[heavy, :6], torque, rtol=0, atol=1e-8)


def test_a_stop_asks_more_than_standing() -> None:
    kinds = np.array(found().case_kind.attrs["flag_meanings"].split(" "))[found().case_kind.values]
    worst = found().extreme_case.sel(part="joint 1", quantity="tilting moment", end="greatest")
    assert kinds[int(worst)] == "stop"


def test_a_carriage_on_its_rails() -> None:
    """Weight of all on the carriage, and its own, straight down on the rails at rest."""
    carriage = aw.Link("carriage", 20.0)
    cell = track_cell(track=aw.Track("x", ("0 m", "1 m"), (0, 0, 0.18), carriage))
    told = cell.joint_wrenches(rows=cell.load_rows(stops=False))
    mass = 20 + 5.5 + sum(float(link.mass) for link in cell.description.arm.links)
    assert list(told.part.values)[-2:] == ["mount", "carriage"]
    np.testing.assert_allclose(told.extreme.sel(part="carriage", quantity="axial force"), -mass * G)
    np.testing.assert_allclose(told.extreme.sel(part="mount", quantity="axial force"), -(mass - 20) * G)
    np.testing.assert_allclose(told.axis.sel(part="carriage"), [0, 0, 1])


@pytest.mark.parametrize(("axis", "up"), [("z", (1, 0, 0)), ((1, 0, 1), (-0.5**0.5, 0, 0.5**0.5))])
def test_up_of_a_track_that_climbs(axis: object, up: tuple[float, ...]) -> None:
    cell = track_cell(track=aw.Track(axis, ("0 m", "1 m")), fixtures=())
    told = cell.joint_wrenches(rows=cell.load_rows(stops=False))
    np.testing.assert_allclose(told.axis.sel(part="carriage"), up, atol=1e-12)


def test_what_was_not_looked_at_is_in_the_result() -> None:
    told = aw.Cell(replace(positioner())).joint_wrenches()
    assert told.attrs["missing"].splitlines() == list(aw.Cell(positioner()).load_rows().missing)
    assert "no drives" in told.attrs["missing"]
