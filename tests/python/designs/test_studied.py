"""A whole study as one piece, and of each design."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest

import armwright as aw
from cases.in_pieces import assert_same_bits
from cases.moving_cells import moving_cell

CYCLE = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()))


def test_another_process_does_a_study_of_one_cycle() -> None:
    cell = moving_cell()
    timed = cell.timed(CYCLE)  # rows of a motion travel as well
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        assert_same_bits(cell.drive_check(CYCLE), cell.drive_check(CYCLE, executor=pool))
        assert_same_bits(cell.setpoints(timed, 100), cell.setpoints(timed, 100, executor=pool))
        with pytest.raises(aw.InputError, match=r"^step: got 0 s"):
            cell.drive_check(CYCLE, step="0 s", executor=pool)


def test_a_store_belongs_to_one_cycle_and_its_options(tmp_path: Path) -> None:
    cell = moving_cell()
    first = cell.setpoints(CYCLE, 100, store=tmp_path / "store")
    assert_same_bits(first, cell.setpoints(CYCLE, 100, store=tmp_path / "store"))
    other = aw.Cycle((aw.JointMove("rack"), aw.PickUp(), aw.Dwell(0.1), aw.JointMove("kiln"), aw.SetDown()))
    for cycle, rate in ((CYCLE, 200), (other, 100), (cell.timed(other), 100)):
        with pytest.raises(aw.InputError, match=r"store\.options"):
            cell.setpoints(cycle, rate, store=tmp_path / "store")
    with pytest.raises(aw.InputError, match=r"store\.study"):
        cell.motion(CYCLE, store=tmp_path / "store")


def test_studies_of_designs_go_on_where_they_ended(tmp_path: Path) -> None:
    """With half of the parts gone, what is left is taken and the rest computed anew."""
    cell = moving_cell()
    name = next(n.path for n in cell.design_numbers("mass") if n.path.startswith("arm.links"))
    numbers = {name: [1.0, 2.0, 3.0, 4.0]}
    alone = cell.sweep(numbers, study="check_targets")
    assert_same_bits(alone, cell.sweep(numbers, study="check_targets", store=tmp_path / "store"))
    parts = sorted((tmp_path / "store").glob("*.nc"))
    assert len(parts) > 1
    for path in parts[::2]:
        path.unlink()
    assert_same_bits(alone, cell.sweep(numbers, study="check_targets", store=tmp_path / "store"))
    with pytest.raises(aw.InputError, match=r"store\."):
        cell.sweep(numbers, study="check_targets", options={"margin": "1 mm"}, store=tmp_path / "store")
