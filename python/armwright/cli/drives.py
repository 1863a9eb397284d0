"""The commands on an arm in motion: cycle, stops."""

from __future__ import annotations

import argparse

from armwright.cell import load_cycle
from armwright.cli.common import grid_options, load, tell
from armwright.report import setpoints_to_csv


def cycle(options: argparse.Namespace) -> None:
    cell = load(options)
    moves = load_cycle(options.cycle, cell)
    if options.first_run:
        moves = moves.first_run()
    tell(cell.motion(moves), cell, options)
    tell(cell.drive_check(moves), cell, options)
    tell(cell.payload_against_time(moves, threads=options.threads, progress=not options.quiet), cell, options)
    if cell.supply is not None:
        tell(cell.power(moves, cell.supply), cell, options)
    if options.rate is not None:
        print(f"  wrote {setpoints_to_csv(cell.setpoints(moves, options.rate), options.output / 'setpoints.csv')}")


def speed(options: argparse.Namespace) -> None:
    cell = load(options)
    result = cell.payload_at_speed(
        tool_acceleration=options.tool_acceleration, joint_acceleration=options.joint_acceleration,
        speed_share=options.speed_share, attitude=options.attitude, centre=options.centre, **grid_options(options),
    )  # fmt: skip
    tell(result, cell, options)


def stops(options: argparse.Namespace) -> None:
    cell = load(options)
    asked = {"threads": options.threads, "progress": not options.quiet}
    tell(cell.holding(**asked), cell, options)
    table = cell.stop_table(reaction=options.reaction, **asked)
    tell(table, cell, options)
    tell(cell.switches(reaction=options.reaction, **asked), cell, options)
    tell(cell.separation(float(table["stop_time"].max())), cell, options)
