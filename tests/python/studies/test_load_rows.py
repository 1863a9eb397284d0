"""Rows of loading: what is in them, what they stand for, and what they say that they lack."""

from __future__ import annotations

import pickle
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.studies import load_rows as made
from armwright.wrenched import LoadRows
from cases.described import positioner
from cases.laden_cells import laden_cell, sway
from cases.moving_cells import moving_cell
from cases.stopping import braked_cell

CYCLE = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()), name="glaze")
CELL = moving_cell()


@lru_cache
def rows(stops: bool = False) -> LoadRows:
    return CELL.load_rows(CYCLE, stops=stops, instants=3)


def cases(found: LoadRows, kind: str) -> list[str]:
    return [name for name, each in zip(found.case_names, found.case_kinds, strict=True) if each == kind]


def test_at_rest_each_work_point_and_what_each_axis_holds_at_worst() -> None:
    found = rows()
    resting = cases(found, "rest")
    assert resting[:3] == ['at "rack", at rest', 'at "tub", at rest', 'at "kiln", at rest']
    assert 'most for axis 2 to hold, with "pot", at rest' in resting
    assert 'stretched out, with "pot", at rest' in resting
    assert not any("axis 1 to hold" in name for name in resting), "an upright axis has nothing to hold"
    mine = found.kind_of() == "rest"
    assert mine.sum() == len(resting)
    assert not found.qd[mine].any() and not found.qdd[mine].any() and not found.duty[mine].any()
    assert np.isnan(found.time[mine]).all()
    for name, target in zip(resting, CELL.targets, strict=False):
        q = found.q[found.case_names.index(name)]
        np.testing.assert_allclose(CELL.tool_pose(q)[:3, 3], target.pose[:3, 3], atol=1e-9)


def test_the_worst_to_hold_is_the_studys_of_holding() -> None:
    found, held = rows(), CELL.holding()
    for name in ("axis 2", "axis 3"):
        row = found.case_names.index(f'most for {name} to hold, with "pot", at rest')
        torque = CELL.gravity_torque(found.q[row])[found_axis(name)]
        assert abs(torque) == pytest.approx(float(held.torque_found.sel(joint=name)), rel=1e-9)


def found_axis(name: str) -> int:
    return CELL.joint_names.index(name)


def test_of_a_cycle_all_time_is_shared_out() -> None:
    found, timed = rows(), CELL.timed(CYCLE)
    mine = found.kind_of() == "cycle"
    assert found.duty[mine].sum() == pytest.approx(timed.duration)
    assert cases(found, "cycle")[0] == 'cycle "glaze", ' + timed.move_names[0]
    assert len(cases(found, "cycle")) == len(set(timed.move.tolist()))
    carried = found.load[mine]
    assert set(carried.tolist()) == {-1, 0} and found.loads[0].name == "pot"
    # Trapezoid shares: the mean of a joint's position over the cycle, by the fine rows and by the plan's own.
    mean = (found.duty[mine, None] * found.q[mine]).sum(axis=0) / timed.duration
    t, q = timed.time, timed.q
    fine = np.linspace(0, timed.duration, 200001)
    known = np.array([np.interp(fine, t, column).mean() for column in q.T])
    np.testing.assert_allclose(mean, known, atol=2e-3)
    assert np.diff(found.time[mine]).max() <= 0.005 + 1e-9


def test_wrenches_of_rows_are_those_of_the_cell_with_what_each_carries() -> None:
    found = rows(True)
    told = made.row_wrenches(CELL._model, found)
    assert told.carriage is None
    draw = np.random.default_rng(1).choice(len(found.q), 40)
    for i in draw:
        place = int(found.load[i])
        load = aw.Load(1e-12) if place < 0 else found.loads[place]
        given = (found.q[i], found.qd[i], found.qdd[i], load)
        np.testing.assert_allclose(told.joint[i], CELL.joint_wrench(*given), rtol=0, atol=1e-7)
        np.testing.assert_allclose(told.mount[i], CELL.mount_wrench(*given), rtol=0, atol=1e-7)


def test_what_is_missing_is_named() -> None:
    bare = aw.Cell(positioner())
    found = bare.load_rows()
    words = "\n".join(found.missing)
    for part in ("no load is told", "no work points", "no cycle", "no drives"):
        assert part in words
    assert set(found.case_kinds) == {"rest"} and (found.load == -1).all() and found.loads == ()
    far = aw.Target((9.0, 0, 0), "far away")
    found = replace_targets(far).load_rows(stops=False)
    assert any('work point "far away" is not served' in line for line in found.missing)


def replace_targets(*targets: aw.Target) -> aw.Cell:
    return aw.Cell.from_description(replace(CELL.description, targets=targets))


def test_the_heaviest_load_counts_or_the_one_told() -> None:
    heavy = aw.Load(3.5, name="crucible")
    near = replace(CELL.targets[0], load=heavy)
    found = replace_targets(near).load_rows(stops=False)
    assert 'stretched out, with "crucible", at rest' in found.case_names
    told = CELL.load_rows(stops=False, load=aw.Load(0.5, name="cup"))
    assert 'stretched out, with "cup", at rest' in told.case_names
    with pytest.raises(InputError, match="a Load"):
        CELL.load_rows(load=2.0)  # type: ignore[arg-type]


