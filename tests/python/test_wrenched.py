"""Rows of loading and the studies over them as methods of a cell."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from cases.described import positioner
from cases.in_pieces import assert_same_bits
from cases.stopping import braked_cell

CELL = braked_cell()


def test_a_store_and_an_executor_change_no_bit(tmp_path: object) -> None:
    cell = aw.Cell(positioner())
    rows = cell.load_rows()
    assert_same_bits(cell.joint_wrenches(rows=rows), cell.joint_wrenches(rows=rows, store=f"{tmp_path}/s"))


def test_results_of_other_rows_have_another_digest() -> None:
    rows = CELL.load_rows(stops=False)
    one = CELL.joint_wrenches(rows=rows)
    other = CELL.joint_wrenches(rows=rows._replace(qd=rows.qd + 0.1))
    assert one.attrs["inputs_digest"] != other.attrs["inputs_digest"]


def test_options_of_stops_are_those_of_the_stop_table() -> None:
    """A gentler controlled stop lasts longer; until the brakes have closed it is held besides."""
    name = "category 1 stop of joint 1, 100 % of speed, 100 % of the load, 100 % of extension"

    def ends(**options: object) -> float:
        rows = CELL.load_rows(at_rest=False, **options)  # type: ignore[arg-type]
        return float(rows.time[rows.case == rows.case_names.index(name)][-1])

    table = CELL.stop_table(deceleration=2.0, hold_after="0.2 s")
    worst = table.isel(speed_share=-1, load_share=-1, extension_share=-1).sel(axis="joint 1", category=1)
    assert ends(deceleration=2.0, hold_after="0.2 s") == pytest.approx(float(worst.stop_time) + 0.2, abs=1e-9)
    assert ends(deceleration=2.0) > 1.5 * ends()


@pytest.mark.parametrize(
    ("options", "word"),
    [
        ({"instants": 0}, "instants"), ({"instants": 2.5}, "instants"), ({"deceleration": -1}, "deceleration"),
        ({"hold_after": "-1 s"}, "hold_after"), ({"cycle": 3}, "cycle"), ({"threads": -1}, "threads"),
        ({"at_rest": "no"}, "at_rest"), ({"stops": 2}, "stops"), ({"step": "5 mm"}, "step"), ({"step": 0.0}, "step"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_refused(options: dict[str, object], word: str) -> None:
    CELL.load_rows(stops=False)  # what is kept is no way round the checks
    with pytest.raises(InputError, match=word):
        CELL.load_rows(**options)  # type: ignore[arg-type]


def test_heaviest_load_in_a_motion_given_in_rows() -> None:
    time = np.array([0.0, 1.0])
    still = np.zeros((2, 6))
    timed = aw.TimedMotion(time, still, still, still, loads=aw.Load(7.0, name="anvil"))
    rows = CELL.load_rows(timed, stops=False)
    assert 'stretched out, with "anvil", at rest' in rows.case_names
    assert [float(load.mass) for load in rows.loads] == [7.0]
    moving = rows.kind_of() == "cycle"
    assert rows.duty[moving].sum() == pytest.approx(1.0)
