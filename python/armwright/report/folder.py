"""A result's files in a folder: the data, the pictures, and the words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.cautions import caution_line
from armwright.report.cuts import richest, upright_cut
from armwright.report.tables import targets_table
from armwright.results import Scene, summary, to_netcdf

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def write_result(
    result: xr.Dataset, folder: Path, scene: Scene | None = None, units: pictures.UnitSystem = "si",
    bearings: xr.Dataset | None = None, *, draw: bool = True,
) -> list[Path]:  # fmt: skip
    """Writes a result as netCDF, its pictures as PNG, its summary and the cautions as text; the paths, in that order.
    ``scene`` is needed for the plan of checked work points, and for how an arm hangs; ``bearings``, a result of that
    study over the same rows, for the limit beside what a joint bears. ``draw`` False: without pictures.

    >>> from pathlib import Path
    >>> [path.name for path in report.write_result(cell.reach_map("500 mm", directions=6, spins=1), Path("out"))]
    ['reach_map.nc', 'reach_section.png', 'reach_plan.png', 'reach_map.txt']
    """
    import matplotlib.pyplot as plt

    folder.mkdir(parents=True, exist_ok=True)
    study = str(result.attrs["study"])
    written = [to_netcdf(result, folder / f"{study}.nc")]
    words = summary(result, units)
    if study == "check_targets":
        words = targets_table(result, units)
    for name, ax in _pictures(result, _Beside(scene, bearings), units) if draw else ():
        written.append(pictures.save(ax, folder / f"{name}.png"))
        plt.close(ax.figure.canvas.figure)  # or pyplot keeps it
    text = folder / f"{study}.txt"
    text.write_text(f"{words}\n\n{caution_line()}\n", encoding="utf-8")
    return [*written, text]


class _Beside(NamedTuple):
    """What some pictures need beside their result."""

    scene: Scene | None
    bearings: xr.Dataset | None


def _pictures(result: xr.Dataset, beside: _Beside, units: pictures.UnitSystem) -> Iterator[tuple[str, Axes]]:
    """The pictures of a result, each with its file's name."""
    study = str(result.attrs["study"])
    if study in ("reach_map", "payload_map", "payload_at_speed"):
        x, y = upright_cut(result)
    if study == "reach_map":
        yield "reach_section", pictures.section(result, x=x, y=y, units=units)
        yield "reach_plan", pictures.section(result, z=richest(result["reach_index"], "z"), units=units)
    elif study == "payload_map":
        yield "payload_section", pictures.payload_section(result, x=x, y=y, units=units)
        yield "payload_against_reach", pictures.payload_curve(result, units=units)
    elif study == "payload_at_speed":
        yield study, pictures.payload_at_speed(result, x=x, y=y, units=units)[0]
        yield "payload_at_speed_against_reach", pictures.payload_at_speed_curve(result, units=units)
    elif study == "outlines":
        yield "outlines", pictures.outlines(result, units=units)[0]
    elif study == "check_targets" and beside.scene is not None:
        yield "work_points", pictures.plan(beside.scene, units=units)
    elif study == "drive_check" and result["has_drive"].values.any():
        yield "cycle_torques", pictures.cycle_torques(result, units=units)[0]
        yield "operating_points", pictures.operating_points(result, units=units)[0]
    elif study == "payload_against_time":
        yield study, pictures.payload_against_time(result, units=units)
    elif study == "power":
        yield study, pictures.power(result)
    else:
        yield from _more_pictures(study, result, beside, units)


def _more_pictures(
    study: str, result: xr.Dataset, beside: _Beside, units: pictures.UnitSystem
) -> Iterator[tuple[str, Axes]]:
    """Of stops, of the track, of places, and of many designs."""
    if study == "stop" and "time" in result:
        yield study, pictures.stop(result, units=units)[0]
    elif study == "holding":
        yield study, pictures.holding(result, units=units)
    elif study == "lifting" and beside.scene is not None:
        yield from _hanging(result, beside.scene, units)
    elif study == "joint_wrenches":
        yield study, pictures.wrenches(result, bearings=beside.bearings, units=units)
    elif study in _OF_PARTS:
        yield from _part_pictures(study, result, units)
    elif study == "track_intervals":
        yield study, pictures.track_intervals(result, units=units)
    elif study == "track_worth":
        yield study, pictures.track_worth(result, units=units)[0]
    elif study == "placement":
        yield from _placement_pictures(result, units)
    elif study == "changes":
        yield study, pictures.changes(result, units=units)
        if result.sizes["alternative"]:
            yield "alternatives", pictures.alternatives(result, units=units)
    elif study == "uncertainty":
        yield study, pictures.uncertainty(result, units=units)[0]
    elif study == "sweep" and "value" in result:
        yield study, pictures.sweep(result, units=units)[0]


def _hanging(result: xr.Dataset, scene: Scene, units: pictures.UnitSystem) -> Iterator[tuple[str, Axes]]:
    """From the first eye, as asked and in the posture found, where there is a plumb line to hang by."""
    if result.sizes["eye"] and np.isfinite(result["tilt"].values[0]):
        yield "hanging", pictures.hanging(result, scene, units=units)
        if np.isfinite(result["level_tilt"].values[0]):
            yield "hanging_level", pictures.hanging(result, scene, level=True, units=units)


_OF_PARTS = ("part_loads", "base_loads", "track_loads", "sag", "sag_over_reach", "tool_error")


def _part_pictures(study: str, result: xr.Dataset, units: pictures.UnitSystem) -> Iterator[tuple[str, Axes]]:
    """Of what parts bear, and of how true the tool stands."""
    if study == "part_loads":
        yield study, pictures.part_safeties(result)
    elif study == "base_loads" and "bolt_position" in result:
        yield "bolts", pictures.bolt_pattern(result, units=units)
    elif study == "track_loads" and result.sizes["block"]:
        yield "blocks", pictures.block_loads(result, units=units)
        if "radial" in result:
            yield "blocks_over_cycle", pictures.block_course(result, units=units)
    elif study == "sag":
        yield study, pictures.sag_causes(result, units=units)
    elif study == "sag_over_reach":
        yield study, pictures.sag_over_reach(result, units=units)
    elif study == "tool_error":
        yield study, pictures.error_shares(result, units=units)


def _placement_pictures(result: xr.Dataset, units: pictures.UnitSystem) -> Iterator[tuple[str, Axes]]:
    if "plan_count" in result:
        yield "placement_served", pictures.placement_plan(result, units=units)
        if np.isfinite(result["plan_worst"].values).any():
            yield "placement_worst", pictures.placement_plan(result, show="worst", units=units)
    else:
        yield "placement", pictures.placement_along(result, units=units)
    if result.sizes["aim"] > 1:
        yield "placement_set", pictures.placement_set(result, units=units)