def test_rows_are_kept_travel_and_have_a_digest() -> None:
    assert CELL.load_rows(CYCLE, stops=False, instants=3) is rows()
    assert CELL.load_rows(CYCLE, stops=False, at_rest=False) is not rows()
    assert pickle.loads(pickle.dumps(rows())).digest() == rows().digest()
    assert rows()._replace(duty=2 * rows().duty).digest() != rows().digest()


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"q": np.zeros((1, 2))}, "rows.q"),
        ({"qd": np.full((2, 6), np.nan)}, "rows.qd"),
        ({"load": np.array([0, 3], np.int32)}, "rows.load"),
        ({"case": np.array([0, 1], np.int32)}, "rows.case"),
        ({"duty": np.array([0.0, -1.0])}, "rows.duty"),
        ({"time": np.zeros(3)}, "rows.time"),
        ({"case_kinds": ("motion",)}, "rows.case_kinds"),
        ({"case_kinds": (["cycle"],)}, "rows.case_kinds"),
        ({"case_kinds": None}, "rows.case_kinds: got None, expected a tuple"),
        ({"case_names": "one"}, "rows.case_names"),
        ({"case_names": (1,)}, "rows.case_names: got .1,., expected words"),
        ({"missing": None}, "rows.missing"),
        ({"loads": None}, "rows.loads"),
        ({"loads": (3,)}, r"rows.loads\[0\]: got 3, expected a Load"),
        ({"q": None}, "rows.q: got NoneType, expected an array of numbers"),
        ({"q": [["a"] * 6] * 2}, "rows.q: got list, expected an array of numbers"),
        ({"q": np.zeros(())}, "rows: got none"),
        ({"qdd": [[0.0] * 6, [0.0] * 5]}, "rows.qdd: got list, expected an array of numbers"),
        ({"qd": np.full((2, 6), 1e200)}, r"rows.qd: got 1e\+200 in row 1"),
        ({"duty": np.array([0.0, np.nan])}, "rows.duty: got nan in row 2"),
        ({"duty": np.full(2, 1e308)}, "rows.duty"),
        ({"time": np.array([np.nan, np.inf])}, "rows.time: got inf in row 2"),
        ({"load": np.zeros(2)}, "rows.load"),
    ],
)
def test_rows_that_do_not_fit_are_refused(changed: dict[str, object], word: str) -> None:
    zero = np.zeros((2, 6))
    good = LoadRows(zero, zero, zero, np.zeros(2, np.int32), (aw.Load(1.0),), np.zeros(2), np.zeros(2),
                    np.zeros(2, np.int32), ("one",), ("cycle",), ())  # fmt: skip
    assert made.check_rows(good, CELL._model).digest() == good.digest()
    listed = good._replace(q=zero.tolist(), load=[0, 0], duty=[0, 0])
    assert made.check_rows(listed, CELL._model).digest() == good.digest()
    with pytest.raises(InputError, match=word):
        CELL.joint_wrenches(rows=good._replace(**changed))
    with pytest.raises(InputError, match="LoadRows"):
        CELL.joint_wrenches(rows=3)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="either rows or a cycle"):
        CELL.joint_wrenches(CYCLE, rows=good)


def test_rows_of_some_kinds_alone() -> None:
    cell = laden_cell()
    rows = cell.load_rows(sway(cell))
    kinds = rows.kind_of()
    for some in (("stop",), ("rest", "cycle"), ("cycle", "stop", "rest"), ()):
        mine, found = np.isin(kinds, some), rows.only(*some)
        assert found.names_of(np.arange(len(found.q))).tolist() == rows.names_of(np.flatnonzero(mine)).tolist()
        for name in ("q", "qd", "qdd", "load", "time", "duty"):
            assert np.array_equal(getattr(found, name), getattr(rows, name)[mine], equal_nan=True)
        assert (found.loads, found.missing) == (rows.loads, rows.missing)
        assert set(found.case_kinds) == {kind for kind in some if kind in rows.case_kinds}
    assert rows.only("cycle", "stop", "rest").digest() == rows.digest()
    with pytest.raises(InputError, match="kinds: got 'stops', expected some of rest, cycle, stop"):
        rows.only("stops")


def test_a_lighter_share_of_a_load() -> None:
    load = aw.Load(4.0, (0, 0, 0.1), np.diag([0.1, 0.2, 0.3]), name="pot")
    half = made.share_of_load(load, 0.5)
    assert (float(half.mass), half.name) == (2.0, "pot")
    np.testing.assert_allclose(half.inertia, 0.5 * load.inertia)
    assert made.share_of_load(load, 1) is load


def test_without_drives_and_with_them_stops_are_there_or_named() -> None:
    found = braked_cell().load_rows(at_rest=False)
    assert set(found.case_kinds) == {"stop"}
    assert not any("no drives" in line for line in found.missing)
