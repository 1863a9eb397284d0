"""The page that says what each part bears: the report of that one question."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

import xarray as xr

from armwright.errors import InputError
from armwright.pictures.page_file import page_path, write_page
from armwright.report.gather import document
from armwright.report.html import render
from armwright.report.questions.parts import STUDIES
from armwright.results import check_dataset
from armwright.results.units import UnitSystem


def part_page(
    part_loads: xr.Dataset, others: Iterable[xr.Dataset] = (), *, path: str | os.PathLike[str],
    units: UnitSystem = "si",
) -> Path:  # fmt: skip
    """Writes what each bearing, link, bolt, block, rail, feed and drive bears at rest, in the cycle and in its worst
    stop, and what was not looked at, as a single HTML file; gives its path.

    ``others``: results of joint_wrenches, bearings, base_loads, track_loads of the same cell, for pictures. The file
    needs nothing beside it and no network. ``units``: "si", or "us" for inches, pounds and psi.

    >>> borne = cell.part_loads(rows=cell.load_rows(stops=False))
    >>> report.part_page(borne, path="bears.html").name
    'bears.html'
    """
    target = page_path(path)
    return write_page(part_text(part_loads, others, units), target)


def part_text(part_loads: xr.Dataset, others: Iterable[xr.Dataset] = (), units: UnitSystem = "si") -> str:
    """The page's text."""
    if check_dataset(part_loads).name != "part_loads":
        raise InputError.of("dataset", f"a result of {part_loads.attrs['study']}", "a result of part_loads")
    others = list(others)
    for other in others:
        name = check_dataset(other).name
        if name not in STUDIES[1:]:
            raise InputError.of("others", f"a result of {name}", f"results of {', '.join(STUDIES[1:])}")
    return render(document([part_loads, *others], units=units, questions=["parts"]), units)
