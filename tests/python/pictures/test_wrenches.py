"""Tilting moment against axial force: what is drawn is the data sets' numbers."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest
import xarray as xr

from armwright import pictures
from armwright.errors import InputError
from cases.borne_cells import ball_on_axis, rows_by_hand, slewing
from cases.described import track_cell
from cases.stopping import braked_cell


@lru_cache
def dataset() -> xr.Dataset:
    return braked_cell().joint_wrenches()


def test_every_row_is_drawn_by_its_kind() -> None:
    ax = pictures.wrenches(dataset(), "joint 2")
    drawn = {each.get_gid(): np.asarray(each.get_offsets()) for each in ax.collections}
    mine = dataset().sel(part="joint 2")
    kinds = dataset().case_kind.values[dataset().row_case.values]
    for code, kind in enumerate(("rest", "cycle", "stop")):
        here = kinds == code
        if not here.any():
            assert kind not in drawn
            continue
        wanted = np.stack([mine.axial_force.values[here], mine.tilting_moment.values[here]], axis=1)
        np.testing.assert_array_equal(drawn[kind], wanted)
    marks = {line.get_gid(): line.get_xydata()[0] for line in ax.lines if str(line.get_gid()).startswith("extreme")}
    top = marks["extreme greatest tilting moment"]
    assert top[1] == float(mine.tilting_moment.max())
    case = str(dataset().case.values[int(mine.extreme_case.sel(quantity="tilting moment", end="greatest"))])
    told = [text.get_text() for text in ax.get_legend().get_texts()]
    assert any(line.startswith("1: greatest tilting moment") and line.endswith(case) for line in told)
    assert "What joint 2 bears" in {text.get_text() for text in ax.findobj() if hasattr(text, "get_text")}


def test_the_joint_with_the_greatest_moment_is_drawn_by_default() -> None:
    joints = dataset().sel(part=list(dataset().joint.values))
    most = str(joints.part.values[int(np.argmax(joints.tilting_moment.values.max(axis=0)))])
    ax = pictures.wrenches(dataset())
    assert any(text.get_text() == f"What {most} bears" for text in ax.findobj() if hasattr(text, "get_text"))


def test_us_units_scale_marks_and_limit_alike() -> None:
    cell, rows = ball_on_axis(slewing(offset=0.05)), rows_by_hand([0.0, 1.0], 1.0)
    wrenches, borne = cell.joint_wrenches(rows=rows), cell.bearings(rows=rows)
    each = [pictures.wrenches(wrenches, "axis 1", bearings=borne, units=units) for units in ("si", "us")]
    factors = (1 / 4.4482216152605, 1 / 1.3558179483314)  # lbf, lbf·ft
    for name in ("limit", "extreme greatest tilting moment"):
        a, b = (next(line for line in ax.lines if line.get_gid() == name).get_xydata() for ax in each)
        np.testing.assert_allclose(a * factors, b, rtol=1e-12)
    a, b = (np.asarray(ax.collections[0].get_offsets()) for ax in each)
    np.testing.assert_allclose(a * factors, b, rtol=1e-12)
    assert (each[1].get_xlabel(), each[1].get_ylabel()) == ("axial force (lbf)", "tilting moment (lbf·ft)")


def test_what_is_wrong_is_refused() -> None:
    with pytest.raises(InputError, match="one of joint 1"):
        pictures.wrenches(dataset(), "elbow")
    with pytest.raises(InputError, match="a result of joint_wrenches"):
        pictures.wrenches(braked_cell().stop_table())
    with pytest.raises(InputError, match="a result of bearings"):
        pictures.wrenches(dataset(), bearings=dataset())
    assert pictures.wrenches(track_cell().joint_wrenches(), "carriage") is not None


def test_the_line_of_a_bearing_is_that_of_its_result() -> None:
    cell = ball_on_axis(slewing(offset=0.05))
    rows = rows_by_hand([0.0, 1.0], 1.0)
    borne = cell.bearings(rows=rows)
    ax = pictures.wrenches(cell.joint_wrenches(rows=rows), "axis 1", bearings=borne)
    (line,) = [line for line in ax.lines if line.get_gid() == "limit"]
    np.testing.assert_array_equal(line.get_xydata()[:, 0], borne.limit_axial.values[0])
    np.testing.assert_array_equal(line.get_xydata()[:, 1], borne.limit_moment.values[0])
    words = " ".join(text.get_text() for text in ax.findobj() if hasattr(text, "get_text"))
    assert "about the bearing's middle, 50 mm along the axis" in words
    bare = ball_on_axis(None)
    told = pictures.wrenches(bare.joint_wrenches(rows=rows), "axis 1", bearings=bare.bearings(rows=rows))
    assert not [line for line in told.lines if line.get_gid() == "limit"]
