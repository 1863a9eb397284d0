"""The commands on what parts bear and how true the tool stands: bears, sag, error, lift."""

from __future__ import annotations

import argparse
from typing import Any

import numpy as np
import xarray as xr

from armwright.cell import Cell, load_cycle
from armwright.cli.common import load, tell
from armwright.part_studies import part_studies
from armwright.report import part_page

PAGE = "bears.html"


def bears(options: argparse.Namespace) -> None:
    """Writes the page beside the results, and tells them."""
    cell = load(options)
    cycle = None if options.cycle is None else load_cycle(options.cycle, cell)
    asked = {"reliability": options.reliability, "wanted_life": options.life}
    how = {"threads": options.threads, "progress": not options.quiet}
    rows = cell.load_rows(cycle, over_reach=options.over_reach, **how)
    results = [run() for run in part_studies(cell, cycle, rows, **asked).values()]
    page = part_page(results[0], results[1:], path=options.output / PAGE, units=options.units)
    tell(results, cell, options)
    print(f"Open {page} in a browser.")


def sag(options: argparse.Namespace) -> None:
    cell = load(options)
    results = sag_results(cell, options.spacing, threads=options.threads, progress=not options.quiet)
    tell(results, cell, options)


def sag_results(cell: Cell, spacing: str, **how: Any) -> list[xr.Dataset]:
    """Sag over the reach; at the work points, if there are any, and how stiff the arm is there."""
    results = [cell.sag_over_reach(spacing, **how)]
    if cell.description.targets:
        sunk = cell.sag(**how)
        results.append(sunk)
        q = np.asarray(sunk["q"].values)
        served = np.isfinite(q).all(axis=-1)
        if served.any():
            results.append(cell.stiffness(q[served], **how))
    return results


def error(options: argparse.Namespace) -> None:
    cell = load(options)
    tell([cell.tool_error(threads=options.threads, progress=not options.quiet)], cell, options)


def lift(options: argparse.Namespace) -> None:
    cell = load(options)
    tell(lift_results(cell, threads=options.threads, progress=not options.quiet), cell, options)
    if not cell.description.service:
        print("Which motors come out was not looked at: the cell has no [[service]] volume (docs/files.md).")


def lift_results(cell: Cell, **how: Any) -> list[xr.Dataset]:
    """How the arm hangs; and, where service volumes are told, which motors come out."""
    results = [cell.lifting(**how)]
    if cell.description.service:
        results.append(cell.service(**how))
    return results
