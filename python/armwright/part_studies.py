"""The studies of what parts bear, on the same rows of loads."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.cell import Cell


def part_studies(
    cell: Cell, cycle: Any, rows: Any, *, reliability: Any = 0.9, wanted_life: Any = None
) -> dict[str, Callable[[], xr.Dataset]]:
    """By their names, each ready to be run: what all parts bear, that first; then wrenches, bearings, base, and tubes
    and track where there are any. ``rows``: of ``Cell.load_rows``."""
    lasting = {"reliability": reliability, "wanted_life": wanted_life}
    studies: dict[str, Callable[[], xr.Dataset]] = {
        "part_loads": lambda: cell.part_loads(cycle, rows=rows, **lasting),
        "joint_wrenches": lambda: cell.joint_wrenches(rows=rows),
        "bearings": lambda: cell.bearings(rows=rows, **lasting),
        "base_loads": lambda: cell.base_loads(rows=rows),
    }
    if cell.description.arm.tubes:
        studies["link_stress"] = lambda: cell.link_stress(rows=rows)
    if cell.track is not None:
        studies["track_loads"] = lambda: cell.track_loads(rows=rows, reliability=reliability)
    return studies
