"""Rows over the reach: all postures that bring the tool to the grid's positions, and what joints bear in them."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from cases.described import positioner
from cases.laden_cells import laden_cell

NAME = 'over the reach, every 250 mm, with "load", at rest'


def over_reach(cell: aw.Cell, spacing: object = "250 mm") -> aw.LoadRows:
    return cell.load_rows(at_rest=False, stops=False, over_reach=spacing)


def test_each_row_brings_the_tool_to_the_grid() -> None:
    cell = laden_cell()
    rows = over_reach(cell)
    assert rows.case_names == (NAME,) and rows.case_kinds == ("rest",) and np.isnan(rows.time).all()
    assert len(rows.q) > 500 and not rows.qd.any() and not rows.qdd.any() and not rows.duty.any()
    assert (rows.q[:, 0] == 0.75).all()  # the track at mid-stroke
    tool = cell.tool_pose(rows.q)
    away = np.hypot(*(tool[:, :2, 3] - (0.75, 0.0)).T)  # from axis 1
    for distance in (away, tool[:, 2, 3]):
        assert np.abs(distance / 0.25 - np.round(distance / 0.25)).max() < 1e-6
    lower, upper = cell.limits[:2]
    assert ((rows.q >= lower - 1e-9) & (rows.q <= upper + 1e-9)).all()
    assert len(np.unique(np.round(rows.q, 6), axis=0)) == len(rows.q)


def test_all_answers_of_a_pose_are_among_them() -> None:
    cell = laden_cell(track=False)
    rows = over_reach(cell)
    tool = cell.tool_pose(rows.q)
    for pose in tool[:: len(tool) // 7]:
        answers = cell.solve(pose, within_limits=True)
        wanted = answers.q[answers.valid]
        gap = np.abs(wanted[:, None] - rows.q[None]).max(axis=2).min(axis=1)
        assert len(wanted) and gap.max() < 1e-6


def test_worst_postures_at_rest_bear_no_less() -> None:
    """The postures at rest that are looked at in any case stand for the whole reach: no joint is tilted more anywhere
    on the grid, by more than a hundredth."""
    cell = laden_cell()
    of = {"end": "greatest", "quantity": "tilting moment"}
    worst = cell.joint_wrenches(rows=cell.load_rows(stops=False))["extreme"].sel(of)
    grid = cell.joint_wrenches(rows=over_reach(cell))["extreme"].sel(of)
    assert (grid.values <= 1.01 * worst.values).all(), (grid.values, worst.values)


def test_what_cannot_be_looked_at_is_named() -> None:
    five = positioner()
    short = aw.Cell(aw.ArmDescription(five.joints[:5], five.links[:5], "five axes"), load=aw.Load(1.0))
    assert "a tool of fewer than six freedoms" in " ".join(over_reach(short).missing)
    with pytest.raises(InputError, match="over_reach"):
        over_reach(laden_cell(), "250")
    with pytest.raises(InputError, match="over_reach"):
        over_reach(laden_cell(), 0.0)


def test_the_spacing_told_is_the_one_that_is_kept() -> None:
    (name,) = over_reach(laden_cell(track=False), "0.01 mm").case_names  # a hundredth of the reach at least
    told = float(name.removeprefix("over the reach, every ").split(" mm")[0])
    assert 5 < told < 50


def test_more_rows_are_other_rows() -> None:
    cell = laden_cell(track=False)
    plain, more = cell.load_rows(stops=False), cell.load_rows(stops=False, over_reach="250 mm")
    assert set(plain.case_names) | {NAME} == set(more.case_names) and plain.digest() != more.digest()
