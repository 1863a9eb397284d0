"""The commands on an arm in motion: cycle, speed, stops."""

from __future__ import annotations

import argparse

from armwright.cell import load_cycle
from armwright.cli.common import grid_options, load, make_folder, read, tell
from armwright.report import setpoints_to_csv


def cycle(options: argparse.Namespace) -> None:
    cell = read(options)
    moves = load_cycle(options.cycle, cell)
    if options.first_run:
        moves = moves.first_run()
    make_folder(options.output)
    points = None if options.rate is None else cell.setpoints(moves, options.rate)
    results = [
        cell.motion(moves), cell.drive_check(moves),
        cell.payload_against_time(moves, threads=options.threads, progress=not options.quiet),
    ]  # fmt: skip
    if cell.supply is not None:
        results.append(cell.power(moves, cell.supply))
    tell(results, cell, options)
    if points is not None:
        print(f"  wrote {setpoints_to_csv(points, options.output / 'setpoints.csv')}")


def speed(options: argparse.Namespace) -> None:
    cell = load(options)
    result = cell.payload_at_speed(
        tool_acceleration=options.tool_acceleration, joint_acceleration=options.joint_acceleration,
        speed_share=options.speed_share, attitude=options.attitude, centre=options.centre, **grid_options(options),
    )  # fmt: skip
    tell([result], cell, options)


def stops(options: argparse.Namespace) -> None:
    cell = load(options)
    asked = {"threads": options.threads, "progress": not options.quiet}
    late = {"reaction": options.reaction, "hold_after": options.hold_after}
    table = cell.stop_table(**late, **asked)
    switches = cell.switches(**late, **asked)
    separation = cell.separation(float(table["stop_time"].max()))
    tell([cell.holding(**asked), table, switches, separation], cell, options)
