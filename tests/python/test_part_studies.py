"""The studies of what parts bear: each gives its own result, and only those that the cell has parts for."""

from __future__ import annotations

import armwright as aw
from armwright.part_studies import part_studies
from cases.reported import small_cell, small_results


def test_each_gives_its_result() -> None:
    cell = small_cell()
    rows = cell.load_rows(stops=False)
    ready = part_studies(cell, None, rows, reliability=0.95)
    told = {name: run() for name, run in ready.items()}
    assert all(result.attrs["study"] == name for name, result in told.items())
    assert set(told) == {"part_loads", "joint_wrenches", "bearings", "base_loads", "link_stress", "track_loads"} & set(
        small_results()
    )
    assert {told[name].attrs["reliability"] for name in ("part_loads", "bearings", "track_loads")} == {0.95}
    assert told["bearings"].equals(cell.bearings(rows=rows, reliability=0.95))


def test_without_a_track_and_tubes() -> None:
    bare = aw.Cell(small_cell().arm)
    tubes = {"link_stress"} if bare.description.arm.tubes else set()
    assert set(part_studies(bare, None, None)) == {"part_loads", "joint_wrenches", "bearings", "base_loads"} | tubes
