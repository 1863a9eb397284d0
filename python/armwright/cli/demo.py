"""The demonstration: a one-person ceramics studio."""

from __future__ import annotations

import argparse
import time
from contextlib import AbstractContextManager
from dataclasses import replace
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

import xarray as xr

from armwright.cell import Cell, load_cell, load_cycle
from armwright.cli import parts
from armwright.cli.common import make_folder
from armwright.describe import load_parts
from armwright.describe.cycle import Cycle
from armwright.designs import ask
from armwright.designs.alternative import Alternative
from armwright.designs.prices import TrackPrices
from armwright.part_studies import part_studies
from armwright.report import caution_line, document, part_page, targets_table, write_report, write_result
from armwright.report.pdf import why_no_pdf
from armwright.report.report_files import PAGE, write_pictures
from armwright.reported import shown_posture
from armwright.results import Scene, summary


def demo(options: argparse.Namespace) -> None:
    start = time.monotonic()
    make_folder(options.output)
    with _files() as folder:
        cell = load_cell(folder / "cell.toml")
        cycle = load_cycle(folder / "cycle.toml", cell)
    bar = not options.quiet
    print(
        "A one-person ceramics studio: an arm on a floor track loads ware from two racks into a kiln. "
        "All data are invented."
    )
    print(f"{cell}\n")
    checked = cell.check_targets(progress=bar)
    print(targets_table(checked) + "\n")
    scene = cell.scene(q=shown_posture(checked), checked=checked)
    kept = _Kept(options.output)
    kept.add(checked)
    reach = cell.reach_map(
        "175 mm", directions=30, spins=1, track_step="150 mm", dexterous_share=0.5, margin="20 mm", progress=bar
    )
    kept.add(reach)
    payload = cell.payload_map("50 mm", directions=24, **_section(cell), progress=bar)
    kept.add(payload, cell.outlines(progress=bar))
    told = [_in_motion(cell, cycle, kept, bar), _what_parts_bear(cell, cycle, kept, bar),
            _along_the_track(cell, cycle, kept, bar), _what_to_change(cell, kept, bar)]  # fmt: skip
    kept.written.append(cell.page(options.output / "cell.html", maps=[reach, payload], cycle=cycle, checked=checked))
    kept.report(scene)
    print("\n".join([*(summary(result) for result in (reach, payload)), *told]))
    for path in kept.written:
        print(f"  wrote {path}")
    names = [str(options.output / name) for name in (PAGE, "cell.html", parts.PAGE)]
    print(f"Open {names[0]}, {names[1]} and {names[2]} in a browser.")
    print(f"Done in {time.monotonic() - start:.0f} s.")
    print(caution_line())


class _Kept:
    """The demonstration's results, written as they come; their pictures are those of its report."""

    def __init__(self, folder: Path):
        self.folder, self.results, self.written = folder, list[xr.Dataset](), list[Path]()

    def add(self, *results: xr.Dataset) -> str:
        """Writes them, and tells them in words."""
        for result in results:
            self.results.append(result)
            self.written += write_result(result, self.folder, draw=False)
        return "\n".join(map(summary, results))

    def report(self, scene: Scene) -> None:
        """The report of all of them, as PDF too where that can be made."""
        made, missing = document(self.results, scene=scene), why_no_pdf()
        self.written += [*write_pictures(made, self.folder), *write_report(made, self.folder, pdf=not missing)]
        if missing:
            print(f"No report.pdf: {missing}.")


def _files() -> AbstractContextManager[Path]:
    return as_file(files("armwright") / "demo")


def _section(cell: Cell) -> dict[str, Any]:
    """What both payload maps ask for: the plane square to the track at its middle, the load's own centre."""
    middle = 1.05  # of the track, m
    return {
        "attitude": "level", "spins": 1, "centre": cell.load.centre if cell.load else (0, 0, 0),
        "track_step": "150 mm", "bounds": ((middle, -1.7, 0), (middle, 1.7, 2.0)), "margin": "20 mm",
    }  # fmt: skip


