"""What to do next, said after each command."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Callable
from pathlib import Path

from armwright.describe import is_arm_file


def next_steps(options: argparse.Namespace) -> list[str]:
    """The commands that come next, each with a word on what it tells; none where there is nothing to add."""
    make = _STEPS.get(options.command)
    return [] if make is None else [f"  {command:<{_WIDTH}}  {words}" for command, words in make(options)]


_WIDTH = 44
_Steps = list[tuple[str, str]]


def _on(options: argparse.Namespace, command: str, *more: str) -> str:
    """A command on the same description, into the same folder."""
    told = ["armwright", command, str(options.file), *more]
    for name in ("base", "tool"):
        told += [f"--{name}", value] if (value := getattr(options, name, None)) else []
    folder = getattr(options, "output", None)
    into = ["-o", str(folder)] if isinstance(folder, Path) and command not in ("check", "export") else []
    return shlex.join(told + into)


def _after_check(options: argparse.Namespace) -> _Steps:
    alone = is_arm_file(options.file)  # an arm has no work points
    return [
        (_on(options, "reach", "-o", "out"), "where the tool can be") if alone
        else (_on(options, "targets", "-o", "out"), "which work points are served, and why not"),
        (_on(options, "page", "-o", "out"), "the cell in three dimensions"),
        (_on(options, "payload", "-o", "out"), "how much it holds where"),
    ]


def _after_new(options: argparse.Namespace) -> _Steps:
    cell, cycle = options.folder / "cell.toml", options.folder / "cycle.toml"
    return [
        (shlex.join(["armwright", "check", str(cell)]), "what is wrong in it, or what it holds"),
        (shlex.join(["armwright", "targets", str(cell), "-o", "out"]), "which work points are served"),
        (shlex.join(["armwright", "cycle", str(cell), str(cycle), "-o", "out"]), "whether the drives stand the moves"),
    ]


def _after_targets(options: argparse.Namespace) -> _Steps:
    return [
        (_on(options, "page"), "turn it about, and see what stands in the way"),
        (_on(options, "report"), "every question with its answer, to show and to print"),
        (_on(options, "place", "--x", "-1 m, 1 m"), "where the base would serve more of them"),
        (_table(options, "check_targets", "xlsx"), "the table for a spreadsheet"),
    ]


def _after_map(study: str) -> Callable[[argparse.Namespace], _Steps]:
    def steps(options: argparse.Namespace) -> _Steps:
        return [
            (_table(options, study, "glb"), "the volume, for CAD and viewers"),
            (_table(options, study, "xlsx"), "its tables"),
        ]

    return steps


def _table(options: argparse.Namespace, study: str, ending: str) -> str:
    stored = options.output / f"{study}.nc"
    return shlex.join(["armwright", "export", str(stored), str(stored.with_suffix(f".{ending}"))])


_STEPS: dict[str, Callable[[argparse.Namespace], _Steps]] = {
    "new": _after_new,
    "check": _after_check,
    "targets": _after_targets,
    "reach": _after_map("reach_map"),
    "payload": _after_map("payload_map"),
    "speed": _after_map("payload_at_speed"),
    "outlines": lambda options: [(_table(options, "outlines", "dxf"), "section and plan in mm, for CAD")],
    "cycle": lambda options: [
        (_on(options, "stops"), "what happens when the power fails"),
        (_on(options, "bears", "--cycle", str(options.cycle)), "what bearings, bolts and links bear"),
        (_on(options, "changes", "--cycle", str(options.cycle)), "which change buys the most"),
        (_on(options, "report", "--cycle", str(options.cycle)), "every question with its answer, to show and to print"),
    ],
    "report": lambda options: [(_on(options, "page"), "the cell in three dimensions, to turn about")],
    "stops": lambda options: [(_on(options, "bears"), "what bearings, bolts and links bear in the worst stop")],
    "track": lambda options: [(_table(options, "track_worth", "xlsx"), "the strokes side by side, as a table")],
    "place": lambda options: [(_table(options, "placement", "xlsx"), "every place that was tried, as a table")],
    "bears": lambda options: [(_on(options, "sag"), "how far the tool sinks"),
                              (_on(options, "lift"), "how it is lifted, and how motors come out")],
    "sag": lambda options: [(_on(options, "error"), "what play and tolerances add to it")],
    "error": lambda options: [(_on(options, "uncertainty"), "how sure the answers are with those tolerances")],
    "lift": lambda options: [(_table(options, "lifting", "xlsx"), "masses and centres of gravity, as a table")],
    "changes": lambda options: [(_on(options, "uncertainty"), "how sure that is")],
    "uncertainty": lambda options: [(_on(options, "changes"), "which change buys the most")],
    "sweep": lambda options: [(_table(options, "sweep", "xlsx"), "the answers of each design, as a table")],
}  # fmt: skip
