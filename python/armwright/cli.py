"""The command line: the studies on files, results and pictures into a folder."""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Sequence
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import xarray as xr

from armwright.arm import load_arm
from armwright.cell import Cell, load_cell
from armwright.describe import is_arm_file, schema
from armwright.errors import InputError
from armwright.pictures.page3d import page
from armwright.report import caution_line, targets_table, write_result
from armwright.results import summary

_EXAMPLES = """examples:
  armwright demo                               the ceramics studio, into ./demo-output
  armwright check cell.toml                    read a description, tell what is wrong or what it holds
  armwright targets cell.toml -o out           which work points are served, and why not
  armwright reach cell.toml -o out --spacing 100mm
  armwright payload arm.urdf --base base_link --tool tool0 -o out --attitude down
  armwright page cell.toml -o out              the cell in three dimensions, one file, offline
  armwright schema cell > cell.schema.json     for editors that complete and check TOML
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command line; the exit code: 0 done, 2 input refused, 130 stopped by Ctrl-C."""
    options = _parser().parse_args(arguments)
    try:
        run: Any = options.run
        return int(run(options) or 0)
    except InputError as error:
        print("\n".join(str(problem) for problem in error.problems), file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as error:  # BrokenPipeError is told before
        print(f"{error.filename or 'output'}: {error.strerror or error}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="armwright", description="Reach, payload and clearance of an arm in its cell.", epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )  # fmt: skip
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def command(name: str, run: Any, words: str, *, file: bool = True) -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=words, description=words)
        sub.set_defaults(run=run)
        if file:
            sub.add_argument("file", type=Path, help="a cell (.toml), or an arm (.toml or .urdf) on its own")
            sub.add_argument("--base", help="URDF: the link that stands still")
            sub.add_argument("--tool", help="URDF: the link that is the tool flange")
        return sub

    def into_folder(sub: argparse.ArgumentParser) -> None:
        sub.add_argument(
            "-o", "--output", type=Path, default=Path("armwright-output"), help="folder for results (%(default)s)"
        )
        sub.add_argument("--units", choices=("si", "us"), default="si", help="units of the pictures (%(default)s)")
        sub.add_argument("--threads", type=int, help="how many; results do not depend on it")
        sub.add_argument("--quiet", action="store_true", help="no progress bar")

    def over_grid(sub: argparse.ArgumentParser, spacing: str) -> None:
        sub.add_argument("--spacing", default=spacing, help="between grid positions (%(default)s)")
        sub.add_argument("--directions", type=int, help="tool directions at each position")
        sub.add_argument("--spins", type=int, help="turns about the tool axis in each direction")
        sub.add_argument("--margin", default="0 mm", help="clearance to be kept (%(default)s)")
        sub.add_argument("--no-fixtures", action="store_true", help="leave clearance out")

    command("check", _check, "Read a description; tell what is wrong, or what it holds.")
    sub = command("reach", _reach, "Where the tool can be, and in how many attitudes.")
    over_grid(sub, "100 mm")
    into_folder(sub)
    sub = command("payload", _payload, "How much the arm holds where, and which joint gives out first.")
    over_grid(sub, "100 mm")
    sub.add_argument(
        "--attitude", choices=("any", "down", "level"), default="any", help="of the tool axis (%(default)s)"
    )
    sub.add_argument("--limit", choices=("continuous", "peak"), default="continuous", help="which torque (%(default)s)")
    sub.add_argument("--centre", default="0, 0, 0 mm", help="load centre from the tool frame (%(default)s)")
    into_folder(sub)
    sub = command("targets", _targets, "Which work points are served, how well, and why not.")
    sub.add_argument("--margin", default="0 mm", help="clearance to be kept (%(default)s)")
    sub.add_argument("--limit", choices=("continuous", "peak"), default="continuous", help="which torque (%(default)s)")
    sub.add_argument("--order", help="what makes a posture the best, as limit_margin,clearance,payload,manipulability")
    into_folder(sub)
    into_folder(command("outlines", _outlines, "Boundary curves of the reach, in section and in plan."))
    into_folder(command("page", _page, "The cell in three dimensions: one file that opens offline."))
    sub = command("schema", _schema, "The JSON schema of a description file.", file=False)
    sub.add_argument("kind", choices=tuple(schema.MODELS), help="which file")
    sub = command("demo", _demo, "A one-person ceramics studio: work points, reach, payload, pictures.", file=False)
    sub.add_argument("output", type=Path, nargs="?", default=Path("demo-output"), help="folder (%(default)s)")
    sub.add_argument("--quiet", action="store_true", help="no progress bar")
    return parser


def _load(options: argparse.Namespace) -> Cell:
    cell = _read(options)
    if "output" in options:  # told before the work, not after
        _make_folder(options.output)
    return cell


def _read(options: argparse.Namespace) -> Cell:
    if is_arm_file(options.file):
        return Cell(load_arm(options.file, base=options.base, tool=options.tool))
    if options.base or options.tool:
        raise InputError.of(
            "--base, --tool", "given with a cell file", "these with an arm file; a cell file names them itself"
        )
    return load_cell(options.file)


def _make_folder(folder: Path) -> None:
    expected = "a folder that can be made and written to"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError.of("output", str(folder), f"{expected} ({error.strerror})") from None
    if not os.access(folder, os.W_OK):
        raise InputError.of("output", str(folder), expected)


def _grid_options(options: argparse.Namespace) -> dict[str, Any]:
    chosen = {name: getattr(options, name) for name in ("directions", "spins") if getattr(options, name) is not None}
    return chosen | {
        "spacing": options.spacing, "margin": options.margin, "fixtures": not options.no_fixtures,
        "threads": options.threads, "progress": not options.quiet,
    }  # fmt: skip


def _check(options: argparse.Namespace) -> None:
    cell = _load(options)
    print(cell)
    print(f"  {cell.arm}")
    for note in cell.arm.notes:
        print(f"  note: {note}")
    if cell.supply is not None:
        print(f"  {cell.supply}")
    for text in (*cell.assumptions, *(cell.supply.assumptions if cell.supply is not None else ())):
        print(f"  assumed: {text}")
    for fixture in cell.fixtures:
        print(f"  {fixture}")
    for target in cell.targets:
        print(f"  {target}")
    pairs = ", ".join(f"{a} and {b}" for a, b in cell.touching_pairs)
    print("  not checked against each other (they touch by design, or no posture changes their distance):")
    print(f"    {pairs or 'none'}")


def _reach(options: argparse.Namespace) -> None:
    cell = _load(options)
    _tell(cell.reach_map(**_grid_options(options)), cell, options)


def _payload(options: argparse.Namespace) -> None:
    cell = _load(options)
    result = cell.payload_map(
        attitude=options.attitude, limit=options.limit, centre=options.centre, **_grid_options(options)
    )
    _tell(result, cell, options)


def _targets(options: argparse.Namespace) -> None:
    cell = _load(options)
    order = {"order": [word.strip() for word in options.order.split(",")]} if options.order else {}
    result = cell.check_targets(
        margin=options.margin, limit=options.limit, threads=options.threads, progress=not options.quiet, **order
    )
    _tell(result, cell, options)


def _outlines(options: argparse.Namespace) -> None:
    cell = _load(options)
    _tell(cell.outlines(threads=options.threads, progress=not options.quiet), cell, options)


def _page(options: argparse.Namespace) -> None:
    cell = _load(options)
    checked = cell.check_targets(threads=options.threads, progress=not options.quiet) if cell.targets else None
    print(page(cell.scene(checked=checked), path=options.output / "cell.html", units=options.units))


def _schema(options: argparse.Namespace) -> None:
    print(schema.text(options.kind), end="")


def _tell(result: xr.Dataset, cell: Cell, options: argparse.Namespace) -> None:
    checks = result.attrs["study"] == "check_targets"
    scene = cell.scene(checked=result) if checks else None
    written = write_result(result, options.output, scene, options.units)
    print(targets_table(result) if checks else summary(result))
    for path in written:
        print(f"  wrote {path}")
    print(caution_line())


def _demo(options: argparse.Namespace) -> None:
    start = time.monotonic()
    _make_folder(options.output)
    with as_file(files("armwright") / "demo") as folder:
        cell = load_cell(folder / "cell.toml")
    bar = not options.quiet
    print(
        "A one-person ceramics studio: an arm on a floor track loads ware from two racks into a kiln. "
        "All data are invented."
    )
    print(f"{cell}\n")
    checked = cell.check_targets(progress=bar)
    print(targets_table(checked) + "\n")
    scene = cell.scene(q=_shown_posture(checked), checked=checked)
    written = write_result(checked, options.output, scene)
    reach = cell.reach_map(
        "150 mm", directions=40, spins=1, track_step="150 mm", dexterous_share=0.5, margin="20 mm", progress=bar
    )
    written += write_result(reach, options.output)
    centre = cell.load.centre if cell.load else (0, 0, 0)
    middle = 1.05  # of the track: the plane square to it in which the section is drawn, m
    payload = cell.payload_map(
        "50 mm", attitude="level", directions=24, spins=1, centre=centre, track_step="150 mm",
        bounds=((middle, -1.7, 0), (middle, 1.7, 2.0)), margin="20 mm", progress=bar,
    )  # fmt: skip
    written += write_result(payload, options.output)
    written += write_result(cell.outlines(progress=bar), options.output)
    written.append(page(scene, reach, path=options.output / "cell.html"))
    print("\n".join(summary(result) for result in (reach, payload)))
    for path in written:
        print(f"  wrote {path}")
    print(f"Open {options.output / 'cell.html'} in a browser. Done in {time.monotonic() - start:.0f} s.")
    print(caution_line())


def _shown_posture(checked: xr.Dataset) -> Any:
    """The posture of the first work point that is served, for the pictures."""
    served = checked["served"].values
    return checked["q"].values[int(served.argmax())] if served.any() else None


if __name__ == "__main__":
    sys.exit(main())
