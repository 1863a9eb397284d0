"""Outlines of the reach as a DXF drawing, in section and in plan."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.report.cautions import cautions
from armwright.report.drawing import MM, Drawing, Layer
from armwright.report.packages import package
from armwright.results import check_dataset
from armwright.results.whole_file import file_path

Array = NDArray[np.float64]
_LAYERS = {
    "SECTION TOOL POINT": Layer(150, weight=50), "SECTION WRIST CENTRE": Layer(150, "DASHED"),
    "PLAN TOOL POINT": Layer(30, weight=50), "PLAN WRIST CENTRE": Layer(30, "DASHED"), "AXIS 1": Layer(8, "CENTER"),
    "HEIGHT 0": Layer(8, "DASHED"),
}  # fmt: skip
_VIEWS = {"section": "SECTION", "plan": "PLAN"}
_ON_AXIS = 1e-9  # m


def outlines_to_dxf(dataset: xr.Dataset, path: str | os.PathLike[str]) -> Path:
    """Writes a result of outlines as DXF (R2010, mm): plan and vertical section of the reach of tool point and wrist
    centre, each on its layer, as closed polylines, with dimensions.

    The plan stands in the world's x and y. The section stands left of it, its heights in the world, its x counted from
    the line of axis 1, whose place a text tells; curves that end on axis 1 are closed along it. Needs ezdxf: pip
    install armwright[export].

    >>> report.outlines_to_dxf(cell.outlines(spacing="250 mm", directions=8), "reach.dxf").name
    'reach.dxf'
    """
    target = file_path(path, ".dxf")
    what = check_dataset(dataset)
    if what.name != "outlines":
        wanted = "a result of outlines; of a map write GLB, CSV or xlsx"
        raise InputError.of("dataset", f"a result of {what.name}", wanted)
    package("ezdxf", path)
    curves = {name: curves_of(dataset, name) for name in ("plan", "wrist_plan", "section", "wrist_section")}
    if not curves["plan"] or not curves["section"]:
        raise InputError.of("dataset", "outlines of nothing: no position is reached", "outlines that have curves")
    plan, section = _ends(curves["plan"] + curves["wrist_plan"]), _ends(curves["section"] + curves["wrist_section"])
    gap = 0.15 * float(max(np.ptp(plan, axis=0).max(), np.ptp(section, axis=0).max()))
    axis = np.floor((plan[0, 0] - section[1, 0] - 3 * gap) * 10) / 10  # whole tenths of a metre
    shift = np.array([axis, 0.0])
    low, high = np.minimum(plan[0], section[0] + shift), np.maximum(plan[1], section[1] + shift)
    drawing = Drawing(target, _LAYERS, low, high)
    for name, lines in curves.items():
        view = _VIEWS[name.removeprefix("wrist_")]
        layer = f"{view} {'WRIST CENTRE' if name.startswith('wrist') else 'TOOL POINT'}"
        for points, closed in lines:
            drawing.outline(points + (shift if view == "SECTION" else 0), layer, closed=closed)
    _section(drawing, _ends(curves["section"]), shift, gap)
    _plan(drawing, _ends(curves["plan"]), dataset, gap)
    drawing.paragraph(_told(dataset, float(axis)), np.array([low[0], low[1] - 2.2 * gap]))
    return drawing.save(target)


def curves_of(dataset: xr.Dataset, name: str) -> list[tuple[Array, bool]]:
    """The curves of a variable, m, and whether each is closed; none if it is not there. Points that stand twice in a
    row stand once."""
    if name not in dataset:
        return []
    points = np.asarray(dataset[name].values, dtype=np.float64)
    breaks = np.isnan(points).any(axis=1)
    found = []
    for part in np.split(points, np.flatnonzero(breaks)):
        line = part[~np.isnan(part).any(axis=1)]
        line = line[np.r_[True, (np.diff(line, axis=0) != 0).any(axis=1)]] if len(line) else line
        if len(line) < 2:
            continue
        whole = bool((line[0] == line[-1]).all()) and len(line) > 3
        along_axis = "section" in name and len(line) > 2 and bool((line[[0, -1], 0] < _ON_AXIS).all())
        found.append((line[:-1] if whole else line, whole or along_axis))
    return found


def _ends(curves: list[tuple[Array, bool]]) -> Array:
    """Least and greatest coordinates (2, 2)."""
    points = np.concatenate([line for line, _ in curves])
    return np.array([points.min(axis=0), points.max(axis=0)])


def _section(drawing: Drawing, ends: Array, shift: Array, gap: float) -> None:
    (_, low), (far, high) = ends
    axis = float(shift[0])
    drawing.line(np.array([axis, min(low, 0) - gap / 2]), np.array([axis, high + gap / 2]), "AXIS 1")
    drawing.line(np.array([axis, 0.0]), np.array([axis + far, 0.0]), "HEIGHT 0")
    widest = np.array([far, 0.0]) + shift
    drawing.dimension(np.array([axis, low]), np.array([widest[0], low]), low - gap / 2, along="x")
    place = float(widest[0]) + gap / 2
    for start, end, at in ((low, high, place + gap / 2), (0.0, high, place), (low, 0.0, place)):
        if at > place or (end - start > drawing.text and (start, end) != (low, high)):
            drawing.dimension(np.array([axis, start]), np.array([axis, end]), at, along="y")
    drawing.words("SECTION through axis 1", np.array([axis, high + 0.7 * gap]), size=1.4)
    drawing.words("axis 1", np.array([axis + drawing.text / 3, high + gap / 3]), layer="AXIS 1")


def _plan(drawing: Drawing, ends: Array, dataset: xr.Dataset, gap: float) -> None:
    low, high = ends
    drawing.dimension(low, np.array([high[0], low[1]]), float(low[1]) - gap / 2, along="x")
    drawing.dimension(np.array([high[0], low[1]]), high, float(high[0]) + gap / 2, along="y")
    base, span = dataset.attrs.get("base_position"), dataset.attrs.get("track_span")
    if span is not None:
        ends_of_track = np.reshape(span, (2, 3))[:, :2]
        drawing.line(ends_of_track[0], ends_of_track[1], "TRACK")
        for end in ends_of_track:
            drawing.cross(end, 2 * drawing.text, "TRACK", turned=True)
        if np.ptp(ends_of_track, axis=0).max() > 0:
            drawing.dimension(ends_of_track[0], ends_of_track[1], 2 * drawing.text)
    if base is not None:
        drawing.circle(np.asarray(base[:2]), drawing.text, "BASE")
        drawing.cross(np.asarray(base[:2]), 3 * drawing.text, "BASE")
    drawing.words("PLAN, over all heights", np.array([low[0], high[1] + 0.7 * gap]), size=1.4)


def _told(dataset: xr.Dataset, axis: float) -> list[str]:
    attributes = dataset.attrs
    cell = f", {attributes['cell_name']}" if "cell_name" in attributes else ""
    spacing = f" Found on a grid of {MM * attributes['spacing']:.1f} mm." if "spacing" in attributes else ""
    return [
        f"Reach of {attributes['arm_name']}{cell}: outlines of the tool point (full lines) and of the wrist centre "
        "(dashed).",
        f"All lengths in mm. The plan stands in the world's x and y; in the section axis 1 stands at x = "
        f"{MM * axis:.0f} mm, and heights are the world's.{spacing}",
        f"armwright {attributes['armwright_version']}, inputs {attributes['inputs_digest'][:12]}", *cautions,
    ]  # fmt: skip