def _in_motion(cell: Cell, cycle: Cycle, kept: _Kept, bar: bool) -> str:
    """How heavy and how fast, what gives out first, what supply, and does it stay up when the power fails: in words.
    Where switches and safeguards go is told by the report alone."""
    motion = cell.motion(cycle)
    results = [motion, cell.drive_check(cycle), cell.payload_against_time(cycle, progress=bar)]
    if cell.supply is not None:
        results.append(cell.power(cycle, cell.supply))
    results.append(
        cell.payload_at_speed("100 mm", tool_acceleration="3 m/s^2", directions=12, **_section(cell), progress=bar)
    )
    results.append(cell.holding(progress=bar))
    speed = motion["tool_speed"].values
    fastest = int((speed >= 0.999 * speed.max()).argmax())  # the first of several: rounding does not choose
    results.append(cell.stop(motion["q"].values[fastest], motion["speed"].values[fastest], load=cell.load))
    stops = cell.stop_table(progress=bar)
    guarding = [stops, cell.switches(progress=bar), cell.separation(float(stops["stop_time"].max()))]
    told = kept.add(*results)
    kept.add(*guarding)
    return told


def _what_parts_bear(cell: Cell, cycle: Cycle, kept: _Kept, bar: bool) -> str:
    """What bearings, links, bolts, blocks, rails and feed bear, how true the tool stands, and how the arm is lifted:
    in words, and a page of the parts."""
    how: dict[str, Any] = {"threads": None, "progress": bar}
    borne = [run() for run in part_studies(cell, cycle, cell.load_rows(cycle, **how)).values()]
    true = [*parts.sag_results(cell, "50 mm", **how), cell.tool_error(**how)]
    told = kept.add(borne[0])
    kept.add(*borne[1:])
    kept.written.append(part_page(borne[0], borne[1:], path=kept.folder / parts.PAGE))
    return f"{told}\n{kept.add(*true, *parts.lift_results(cell, **how))}"


def _along_the_track(cell: Cell, cycle: Cycle, kept: _Kept, bar: bool) -> str:
    """Whether the track is worth its (invented) money, and a longer one more."""
    line = (-0.5, 3.5)  # of the workshop's floor, m
    prices = TrackPrices(per_metre=800.0, fixed=1200.0, motor=400.0, currency="EUR")
    strokes = (0.25, 0.5, 0.75, 1.0, 1.5, 2.1, 3.0, 4.0)
    intervals = cell.track_intervals(stroke=line, progress=bar)
    worth = cell.track_worth(strokes, cycle=cycle, within=line, prices=prices, progress=bar)
    results = [intervals, worth]
    if cell.track is not None:
        mount = cell.track.pose @ cell.description.mount
        bolted = Cell.from_description(replace(cell.description, track=None, mount=mount))
        results.append(bolted.placement(x=(0.0, 2.5), y=(-0.5, 0.5), yaw="any", progress=bar))
    return kept.add(*results)


def _what_to_change(cell: Cell, kept: _Kept, bar: bool) -> str:
    """The bag of clay is too heavy: what would help, for which (invented) price, and how sure that is."""
    clay = ask.payload_margin("left shelf 2, bag of clay")
    with _files() as own:
        bought = load_parts(own / "parts.toml")
    ratio, stage = (f"arm.joints[axis {n}].drive.stages[{name}]" for n, name in _STAGES)
    larger = {f"{ratio}.ratio": 141, stage: bought.stage("reducer 121 large")}
    others = [
        Alternative({f"{ratio}.ratio": 141}, 240, "axis 2: ratio 141"),
        Alternative(larger, 820, "axis 2: ratio 141, axis 3: reducer 121 large"),
        Alternative({"arm.links[upper arm].mass": "11.4 kg"}, 450, "upper arm of aluminium"),
        Alternative({"tool.mass": "1.1 kg"}, 90, "fork of aluminium"),
    ]
    prices = {"reducer 121 large": 580, "1 kW motor": 410, "750 W motor": 330}
    results = [
        cell.changes(None, others, [clay, ask.served()], parts=bought, prices=prices, currency="EUR", progress=bar),
        cell.uncertainty([clay, ask.payload_margin("kiln, back"), ask.stop_drop("kiln, back")], samples=128,
                         progress=bar),
    ]
    return kept.add(*results)


_STAGES = ((2, "reducer 121 large"), (3, "reducer 121"))
