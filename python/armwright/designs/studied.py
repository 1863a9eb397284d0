"""A study of each of many designs, or of one cell, as the items of a study in pieces; see ``asking`` for answers."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import xarray as xr

from armwright.describe import CellDescription
from armwright.describe.design_numbers import with_numbers
from armwright.describe.wrong import shown
from armwright.designs.asking import Values, check_pickles
from armwright.errors import InputError
from armwright.results.packed import packed, unpacked
from armwright.results.variables import STUDIES
from armwright.studies import run
from armwright.studies.cutting import Compute, go_on, stacked
from armwright.studies.pieces import How, Pieces
from armwright.studies.run import Arrays

if TYPE_CHECKING:
    from armwright.cell import Cell

Study = str | Callable[..., xr.Dataset]


def as_one_piece(cell: Any, study: str, how: How, **options: Any) -> xr.Dataset:
    """A study of one cell that has no many items, by the executor and with the store of ``how``."""
    check_travels(how, study, options)
    with (
        how.opened(study, cell.digest(), {"options": options}) as work,
        run.reported(how.progress, study.replace("_", " ")) as report,
    ):
        return study_designs(work, cell._description, [{}], study, options, report)[0]


def study_designs(
    work: Pieces, described: CellDescription, designs: Sequence[Values], study: Study, options: Mapping[str, Any],
    report: run.Report | None,
) -> list[xr.Dataset]:  # fmt: skip
    """The study of every design; ``study``: the name of a method of a cell, or a function of a cell."""
    given = (described, tuple(designs), study, dict(options))
    arrays = work.run("results", prepare_studies, given, np.arange(len(designs)), report)
    return [unpacked(arrays, item) for item in range(len(designs))]


def check_travels(how: How, study: Study, options: Mapping[str, Any]) -> None:
    """Refuses a study, or options, that cannot go to an executor."""
    if how.executor is not None:
        check_pickles("study", shown(study), study)
        for key, value in options.items():
            check_pickles(key, shown(value), value)


def prepare_studies(
    described: CellDescription, designs: tuple[Values, ...], study: Study, options: Mapping[str, Any]
) -> Compute:
    def compute(rows: Any, threads: int, report: run.Report | None) -> Arrays:
        found = []
        for i, row in enumerate(rows):
            found.append(packed(_studied(described, designs[int(row)], study, options, threads or None)))
            go_on(report, i + 1, len(rows))
        return stacked(found)

    return compute


def _studied(
    described: CellDescription, values: Values, study: Study, options: Mapping[str, Any], threads: int | None
) -> xr.Dataset:
    """The study of one design; InputError tells the design."""
    from armwright.cell import Cell

    try:
        cell = Cell.from_description(with_numbers(described, values) if values else described)
        result = _called(cell, study, options, threads)
    except InputError as error:
        if not values:
            raise
        told = ", ".join(f"{path} = {getattr(value, 'name', value)}" for path, value in values.items())
        problem = error.problems[0]
        expected = f"{problem.expected}, in the design with {told}; answers instead of a study pass such designs over"
        raise InputError.of(problem.key, problem.value, expected, problem.meant) from None
    if not isinstance(result, xr.Dataset) or result.attrs.get("study") not in STUDIES:
        raise InputError.of("study", shown(result), "a study that gives a data set of armwright's")
    if values and result.attrs["study"] == "sweep":
        raise InputError.of("study", "a sweep", "any other study: put the numbers of both into one")
    return result


def _called(cell: Cell, study: Study, options: Mapping[str, Any], threads: int | None) -> Any:
    """Of the cell's own studies, those that run on threads take as many as they may."""
    if not isinstance(study, str):
        return study(cell, **options)
    method = getattr(cell, study)
    may = {"threads": threads} if "threads" in inspect.signature(method).parameters else {}
    return method(**{**may, **options})
