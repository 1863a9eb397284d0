"""The report of a cell, as its method."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, cast

from armwright.errors import InputError
from armwright.machine import Machine
from armwright.studies import run
from armwright.studies.piece_store import StorePath

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.cell import Cell
    from armwright.results.units import UnitSystem


class Reported(Machine):
    """What is told to the one who pays, and to the shop that welds."""

    def report(
        self,
        folder: str | os.PathLike[str],
        *,
        cycle: Any = None,
        questions: Iterable[str] | None = None,
        units: UnitSystem = "si",
        pdf: bool | None = None,
        detail: Literal["coarse", "fine"] = "coarse",
        results: Iterable[xr.Dataset] = (),
        title: str = "",
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> list[Path]:
        """Writes a report into ``folder``: report.html, which needs nothing beside it; the same as report.pdf; every
        table as CSV in tables/ and, where xlsxwriter is there, as a sheet of report.xlsx. Gives their paths, the page
        first. Nothing is written before all is known, and then all or nothing.

        ``title``: of the page. A section a question: reach, hold, speed, moves, supply, failure (of the power), parts,
        truth, lifting, guarding, track, place, changes, certainty; ``questions``: those alone. ``cycle``: a Cycle, or a
        TimedMotion, for what a cycle of moves asks. A question that needs what the cell does not tell is listed as not
        looked at. ``results``: what was computed already, one of each study; those studies are not asked again, and
        what this method does not ask (placement, sweep, a stop ...) is told as well.

        ``units``: "si", or "us" for inches, pounds and psi, in words, tables and pictures alike. ``detail``: "coarse"
        takes minutes at most, "fine" several times as long. ``store``: a folder where finished pieces are kept.
        ``pdf``: by default where it can be made. Refused (InputError): an unknown question or unit, a folder that
        cannot be written to, and ``pdf=True`` without weasyprint (``pip install 'armwright[pdf]'``).

        >>> written = cell.report("report", questions=["lifting"], pdf=False)
        >>> written[0].name, written[-1].name
        ('report.html', 'motors_out.csv')
        """
        from armwright.asked import DETAILS, Asked, ask_all
        from armwright.describe import Cycle
        from armwright.report.found import found
        from armwright.report.gather import chosen, document
        from armwright.report.pdf import why_no_pdf
        from armwright.report.report_files import report_folder, write_report
        from armwright.timed import TimedMotion

        keys = tuple(question.key for question in chosen(questions))
        if detail not in DETAILS:
            raise InputError.of("detail", repr(detail), " or ".join(DETAILS))
        if cycle is not None and not isinstance(cycle, Cycle | TimedMotion):
            raise InputError.of("cycle", type(cycle).__name__, "a Cycle, as load_cycle reads one, or a TimedMotion")
        told = dict(found(results, units=units).results)
        pdf = not why_no_pdf() if pdf is None else pdf
        target = report_folder(folder, pdf=pdf)
        cell = cast("Cell", self)
        asked = Asked(cell, cycle, detail, {"store": store, "threads": threads, "progress": progress}, told)
        ask_all(asked, keys)
        checked = asked.results.get("check_targets")
        scene = cell.scene(q=shown_posture(checked), checked=checked)
        made = document(
            asked.results.values(), scene=scene, units=units, absent=asked.absent, title=title, questions=keys
        )
        return write_report(made, target, units=units, pdf=pdf)


def shown_posture(checked: xr.Dataset | None) -> Any:
    """The posture of the first work point that is served, for pictures; None where there is none."""
    if checked is None:
        return None
    served = checked["served"].values
    return checked["q"].values[int(served.argmax())] if served.any() else None
