"""Results of a small cell for reports, computed once for all tests; and what stands in a report's tables."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from unittest import mock

import numpy as np
import xarray as xr

import armwright as aw
from armwright import asked
from armwright.report import question_keys
from armwright.report.document import Entry, Quantity, Section, Table, Verdict
from armwright.report.found import Found, found
from cases.command_files import CELL, CYCLE
from cases.drive_files import write_driven
from cases.laden_cells import laden_cell, sway

NEAR, FAR = "shelf <80 mm>", "far & away"


@cache
def small_cell() -> aw.Cell:
    """A laden arm on a track, with an eye, a service volume, and two work points, one of which is out of reach."""
    plain = laden_cell()
    pose = plain.tool_pose(np.linspace(0.4, 0.1, plain.joint_count))
    away = np.array(pose)
    away[0, 3] += 9.0
    names = [link.name for link in plain.description.arm.links]
    return laden_cell(
        targets=[aw.Target(pose, name=NEAR), aw.Target(away, name=FAR)], name="small & cell",
        lifting=aw.LiftingEye(names[0], (0, 0, 0.3), rated_mass=500, name="eye"),
    )  # fmt: skip


@cache
def small_results() -> dict[str, xr.Dataset]:
    """All that a report asks of it, on coarse maps, with the cycle of ``sway``."""
    return small_asked().results


@cache
def small_asked() -> asked.Asked:
    made = asked.Asked(small_cell(), sway(small_cell()), "coarse", {"threads": None, "progress": None, "store": None})
    with mock.patch.dict(asked.DETAILS, coarse=60), mock.patch.dict(asked._SECTION, coarse=8):
        asked.ask_all(made, question_keys())
    return made


@cache
def driven_results() -> dict[str, xr.Dataset]:
    """Motion, drive check and power of a cell with drives and a supply."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_driven(folder)
        (folder / "cell.toml").write_text(CELL, encoding="utf-8")
        (folder / "cycle.toml").write_text(CYCLE, encoding="utf-8")
        cell = aw.load_cell(folder / "cell.toml")
        cycle = aw.load_cycle(folder / "cycle.toml", cell)
    results = [cell.motion(cycle), cell.drive_check(cycle), cell.power(cycle), cell.payload_against_time(cycle)]
    return {str(result.attrs["study"]): result for result in results}


def of(results: dict[str, xr.Dataset], *studies: str, **more: object) -> Found:
    """These results alone, or all of them."""
    return found([results[study] for study in studies or results], **more)  # type: ignore[arg-type]


def table(section: Section, name: str) -> Table:
    return next(table for table in section.tables if table.name == name)


def column(made: Table, words: str) -> list[Entry]:
    """The entries under a head: of several with these words the first."""
    k = [head.words for head in made.columns].index(words)
    return [row[k] for row in made.rows]


def numbers(made: Table, words: str) -> list[float]:
    """The numbers under a head, in SI."""
    plain = [entry.value if isinstance(entry, Quantity) else entry for entry in column(made, words)]
    return [np.nan if entry is None or isinstance(entry, str | Verdict) else float(entry) for entry in plain]
