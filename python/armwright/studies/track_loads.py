"""What the carriage's blocks, the rails and the feed of a track have to bear, and what the arm's swing does to it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import xarray as xr

from armwright import _core
from armwright.results import make_dataset
from armwright.studies import run
from armwright.studies.rows_told import Told
from armwright.studies.track_blocks import block_figures, short_stroke
from armwright.studies.track_feed import MotorShare, feed_figures, feed_forces
from armwright.studies.track_held import HELD, held_figures
from armwright.studies.track_rails import SUPPORTS, counted, rail_figures

NO_MOTOR = ("track: motor and stages are left out: they are looked at with a cycle and a drive alone, not with rows; "
            "part_loads and drive_check tell of them")  # fmt: skip
method = ("rigid carriage on equal springs at the blocks, rails rigid: the loads of least elastic energy; turns that "
          "they do not resist are borne by the blocks' own stiffness, evenly")  # fmt: skip


def track_loads(
    model: _core.model.Model,
    track: Any,
    rows: Any,
    wrench: run.Floats,
    *,
    motor: Sequence[MotorShare],
    reliability: float,
    wanted_static: float,
    inputs_digest: str,
    arm_name: str,
    labels: dict[str, Any],
) -> xr.Dataset:
    """See Cell.track_loads. ``rows``: LoadRows; ``wrench``: (rows, 6) of the carriage on rails and feed, in the track's
    axes about the carriage frame's origin; ``motor``: what the drive check says of the track's drive."""
    told = Told(list(rows.missing))
    if not motor:
        told.missing.append(NO_MOTOR)
    axes = track.guide_axes
    across = np.ascontiguousarray(np.concatenate([wrench[:, :3] @ axes, wrench[:, 3:] @ axes], axis=1))
    blocks = block_figures(track, rows, across, reliability, wanted_static, told)
    loads = blocks.pop("loads", None)
    rails = rail_figures(track, rows, loads, told)
    force = feed_forces(track, rows, across[:, 0])
    checks, feed = feed_figures(track, rows, force, motor, told)
    held = held_figures(model, rows, across[:, 0], told)
    guide = track.guide
    stroke = _stroke(rows)
    short_stroke(guide, stroke, told)
    places = np.zeros((0, 2)) if guide is None else np.asarray(guide.places)
    duty = np.asarray(rows.duty, float)
    attrs: dict[str, Any] = {
        "method": method, "reliability": reliability, "wanted_static": wanted_static, "stroke": stroke,
        "duration": float(duty.sum()), "travel": float((np.abs(np.asarray(rows.qd)[:, 0]) * duty).sum()),
        "track_pushed": float(held.pop("track_pushed")), "track_pushed_case": int(held.pop("track_pushed_case")),
        **_guide_attributes(guide), **told.attributes,
    }  # fmt: skip
    names = np.array(model.joint_names)
    return make_dataset(
        "track_loads",
        blocks | rails | feed | held | _course(rows, loads, force)
        | {"block_along": places[:, 0], "block_across": places[:, 1]},
        {
            "block": np.array(() if guide is None else guide.block_names, np.str_),
            "case": np.array(rows.case_names, np.str_), "case_kind": np.array(rows.case_kinds, np.str_),
            "joint": names, "joint_unit": run.joint_units(model), "turn": np.array(("roll", "pitch", "yaw")),
            "rail": np.arange(len(rails["rail_moment"])), "support": np.array(SUPPORTS),
            "feed_check": np.array(checks, np.str_), "held": np.array(HELD),
        },
        attrs | labels,
        inputs_digest,
        arm_name,
    )  # fmt: skip


def _guide_attributes(guide: Any) -> dict[str, Any]:
    if guide is None:
        return {}
    told = {"dynamic_rating": guide.dynamic_rating, "static_rating": guide.static_rating}
    out: dict[str, Any] = {key: float(value) for key, value in told.items() if value is not None}
    if guide.dynamic_rating is not None:
        out["rating_distance"] = guide.distance
    if guide.beam is not None:
        out |= {"rail_support": SUPPORTS[counted(guide.beam)], "rail_span": float(guide.beam.span)}
        if guide.beam.deflection_limit is not None:
            out["deflection_limit"] = float(guide.beam.deflection_limit)
    return out


def _stroke(rows: Any) -> float:
    """How far the track goes to and fro in the lasting duty, m; 0 where there is none."""
    lasting = np.asarray(rows.q)[np.asarray(rows.duty) > 0, 0]
    return float(np.ptp(lasting)) if lasting.size else 0.0


def _course(rows: Any, loads: run.Floats | None, force: run.Floats) -> run.Arrays:
    """Over the cycle's time, in the order of its rows."""
    kinds = np.array([*rows.case_kinds, ""])
    chosen = np.flatnonzero(kinds[np.asarray(rows.case)] == "cycle")
    if chosen.size == 0:
        return {}
    out: run.Arrays = {"time": np.asarray(rows.time)[chosen], "feed_force": force[chosen],
                       "course_case": np.asarray(rows.case, np.int64)[chosen]}  # fmt: skip
    if loads is not None:
        out |= {"radial": loads[chosen, :, 0], "lateral": loads[chosen, :, 1]}
    return out
