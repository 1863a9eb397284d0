"""What the commands share: reading the description, the folder for results, and telling them."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import xarray as xr

from armwright.arm import load_arm
from armwright.cell import Cell, load_cell
from armwright.describe import is_arm_file
from armwright.describe.load import other_file
from armwright.errors import InputError
from armwright.report import caution_line, targets_table, write_result
from armwright.results import summary


def load(options: argparse.Namespace) -> Cell:
    cell = read(options)
    if "output" in options:  # told before the work, not after
        make_folder(options.output)
    return cell


def read(options: argparse.Namespace) -> Cell:
    if is_arm_file(options.file):
        return Cell(load_arm(options.file, base=options.base, tool=options.tool))
    if options.base or options.tool:
        raise InputError.of(
            "--base, --tool", "given with a cell file", "these with an arm file; a cell file names them itself"
        )
    other = other_file(options.file)
    if other is not None:
        beside = "a cycle goes beside a cell" if other == "a cycle" else "it is checked with what names it"
        raise InputError.of("file", other, f"a cell (.toml), or an arm (.toml or .urdf) on its own; {beside}",
                            file=options.file)  # fmt: skip
    return load_cell(options.file)


def make_folder(folder: Path) -> None:
    expected = "a folder that can be made and written to"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError.of("output", str(folder), f"{expected} ({error.strerror})") from None
    if not os.access(folder, os.W_OK):
        raise InputError.of("output", str(folder), expected)


def tell(results: Sequence[xr.Dataset], cell: Cell, options: argparse.Namespace) -> None:
    """Writes the files of each result and says in words what it holds; the cautions once, under all."""
    for result in results:
        study = result.attrs["study"]
        checks = study == "check_targets"
        scene = cell.scene(checked=result) if checks else cell.scene() if study == "lifting" else None
        written = write_result(result, options.output, scene, options.units, bearings_among(results))
        print(targets_table(result, options.units) if checks else summary(result, options.units))
        for path in written:
            print(f"  wrote {path}")
    print(caution_line())


def bearings_among(results: Sequence[xr.Dataset]) -> xr.Dataset | None:
    """The result of bearings, whose limits are drawn beside what joints bear."""
    return next((result for result in results if result.attrs["study"] == "bearings"), None)


def grid_options(options: argparse.Namespace) -> dict[str, Any]:
    chosen = {name: getattr(options, name) for name in ("directions", "spins") if getattr(options, name) is not None}
    return chosen | {
        "spacing": options.spacing, "margin": options.margin, "fixtures": not options.no_fixtures,
    } | how_options(options)  # fmt: skip


def how_options(options: argparse.Namespace) -> dict[str, Any]:
    """How a study runs that keeps its pieces in a store, if it is told one."""
    return {"threads": options.threads, "progress": not options.quiet, "store": options.store}
