"""Stopping times and distances at shares of speed, load and extension."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product
from typing import Any, NamedTuple

import numpy as np
import xarray as xr

from armwright import _core
from armwright.errors import InputError
from armwright.results import make_dataset
from armwright.studies import pieces, run
from armwright.studies.stop import hold_terms, options_of, shares_of, stage_terms, words_of
from armwright.studies.stop_pieces import Stops, load_of, stops_in_pieces
from armwright.studies.subject import Subject

shares = (0.33, 0.66, 1.0)  # of speed, load and extension: ISO 10218-1 (2011), annex B
rule = (
    "extension: distance of the load's centre (the tool point without a load) from the line of axis 1. Greatest: found "
    "by climbing from spread starts, a track at mid-stroke. Smaller ones: from there the arm's third joint is bent by "
    "the least turn that does. Axis 1 moves in its positive sense, axes 2 and 3 so that the load comes down; the other "
    "axes stand at the signal, and are let go as well"
)


class TableStops(NamedTuple):
    """The stops of a table: of which axis, at which shares of speed and load and in which posture, row by row."""

    axes: list[int]
    rows: list[tuple[int, float, float, int]]  # place in axes, shares of speed and load, place in postures
    q: run.Floats  # (rows, n)
    speed: run.Floats
    full_speed: run.Floats  # (axes,), signed
    postures: run.Floats  # (shares, n), by extension
    extension: run.Floats  # (shares,) m


def table_stops(model: _core.model.Model, load: _core.model.Inertia, speeds: run.Floats | None = None) -> TableStops:
    """The stops of the arm's axes 1 to 3 at all shares; see ``rule``."""
    first = 1 if model.has_track else 0
    axes = list(range(first, min(first + 3, model.joint_count)))
    centre = load.centre if load.mass > 0 else model.tool[:3, 3]
    postures = _core.stops.stop_postures(model, centre, list(shares))
    lying = np.array([q for q, _ in postures])
    full = [_signed_speed(model, axis, centre, lying[-1], speeds) for axis in axes]
    rows = list(product(range(len(axes)), shares, shares, range(len(shares))))
    q, v = np.zeros((2, len(rows), model.joint_count))
    for i, (axis, speed_share, _, extension) in enumerate(rows):
        q[i] = lying[extension]
        v[i, axes[axis]] = full[axis] * speed_share
    return TableStops(axes, rows, q, v, np.array(full), lying, np.array([reach for _, reach in postures]))


