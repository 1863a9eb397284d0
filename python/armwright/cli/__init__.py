"""The command line: the studies on files, results and pictures into a folder."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from armwright.cli import cells, completion, designs, drives, exports, new, parts, reports
from armwright.cli.as_typed import as_typed
from armwright.cli.demo import demo
from armwright.cli.examples import all_examples, examples_of
from armwright.cli.next_steps import next_steps
from armwright.describe import schema
from armwright.errors import InputError


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command line; the exit code: 0 done, 2 input refused, 130 stopped by Ctrl-C."""
    options = _parser().parse_args(arguments)
    try:
        run: Any = options.run
        code = int(run(options) or 0)
        if code == 0 and (steps := next_steps(options)):
            print("\n".join(["Next:", *steps]))
        return code
    except InputError as error:
        told = [as_typed(problem, options.parser) for problem in error.problems]
        print("\n".join(map(str, told)), file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as error:  # BrokenPipeError is told before
        print(f"{error.filename or 'output'}: {error.strerror or error}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print(f"stopped; {_kept_when_stopped(options)}", file=sys.stderr)
        return 130


def _kept_when_stopped(options: argparse.Namespace) -> str:
    """What stays after Ctrl-C, and how to go on."""
    if "store" not in options:
        return "no file is left half written; the same command begins anew"
    if options.store is None:
        return "nothing is kept: with --store FOLDER what is done would be, and the same command would go on from there"
    return f"what is done is kept in {options.store}, from where the same command goes on"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="armwright", description="Reach, payload, clearance, drives and stops of an arm in its cell.",
        epilog=all_examples(), formatter_class=argparse.RawDescriptionHelpFormatter,
    )  # fmt: skip
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def command(name: str, run: Any, words: str, *, file: bool = True, example: str = "") -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=words, description=words, epilog=examples_of(name) or example,
                                  formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
        sub.set_defaults(run=run, parser=sub)
        if file:
            sub.add_argument("file", type=Path, help="a cell (.toml), or an arm (.toml or .urdf) on its own")
            sub.add_argument("--base", help="URDF: the link that stands still")
            sub.add_argument("--tool", help="URDF: the link that is the tool flange")
        return sub

    new.add(command)
    sub = command("check", cells.check, "Read a description; tell what is wrong, or what it holds.")
    _units(sub)
    _at_rest(command)
    _in_motion(command)
    _of_parts(command)
    _of_designs(command)
    reports.add(command)
    exports.add(command)
    completion.add(command, parser)
    sub = command("schema", cells.schema, "The JSON schema of a description file.", file=False)
    sub.add_argument("kind", choices=tuple(schema.MODELS), help="which file")
    sub = command("demo", demo, "A one-person ceramics studio: work points, reach, payload, pictures.", file=False)
    sub.add_argument("output", type=Path, nargs="?", default=Path("demo-output"), help="folder (%(default)s)")
    sub.add_argument("--quiet", action="store_true", help="no progress bar")
    return parser


def _at_rest(command: Any) -> None:
    sub = command("reach", cells.reach, "Where the tool can be, and in how many attitudes.")
    _over_grid(sub)
    _into_folder(sub)
    sub = command("payload", cells.payload, "How much the arm holds where, and which joint gives out first.")
    _over_grid(sub)
    _with_load(sub)
    sub.add_argument("--limit", choices=("continuous", "peak"), default="continuous", help="which torque (%(default)s)")
    _into_folder(sub)
    sub = command("targets", cells.targets, "Which work points are served, how well, and why not.")
    sub.add_argument("--margin", default="0 mm", help="clearance to be kept (%(default)s)")
    sub.add_argument("--limit", choices=("continuous", "peak"), default="continuous", help="which torque (%(default)s)")
    sub.add_argument("--order", help="what makes a posture the best, as limit_margin,clearance,payload,manipulability")
    _into_folder(sub)
    sub = command("track", cells.track, "From where on the track each work point is served; what each stroke brings.")
    sub.add_argument("--within", help='how much of the line is looked at, as "3 m" or "-1 m, 3 m" (the track\'s own)')
    sub.add_argument("--strokes", help='strokes to be compared, as "0.5 m, 1 m, 2 m" (those that gain a point)')
    sub.add_argument("--cycle", type=Path, help="a cycle (.toml) to be timed with each stroke")
    sub.add_argument("--price", help='of the track: "per metre, fixed, motor", as "800, 1200, 400"')
    sub.add_argument("--currency", default="", help="of the price")
    sub.add_argument("--margin", default="0 mm", help="clearance to be kept (%(default)s)")
    _into_folder(sub)
    _for_place(command("place", cells.place, "Where the base, the track or the parked arm should stand."))
    _into_folder(command("outlines", cells.outlines, "Boundary curves of the reach, in section and in plan."))
    words = "The cell in three dimensions: one file that opens offline; the reader moves the axes, looks into maps " \
            "and plays a cycle."  # fmt: skip
    sub = command("page", cells.page, words)
    sub.add_argument("--reach", metavar="SPACING", help="a map of the reach goes in, at positions so far apart, as "
                     '"100 mm"')  # fmt: skip
    sub.add_argument("--payload", metavar="SPACING", help="a map of the payload at rest goes in")
    sub.add_argument("--cycle", type=Path, help="a cycle (.toml) goes in, to be played")
    sub.add_argument("--margin", default="0 mm", help="clearance to be kept, of the maps (%(default)s)")
    _with_load(sub)
    _kept(sub)
    _into_folder(sub)


def _for_place(sub: argparse.ArgumentParser) -> None:
    for name, words in (("x", "of the stand"), ("y", "of the stand"), ("z", "of the stand")):
        sub.add_argument(f"--{name}", help=f'{words}: "0.5 m", or between two, as "-1 m, 1 m" (as it is)')
    sub.add_argument("--yaw", help='about the vertical: "30 deg", "-90 deg, 90 deg" or any (as it is)')
    sub.add_argument("--turn", help="on a wall, about the stand's own axis")
    sub.add_argument("--track", help='position to park the arm at, between two, as "0 m, 2 m"')
    sub.add_argument("--attitudes", help="some of floor,wall,ceiling (as it stands)")
    sub.add_argument("--aims", default="limit_margin", help="some of limit_margin,clearance,payload (%(default)s)")
    sub.add_argument("--forbid", action="append", default=[], help='a zone in plan: two corners of a box, as "0, 0, 2, '
                     '1 m", or more of a polygon; may be told again')  # fmt: skip
    sub.add_argument("--going-along", help="fixtures that move with the base, as a pedestal")
    sub.add_argument("--margin", default="0 mm", help="clearance to be kept (%(default)s)")
    sub.add_argument("--limit", choices=("continuous", "peak"), default="continuous", help="which torque (%(default)s)")
    sub.add_argument("--samples", type=int, default=4000, help="places tried at first (%(default)s)")
    sub.add_argument("--seed", type=int, default=0, help="of the search (%(default)s)")
    _kept(sub)
    _into_folder(sub)


def _in_motion(command: Any) -> None:
    sub = command("speed", drives.speed, "How much the arm carries while it moves, beside what it holds at rest.")
    _over_grid(sub)
    _with_load(sub)
    sub.add_argument("--tool-acceleration", help='of the tool point, any way, from rest, as "3 m/s^2"')
    sub.add_argument("--joint-acceleration", type=float, help="share of every joint's greatest, 0 to 1")
    sub.add_argument("--speed-share", type=float, help="share of every joint's greatest speed, 0 to 1")
    _into_folder(sub)
    sub = command("cycle", drives.cycle, "Whether the drives stand a cycle of moves: timing, motors, reducers, supply.")
    sub.add_argument("cycle", type=Path, help="a cycle (.toml)")
    sub.add_argument("--rate", type=float, help="also setpoints: so many a second, as a table")
    sub.add_argument("--first-run", action="store_true", help="with the tool at no more than 250 mm/s")
    _into_folder(sub)
    sub = command("stops", drives.stops, "Whether it stays up when the power fails, and how far it moves then.")
    sub.add_argument("--reaction", default="0 s", help="from the signal until anything happens (%(default)s)")
    sub.add_argument("--hold-after", default="0 s", help="category 1: the motors hold so long while the brakes close, "
                     "then the power goes (%(default)s)")  # fmt: skip
    _into_folder(sub)


def _of_parts(command: Any) -> None:
    words = "What every bearing, link, bolt, block, rail and feed bears at rest, in a cycle and in its worst stop, " \
            "and what was not looked at; a page says it."  # fmt: skip
    sub = command("bears", parts.bears, words)
    sub.add_argument("--cycle", type=Path, help="a cycle (.toml): what lasts, for lives, motors and stages")
    sub.add_argument("--reliability", default="90 %", help="of the lives, 90 %% to 99.95 %% (%(default)s)")
    sub.add_argument("--over-reach", metavar="SPACING", help="also at rest at positions so far apart over the reach, "
                     'as "100 mm"')  # fmt: skip
    sub.add_argument("--life", help='wanted of the bearings, as "20000 h"')
    _into_folder(sub)
    sub = command("sag", parts.sag, "How far the tool sinks over the reach and at the work points, what gives way, how "
                  "stiff the arm is and its lowest natural frequencies.")  # fmt: skip
    sub.add_argument("--spacing", default="100 mm", help="between positions over the reach (%(default)s)")
    _into_folder(sub)
    words = "How far the tool may stand from where it should at the work points, by play, encoders and tolerances."
    _into_folder(command("error", parts.error, words))
    words = "Mass and centre of gravity, how the arm hangs from each lifting eye, and which motors come out in which " \
            "posture."  # fmt: skip
    _into_folder(command("lift", parts.lift, words))


def _of_designs(command: Any) -> None:
    sub = command("numbers", designs.numbers, "Every number of a design, by the name that changes, uncertainty and "
                  "sweep take.")  # fmt: skip
    sub.add_argument("containing", nargs="?", default="", metavar="TEXT", help="only names that contain it (all)")
    _units(sub)
    sub = command("changes", designs.changes, "Which change buys the most, and for what price.")
    sub.add_argument("--number", action="append", default=[], metavar="NAME", help="a number of the design to be "
                     "changed a little; may be told again (the usual ones)")  # fmt: skip
    sub.add_argument("--alternative", action="append", default=[], metavar="NUMBER=VALUES", help="values that a number "
                     "might have instead; may be told again")  # fmt: skip
    sub.add_argument("--parts", type=Path, help="a library of parts (.toml): every other motor and stage of it")
    sub.add_argument("--prices", action="append", default=[], metavar="NAME=AMOUNT", help="of parts and alternatives, "
                     "with commas between; may be told again")  # fmt: skip
    sub.add_argument("--currency", default="money", help="of the prices (%(default)s)")
    _asking(sub, "alternatives are ranked by the first")
    words = "How sure the answers are, as masses and lengths have tolerances, and which numbers to measure first."
    sub = command("uncertainty", designs.uncertainty, words)
    sub.add_argument("--tolerance", action="append", default=[], metavar="NUMBER=AMOUNT", help="besides those of the "
                     "description; a share or an amount; may be told again")  # fmt: skip
    sub.add_argument("--distribution", choices=("uniform", "normal"), default="uniform", help="what a tolerance means: "
                     "the whole range, or two standard deviations (%(default)s)")  # fmt: skip
    sub.add_argument("--samples", type=int, default=256, help="a power of two, or 0 for none (%(default)s)")
    sub.add_argument("--seed", type=int, default=0, help="of the samples (%(default)s)")
    sub.add_argument("--postures", choices=("held", "anew"), default="held", help="of the samples (%(default)s)")
    _asking(sub, "each gets its band")
    sub = command("sweep", designs.sweep, "Answers of many designs: of every combination of values, or spread between "
                  "two of each number.")  # fmt: skip
    sub.add_argument("numbers", nargs="+", metavar="NUMBER=VALUES", help="a number of the design and its values, with "
                     "commas between; in place of a motor or stage the names of parts")  # fmt: skip
    sub.add_argument("--parts", type=Path, help="the file of those parts (.toml)")
    sub.add_argument("--design", choices=("factorial", "latin hypercube"), default="factorial", help="which designs "
                     "(%(default)s)")  # fmt: skip
    sub.add_argument("--samples", type=int, help="values of each number, or designs of the hypercube, between the two "
                     "that are told")  # fmt: skip
    sub.add_argument("--seed", type=int, default=0, help="of the hypercube (%(default)s)")
    _asking(sub, "each is told of every design")


def _asking(sub: argparse.ArgumentParser, words: str) -> None:
    sub.add_argument("--answer", action="append", default=[], metavar="ANSWER", help="what is asked: "
                     f"{', '.join(designs.ANSWERS)}; of one work point, as \"payload at kiln\"; may be told again, "
                     f"{words} (what the work points need)")  # fmt: skip
    sub.add_argument("--cycle", type=Path, help="a cycle (.toml), for answers about it")
    _kept(sub)
    _into_folder(sub)


def _kept(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--store", metavar="FOLDER", help="keeps finished pieces: the same command goes on from them")


def _units(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--units", choices=("si", "us"), default="si", help="metric or US units (%(default)s)")


def _into_folder(sub: argparse.ArgumentParser) -> None:
    sub.add_argument(
        "-o", "--output", type=Path, default=Path("armwright-output"), help="folder for results (%(default)s)"
    )
    _units(sub)
    sub.add_argument("--threads", type=int, help="how many; results do not depend on it")
    sub.add_argument("--quiet", action="store_true", help="no progress bar")


def _over_grid(sub: argparse.ArgumentParser) -> None:
    sub.add_argument("--spacing", default="100 mm", help="between grid positions (%(default)s)")
    sub.add_argument("--directions", type=int, help="tool directions at each position")
    _kept(sub)
    sub.add_argument("--spins", type=int, help="turns about the tool axis in each direction")
    sub.add_argument("--margin", default="0 mm", help="clearance to be kept (%(default)s)")
    sub.add_argument("--no-fixtures", action="store_true", help="leave clearance out")


def _with_load(sub: argparse.ArgumentParser) -> None:
    sub.add_argument(
        "--attitude", choices=("any", "down", "level"), default="any", help="of the tool axis (%(default)s)"
    )
    sub.add_argument("--centre", default="0, 0, 0 mm", help="load centre from the tool frame (%(default)s)")