def stop_table(
    subject: Subject,
    load: _core.model.Inertia,
    *,
    deceleration: run.Floats | None,
    speeds: run.Floats | None,
    reaction: float,
    time_limit: float,
    hold_after: float,
    how: pieces.How,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.stop_table."""
    model = subject.model
    table = table_stops(model, load, speeds)
    axes, rows, lying = table.axes, table.rows, table.postures
    shape = (len(axes), len(shares), len(shares), len(shares))
    of_stages, peaks = stage_terms(model)
    torques = []
    found: dict[str, list[Any]] = {}
    mine = np.array([axes[axis] for axis, *_ in rows])
    asked = {"deceleration": deceleration, "reaction": reaction, "time_limit": time_limit, "hold_after": hold_after}
    each = (table.q, table.speed, np.array([load_share for _, _, load_share, _ in rows]))
    for batch in _stopped(subject, load, each, asked, how, inputs_digest):
        columns = {name: getattr(batch, name) for name in ("tool_travel", "tool_path", "tool_drop", "tool_top_speed")}
        columns |= {"stop_time": batch.time, "end": words_of(batch), "saturated": batch.saturated}
        columns |= {name: getattr(batch, name)[np.arange(len(rows)), mine] for name in ("travel", "brake_energy")}
        torques.append(np.where(np.isnan(peaks), np.nan, batch.stage_torque))
        columns["stage_share"] = _greatest(shares_of(torques[-1], peaks).reshape(len(rows), -1))
        for name, values in columns.items():
            found.setdefault(name, []).append(values.reshape(shape))
    variables: dict[str, Any] = {name: np.stack(values, axis=1) for name, values in found.items()}
    variables["required"] = _asked_for(len(axes))
    variables |= _of_stages(np.stack(torques), peaks, [model.joint_names[axes[axis]] for axis, *_ in rows], rows)
    variables |= {
        "axis_speed": table.full_speed, "posture": lying, "extension": table.extension,
    }  # fmt: skip
    units = run.joint_units(model)
    coords = {
        "axis": np.array([model.joint_names[axis] for axis in axes]), "axis_unit": units[axes],
        "category": np.array([0, 1]), "joint": np.array(model.joint_names), "joint_unit": units,
    } | of_stages  # fmt: skip
    coords |= {name: np.array(shares) for name in ("speed_share", "load_share", "extension_share")}
    terms = {"reaction": reaction, "rule": rule, "load_mass": load.mass} | hold_terms(model, hold_after)
    return make_dataset("stop_table", variables, coords, terms | labels, inputs_digest, arm_name)


def _stopped(
    subject: Subject,
    load: _core.model.Inertia,
    rows: tuple[run.Floats, run.Floats, run.Floats],
    asked: dict[str, Any],
    how: pieces.How,
    inputs_digest: str,
) -> Iterator[Stops]:
    """All stops by category 0, then by category 1; refused before the first, where either cannot be."""
    for category in (0, 1):
        options_of(subject.model, category, **asked)
    request = asked | {"load": load_of(load), "q": rows[0], "speed": rows[1]}
    with how.opened("stop_table", inputs_digest, request) as work:
        for category, phase in enumerate(("off", "controlled")):
            with run.reported(how.progress, f"stops of category {category}", category, 2) as report:
                options = asked | {"category": category}
                yield stops_in_pieces(work, phase, subject, load, rows, options, report)


def _greatest(values: run.Floats) -> run.Floats:
    """Of each row; NaN where it is nothing else."""
    most = np.where(np.isnan(values), -np.inf, values).max(axis=-1)
    return np.where(np.isfinite(most), most, np.nan)


def _of_stages(torque: run.Floats, peaks: run.Floats, movers: list[str], rows: list[Any]) -> dict[str, Any]:
    """The greatest torque of every stage over all stops, (categories, rows, joints, stages), and in which it was."""
    flat = torque.reshape(-1, *peaks.shape)
    worst = np.where(np.isnan(flat), -np.inf, flat).argmax(axis=0)
    greatest = np.take_along_axis(flat, worst[None], axis=0)[0]
    cases = [
        f"{name} moves, category {category}, {100 * speed:.0f} % of speed, {100 * load:.0f} % of load, "
        f"{100 * shares[extension]:.0f} % of extension"
        for category in range(len(torque))
        for name, (_, speed, load, extension) in zip(movers, rows, strict=True)
    ]
    told = np.where(greatest > 0, np.array(cases)[worst], "")
    return {
        "stage_torque": greatest, "stage_torque_share": shares_of(greatest, peaks), "stage_momentary_peak": peaks,
        "stage_torque_case": told,
    }  # fmt: skip


def _asked_for(axes: int) -> Any:
    """The rows of annex B: category 1 of axes 1 and 2 at all shares, of axis 3 at full extension; category 0 at the
    greatest of all three."""
    asked = np.zeros((axes, 2, len(shares), len(shares), len(shares)), dtype=bool)
    asked[:2, 1] = True
    asked[2:, 1, :, :, -1] = True
    asked[:, 0, -1, -1, -1] = True
    return asked


def _signed_speed(
    model: _core.model.Model, axis: int, centre: run.Floats, q: run.Floats, speeds: run.Floats | None
) -> float:
    full = _core.stops.full_speed(model, axis) if speeds is None else abs(float(speeds[axis]))
    if not math.isfinite(full) or full <= 0:
        raise InputError.of(
            "speeds", f"none for {model.joint_names[axis]}", "a speed of the joint, a motor with its curve, or speeds"
        )
    first = 1 if model.has_track else 0
    return full * (_core.stops.downward(model, centre, [float(x) for x in q], axis) if axis > first else 1)
